import type { Ledger } from '../../model/ledger.ts';
import type { LedgerKind } from './outline.ts';

/** A word that may be typed, and what it stands for. */
export interface CompletionWord {
  readonly word: string;
  readonly meaning: string;
}

/** What a ledger offers to be typed for a value. */
export function ledgerWords(ledger: Ledger, kind: LedgerKind): readonly CompletionWord[] {
  const { trial, cultivars, trees, seasons } = ledger;
  switch (kind) {
    case 'cultivar':
      return [...cultivars.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'tree':
      return [...trees.values()].map(({ id, cultivar }) => ({ word: id, meaning: cultivar.name }));
    case 'site':
      return [...trial.sites.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'taster':
      return [...trial.tasters.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'season':
      return seasons.map(({ year }) => ({ word: String(year), meaning: '' }));
    case 'trait':
      return trial.traits.map((trait) => ({ word: trait, meaning: '' }));
    case 'crop': {
      const { early, main } = trial.cropNames;
      const words = [...new Set(['early', early, 'main', main])];
      return words.map((word) => ({ word, meaning: '' }));
    }
  }
}
