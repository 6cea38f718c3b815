import type { RawTasting } from '../../entries/derive/schemas.ts';
import type { NewEntry } from '../new-entry.ts';

/** What a row says of the place of a sample in the order of a taster. */
export interface Placing {
  readonly taster: string;
  readonly label: string;
  readonly place: number;
}

/**
 * Entries of a table that has a row for each place: the first row of a taster and a sitting gets the
 * whole order, best first, with those in one place tied.
 */
export function withOrders(
  entries: readonly NewEntry[],
  placings: ReadonlyMap<NewEntry, Placing>,
): readonly NewEntry[] {
  const sheets = new Map<string, Map<number, string[]>>();
  for (const [one, placing] of placings) {
    const name = sheetOf(one, placing);
    const sheet = sheets.get(name) ?? new Map<number, string[]>();
    sheets.set(name, sheet);
    sheet.set(placing.place, [...(sheet.get(placing.place) ?? []), placing.label]);
  }
  return entries.map((one): NewEntry => {
    const placing = placings.get(one);
    if (placing === undefined || one.section !== 'tastings') return one;
    const name = sheetOf(one, placing);
    const sheet = sheets.get(name);
    sheets.delete(name);
    if (sheet === undefined) return one;
    const steps = [...sheet].sort(([a], [b]) => a - b).map(([, labels]) => labels);
    const order = steps.map((labels) => (labels.length === 1 ? String(labels[0]) : labels));
    const entry: RawTasting = { ...one.entry, order: { [placing.taster]: order } };
    return { ...one, entry };
  });
}

function sheetOf(one: NewEntry, { taster }: Placing): string {
  const sitting = one.section === 'tastings' ? one.sitting : undefined;
  return JSON.stringify([one.entry.on, sitting, taster]);
}
