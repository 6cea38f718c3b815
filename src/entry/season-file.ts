import { growingYear, type IsoDate } from '../model/dates.ts';
import { type NewEntry, SECTIONS } from './new-entry.ts';
import { renderItem } from './render-entry.ts';

/** Path of the file of a season, relative to the ledger folder. */
export function seasonPath(year: number): string {
  return `seasons/${String(year).padStart(4, '0')}.yaml`;
}

/** The season that a date falls into: the calendar year, or in the south the year it ends in. */
export function seasonOf(date: IsoDate, latitude: number | undefined): number {
  const year = Number(date.slice(0, 4));
  return date <= growingYear(year, latitude).last ? year : year + 1;
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
