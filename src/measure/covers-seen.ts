import type { Cover, Ledger } from '../model/ledger.ts';
import { selectRecords } from './crop-record.ts';
import type { Selection } from './selection.ts';

/** The covers under which anything was seen, in the order of the ledger's sites. */
export function coversSeen(ledger: Ledger, selection: Selection): readonly Cover[] {
  const seen = new Set(selectRecords(ledger, selection).map(({ site }) => site));
  const sites = [...ledger.trial.sites.values()].filter(({ key }) => seen.has(key));
  return [...new Set(sites.map(({ cover }) => cover))];
}
