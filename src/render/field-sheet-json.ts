import type { FieldSheet } from '../report/field-sheet.ts';
import { jsonText } from './json-text.ts';

/** The sheet for programs: what is known and due of each tree that stands on the day, site by site. */
export function renderFieldSheetJson(sheet: FieldSheet): string {
  const { title, ledgerTitle, on, file, weightUnit, sites, rules, cautions } = sheet;
  return jsonText({
    report: 'sheet',
    ledger: { title: ledgerTitle },
    title,
    selection: { on, site: sites.map(({ key }) => key) },
    file,
    weightUnit,
    sites: sites.map(({ key, name, trees }) => ({
      site: key,
      name,
      trees: trees.map(({ id, cultivar, stands, wait, known, girthDue, lines }) => ({
        tree: id,
        cultivar,
        stands: stands ?? null,
        wait: wait ?? null,
        known,
        girthDue: girthDue ?? null,
        due: lines.map(({ crop, due }) => ({ crop: crop === '' ? null : crop, due })),
      })),
    })),
    notes: [
      ...rules.map((text) => ({ kind: 'method', text })),
      ...cautions.map((text) => ({ kind: 'caution', text })),
    ],
  });
}
