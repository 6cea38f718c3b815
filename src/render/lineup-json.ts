import type { LineupSheet } from '../report/lineup-sheet.ts';
import { jsonText } from './json-text.ts';
import { lineupYaml } from './lineup-yaml.ts';

/** The sitting for programs: samples with codes and reasons, serving orders, and the YAML to paste. */
export function renderLineupJson(sheet: LineupSheet): string {
  return jsonText({
    report: 'lineup',
    ledger: { title: sheet.ledgerTitle },
    selection: sheet.selection,
    on: sheet.on,
    season: sheet.season,
    crop: sheet.crop,
    scale: sheet.scale,
    traits: sheet.traits,
    samples: sheet.samples,
    outlook: sheet.outlook,
    orders: sheet.orders,
    leftOut: sheet.leftOut,
    file: sheet.file.path,
    yaml: sheet.samples.length === 0 ? null : lineupYaml(sheet),
    notes: sheet.notes.map(({ kind, text }) => ({ kind, text })),
  });
}
