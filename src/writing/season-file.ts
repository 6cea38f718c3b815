import { SECTIONS } from '../entries/catalogue.ts';
import type { NewEntry } from './new-entry.ts';
import { renderItem } from './render-entry.ts';

/** Path of the file of a season, relative to the ledger folder. */
export function seasonPath(year: number): string {
  return `seasons/${String(year).padStart(4, '0')}.yaml`;
}

/** Lines of a section with its entries, its key at column `indent`. */
export function sectionLines(
  section: NewEntry['section'],
  entries: readonly NewEntry['entry'][],
  indent = 0,
): readonly string[] {
  return [
    `${' '.repeat(indent)}${section}:`,
    ...entries.flatMap((entry) => renderItem(section, entry, indent + 2)),
  ];
}

/** The text of a season file that begins with these entries, which stand in order. */
export function newSeasonLines(year: number, entries: readonly NewEntry[]): readonly string[] {
  return [
    `# What was seen in ${year}. Check it with: pomary check`,
    `season: ${year}`,
    ...SECTIONS.flatMap((section) => {
      const own = entries.filter((one) => one.section === section).map((one) => one.entry);
      return own.length === 0 ? [] : ['', ...sectionLines(section, own)];
    }),
  ];
}
