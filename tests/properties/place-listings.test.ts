import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeListings } from '../../src/writing/place-listings.ts';
import { beginSession, readLine } from '../../src/writing/shorthand/read-line.ts';
import { day, entryLedger } from '../support/entry-ledger.ts';
import { ledgerFrom } from '../support/ledger-from.ts';
import { RUNS } from '../support/property-runs.ts';

const ledger = entryLedger();
const text = ledger.files.get('cultivars.yaml')?.text ?? '';
const rest = Object.fromEntries([...ledger.files].map(([path, file]) => [path, file.text]));

test('a name is listed as it was typed in quotes, and nothing else changes', () => {
  let listed = 0;
  const name = fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: 30 })
    .filter((one) => !/["\s]/.test(one.at(0) ?? '') && one.trim() === one && !one.includes('"'));
  fc.assert(
    fc.property(name, fc.constantFrom('common', 'unknown'), (typed, bears) => {
      const line = `cultivar "${typed}" bears ${bears}`;
      const { slips, entries } = readLine(line, beginSession(day('2026-07-24')), ledger);
      const [one] = entries;
      if (slips.length > 0 || one === undefined || one.section !== 'cultivars') return;
      const file = { path: 'cultivars.yaml', text, bom: false };
      const placed = placeListings(file, [one]);
      if (placed.kind === 'refused') return;
      listed++;
      expect(placed.file.text.startsWith(text)).toBe(true);
      const { cultivars } = ledgerFrom({ ...rest, 'cultivars.yaml': placed.file.text });
      expect(cultivars.get(one.key)?.name).toBe(typed);
      expect(cultivars.size).toBe(ledger.cultivars.size + 1);
    }),
    { numRuns: RUNS },
  );
  expect(listed).toBeGreaterThan(20);
});
