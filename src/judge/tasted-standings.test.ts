import { describe, expect, it } from 'vitest';
import { TASTING_FILES } from '../../tests/support/tasting-files.ts';
import { readLedger } from '../ledger/read-ledger.ts';
import { parseIsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { sittingVariance, tastedStandings } from './tasted-standings.ts';

function ledgerOf(files: Readonly<Record<string, string>> = {}): Ledger {
  const raw = Object.entries({ ...TASTING_FILES, ...files }).map(([path, text]) => {
    const bytes = new TextEncoder().encode(text);
    return { path, bytes, size: bytes.length };
  });
  const { ledger } = readLedger(raw);
  if (ledger === undefined) throw new Error('no ledger');
  return ledger;
}

function standings(ledger: Ledger, upTo = '2026-12-31') {
  const date = parseIsoDate(upTo);
  if (date === undefined) throw new Error(`${upTo} is no date`);
  const found = tastedStandings(ledger, 'main', date);
  const of = (list: readonly number[]) =>
    Object.fromEntries(found.cultivars.map(({ key }, at) => [key, list[at] ?? Number.NaN]));
  return { found, mean: of(found.mean), sd: of(found.sd), tastings: of(found.tastings) };
}

describe('tastedStandings', () => {
  it('puts the good before the bad, and knows less of what was tasted less', () => {
    const { found, mean, sd, tastings } = standings(ledgerOf());
    expect(found.basis).toBe('scores');
    expect(mean['slate-quay']).toBeGreaterThan(mean['amber-lantern'] ?? Number.NaN);
    expect(mean['amber-lantern']).toBeGreaterThan(mean['bushel-maid'] ?? Number.NaN);
    expect(tastings).toMatchObject({ 'slate-quay': 2, 'gulls-supper': 1, 'penny-wherry': 0 });
    expect(sd['gulls-supper']).toBeGreaterThan(sd['slate-quay'] ?? Number.NaN);
    expect(sd['penny-wherry']).toBeGreaterThan(sd['gulls-supper'] ?? Number.NaN);
  });

  it('does not blame a plate for a harsh taster', () => {
    // Odo alone tastes a plate of Gull's Supper that Mara liked as well as Amber Lantern before: by
    // plain means it would fall far behind.
    const first = `season: 2026
tastings:
  - on: 2026-08-10
    samples:
      - { tree: A1, crop: main }
      - { tree: S1, crop: main }
      - { tree: B1, crop: main }
    scores:
      mara:
        A1: { sweetness: 7, flavour: 7 }
        S1: { sweetness: 9, flavour: 9 }
        B1: { sweetness: 5, flavour: 5 }
      odo:
        A1: { sweetness: 4, flavour: 4 }
        S1: { sweetness: 6, flavour: 6 }
        B1: { sweetness: 2.1, flavour: 2 }
  - on: 2026-08-20
    samples:
      - { tree: A1, crop: main }
      - { tree: S1, crop: main }
      - { tree: G1, crop: main }
    scores:
      mara:
        A1: { sweetness: 7, flavour: 7.1 }
        S1: { sweetness: 9, flavour: 9 }
      odo:
        G1: { sweetness: 4, flavour: 4 }
`;
    const { mean } = standings(ledgerOf({ 'seasons/2026.yaml': first }));
    expect(Math.abs((mean['gulls-supper'] ?? 0) - (mean['amber-lantern'] ?? 0))).toBeLessThan(0.5);
  });

  it('forgets nothing but what comes after the day', () => {
    const { tastings } = standings(ledgerOf(), '2026-08-12');
    expect(tastings).toMatchObject({ 'slate-quay': 1, 'gulls-supper': 1 });
  });

  it('assumes a spread where nobody has tasted anything, and says so', () => {
    const { found, sd } = standings(ledgerOf(), '2026-01-01');
    expect(found.basis).toBe('assumed');
    // All alike in doubt, in the middle of the scale.
    expect(new Set(Object.values(sd)).size).toBe(1);
    expect(new Set(found.mean)).toEqual(new Set([5.5]));
  });

  it('takes a sitting of more tasters for surer, but never surer than the plate', () => {
    const { found } = standings(ledgerOf());
    expect(sittingVariance(found, 4)).toBeLessThan(sittingVariance(found, 2));
    expect(sittingVariance(found, 1000)).toBeGreaterThanOrEqual(found.plateVariance);
  });
});
