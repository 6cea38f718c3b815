import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { cultivarName } from './names.ts';
import type { Row } from './table.ts';

/** Stands behind a name in doubt. */
export const DOUBT_MARK = '(?)';

const doubtfulOf = new WeakMap<Ledger, ReadonlySet<string>>();

/** Cultivars that may be the same as another one. */
export function doubtfulCultivars(ledger: Ledger): readonly Cultivar[] {
  return [...ledger.cultivars.values()].filter(({ perhaps }) => perhaps !== undefined);
}

/** The name, marked where it is in doubt. */
export function markedName(ledger: Ledger, name: string): string {
  let doubtful = doubtfulOf.get(ledger);
  if (doubtful === undefined) {
    doubtful = new Set(doubtfulCultivars(ledger).map((one) => cultivarName(ledger, one)));
    doubtfulOf.set(ledger, doubtful);
  }
  return doubtful.has(name) ? `${name} ${DOUBT_MARK}` : name;
}

/** A row of a report in which names in doubt are marked. */
export function markedRow(ledger: Ledger, row: Row): Row {
  const { cultivar } = row;
  return typeof cultivar === 'string' ? { ...row, cultivar: markedName(ledger, cultivar) } : row;
}
