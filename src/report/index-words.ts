import { indexedParts, isMeasured } from '../judge/index/gather-trial.ts';
import type { Ledger, MeasuredPart } from '../model/ledger.ts';
import { listed, sentence } from './words.ts';

const WORDS: Readonly<Record<MeasuredPart, string>> = {
  productivity: 'crop',
  size: 'size',
  soundness: 'soundness',
  ripened: 'ripening in time',
};

/** "Taste, crop, size and soundness make one index from 1 to 10": what this ledger weighs. */
export function indexInWords(ledger: Ledger): string {
  const words = indexedParts(ledger).map(([part]) => (isMeasured(part) ? WORDS[part] : 'taste'));
  const parts = ['taste', ...Object.values(WORDS)].filter((word) => words.includes(word));
  const { low, high } = ledger.trial.scale;
  const make = parts.length === 1 ? 'makes' : 'make';
  return `${sentence(listed(parts))} ${make} one index from ${low} to ${high}`;
}
