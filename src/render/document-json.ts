import { type Block, type Document, onlyTable, type Section } from '../report/document.ts';
import { proseText } from './format-cell.ts';
import { jsonText, tableJson } from './json.ts';

/**
 * One object: `report`, `ledger`, `selection`, `sections`, `notes`. Sections stand by their keys: a
 * table as `columns` and `rows` in the way of every report, facts as they are, anything else as its
 * heading and blocks.
 */
export function renderDocumentJson(document: Document): string {
  const { report, ledgerTitle, title, selection, published, says, sections, notes } = document;
  if (says !== undefined) {
    return jsonText({ report, ledger: { title: ledgerTitle }, selection, ...says });
  }
  return jsonText({
    report,
    ledger: { title: ledgerTitle },
    title,
    selection,
    ...published,
    sections: Object.fromEntries(sections.map((section) => [section.key, said(section)])),
    notes: notes.map(({ kind, text }) => ({ kind, text })),
  });
}

function said(section: Section): unknown {
  if (section.says !== undefined) return section.says;
  const table = onlyTable(section);
  if (table !== undefined) return tableJson(table);
  return { heading: section.heading, blocks: section.blocks.map(blockSaid) };
}

function blockSaid(block: Block): unknown {
  const { kind } = block;
  switch (kind) {
    case 'paragraph':
      return { kind, text: proseText(block.text) };
    case 'lines':
    case 'list':
      return { kind, lines: block.lines.map(proseText) };
    case 'table': {
      const { caption = null, table, notes } = block;
      return { kind, caption, ...tableJson(table), notes };
    }
    case 'figure': {
      const { key, title, alt } = block.figure;
      return { kind, key, title, alt: proseText(alt) };
    }
    case 'photo':
      return { kind, ...block.photo };
    default:
      return block;
  }
}
