import { cultivar } from '../../entries/cultivar.ts';
import { tree } from '../../entries/tree.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Listing } from '../listing.ts';
import type { Fields } from '../new-entry.ts';

/** What is listed, in words, so that a slip is seen before it is written. */
export function listingInWords(ledger: Ledger, one: Listing): string {
  switch (one.section) {
    case 'cultivars':
      return [
        `new cultivar ${String(one.entry['name'])} (${one.key})`,
        ...facts(one.entry, Object.keys(cultivar.fields).slice(1)),
      ].join('; ');
    case 'trees': {
      const key = String(one.entry['cultivar']);
      const name = ledger.cultivars.get(key)?.name ?? key;
      const site = String(one.entry['site']);
      const place = ledger.trial.sites.get(site)?.name ?? site;
      const rest = Object.keys(tree.fields).filter(
        (field) => !['cultivar', 'site'].includes(field),
      );
      return [
        `new tree ${one.key} of ${name}`,
        `stands at ${place}`,
        ...facts(one.entry, rest),
      ].join('; ');
    }
    case 'tasters':
      return `new taster ${one.entry}, typed as ${one.key}`;
    case 'sites':
      return `new site ${String(one.entry['name'])} (${one.key}), ${COVERS[String(one.entry['cover'])] ?? one.entry['cover']}`;
    case 'settings':
      return `ledger.yaml will say ${one.key}: ${one.entry}`;
  }
}

const COVERS: Readonly<Record<string, string>> = {
  open: 'in the open',
  glass: 'under glass',
  tunnel: 'in a tunnel',
  indoors: 'indoors',
};

function facts(entry: Fields, keys: readonly string[]): readonly string[] {
  return keys.flatMap((key) => {
    const value = entry[key];
    if (value === undefined) return [];
    const words = key.replaceAll('_', ' ');
    if (Array.isArray(value)) return [`${words} ${value.join(', ')}`];
    if (typeof value === 'object') return [`${words} ${Object.values(value as Fields).join(': ')}`];
    return [`${words} ${String(value)}`];
  });
}
