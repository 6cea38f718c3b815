import type { Verdict } from '../judge/verdict/verdict.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import type { Row } from './table.ts';

const sharedNamesOf = new WeakMap<Ledger, ReadonlySet<string>>();

/** A cultivar as people call it; with its key behind where another one bears the same name. */
export function cultivarName(ledger: Ledger, cultivar: Cultivar): string {
  const shared = sharedNames(ledger).has(cultivar.name);
  return shared ? `${cultivar.name} (${cultivar.key})` : cultivar.name;
}

function sharedNames(ledger: Ledger): ReadonlySet<string> {
  let shared = sharedNamesOf.get(ledger);
  if (shared === undefined) {
    const names = [...ledger.cultivars.values()].map((cultivar) => cultivar.name);
    shared = new Set(names.filter((name, at) => names.indexOf(name) !== at));
    sharedNamesOf.set(ledger, shared);
  }
  return shared;
}

/** A site as people call it. */
export function siteName(ledger: Ledger, key: string): string {
  return ledger.trial.sites.get(key)?.name ?? key;
}

/** What is overhead, as people say it. */
/** What a verdict means to a neighbour: the same four headings everywhere that readers meet it. */
export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  increase: 'Worth planting',
  retain: 'Good here',
  watch: 'Still being watched',
  discard: 'Not here',
};

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
