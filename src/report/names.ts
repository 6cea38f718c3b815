import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';

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
