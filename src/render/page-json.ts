import type { Page, Section } from '../report/page.ts';
import { tableJson } from './json.ts';
import { jsonText } from './json-text.ts';

/**
 * One object: `report`, `ledger`, `selection`, `sections`, `notes`. Sections stand by their keys: a
 * table as `columns` and `rows` in the way of every report, anything else as it is.
 */
export function renderPageJson(page: Page): string {
  return jsonText({
    report: page.report,
    ledger: { title: page.ledgerTitle },
    title: page.title,
    selection: page.selection,
    sections: Object.fromEntries(page.sections.map((section) => [section.key, said(section)])),
    notes: page.notes.map(({ kind, text }) => ({ kind, text })),
  });
}

function said(section: Section): unknown {
  return section.kind === 'table' ? tableJson(section.table) : section.says;
}
