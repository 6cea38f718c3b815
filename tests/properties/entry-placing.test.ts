import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse as parseYaml } from 'yaml';
import { readYaml } from '../../src/reading/yaml-read.ts';
import type { NewEntry } from '../../src/writing/new-entry.ts';
import { placeEntries } from '../../src/writing/place-entries.ts';
import { renderScalar } from '../../src/writing/render-entry.ts';
import { RUNS } from '../support/property-runs.ts';
import { type Style, seasonText, seasonTextArb } from './season-text.ts';

const day = fc.integer({ min: 1, max: 28 }).map((n) => `2026-07-${String(n).padStart(2, '0')}`);
const note = fc
  .oneof(
    fc.constantFrom(
      'wet week',
      'no',
      '12:30',
      '#1 fruit',
      'a: b',
      '- x',
      '52,4',
      'über',
      '007',
      '',
    ),
    fc.string({ maxLength: 20 }),
    fc.string({ unit: 'grapheme', maxLength: 12 }),
    fc.constantFrom('two\nlines', 'ends\n', ' a\nb', 'x'.repeat(120)),
  )
  // The reader refuses this one word wherever it stands.
  .filter((text) => !text.includes('__proto__'));
const newEntry: fc.Arbitrary<NewEntry> = fc.oneof(
  fc.record({ on: day, fruit: fc.nat(40), note }).map(({ on, fruit, note }) => ({
    section: 'picks' as const,
    entry: { on, tree: 'G3', crop: 'early', fruit, note },
  })),
  fc
    .record({ on: day, weights: fc.array(fc.integer({ min: 1, max: 999 }).map((n) => n / 10)) })
    .map(({ on, weights }) => ({
      section: 'picks' as const,
      entry: { on, tree: 'G3', crop: 'early', weights },
    })),
  fc.record({ on: day, fruit: fc.nat(40) }).map(({ on, fruit }) => ({
    section: 'counts' as const,
    entry: { on, tree: 'Y1', crop: 'main', fruit },
  })),
  day.map((on) => ({ section: 'events' as const, entry: { on, kind: 'water' as const } })),
);

/** The old text is what stands before and after one stretch of the new text. */
function isOneInsertion(old: string, made: string): boolean {
  let prefix = 0;
  while (prefix < old.length && old[prefix] === made[prefix]) prefix++;
  return made.length > old.length && made.endsWith(old.slice(prefix));
}

function sections(text: string): Record<string, unknown[]> {
  const value: unknown = parseYaml(text, { schema: 'core' });
  return value as Record<string, unknown[]>;
}

test('an entry lands in date order, every other byte stays, and the file reads as old + new', () => {
  let placed = 0;
  fc.assert(
    fc.property(seasonTextArb, newEntry, (style: Style, one) => {
      const text = seasonText(style);
      const file = { path: 'seasons/2026.yaml', text, bom: style.bom };
      fc.pre(readYaml(file).diagnostics.length === 0);
      const result = placeEntries(file, [one]);
      if (result.kind === 'refused') {
        // Only brackets over several lines with a comment inside may be refused.
        expect(result.diagnostics.map((d) => d.rule)).toEqual(['entry-list-brackets']);
        return;
      }
      placed++;
      const made = result.file.text;
      expect(result.file.bom).toBe(style.bom);
      // One stretch was put in; before and after it the old bytes, but for an empty [] or ~.
      const cut = text.replace(new RegExp(`^(${one.section}:) (?:\\[\\]|~)`, 'm'), '$1');
      expect(isOneInsertion(cut, made)).toBe(true);
      const before = sections(text) ?? {};
      const after = sections(made);
      const old = before[one.section] ?? [];
      const now = after[one.section] ?? [];
      const index = now.findIndex(
        (_, at) => JSON.stringify(now.toSpliced(at, 1)) === JSON.stringify(old),
      );
      expect(index).toBeGreaterThanOrEqual(0);
      expect(readYaml(result.file).diagnostics).toEqual([]);
      for (const key of Object.keys(before)) {
        if (key !== one.section) expect(after[key]).toEqual(before[key]);
      }
      // In order: no earlier entry after it that was not there before an earlier one.
      const dates = now.map((entry) => String((entry as { on: string }).on));
      const sorted = old.map((entry) => String((entry as { on: string }).on));
      if (JSON.stringify(sorted) === JSON.stringify(sorted.toSorted())) {
        expect(dates).toEqual(dates.toSorted());
      }
      if (text.includes('\r\n') && !/[^\r]\n/.test(text)) expect(made).not.toMatch(/[^\r]\n/);
      if (!text.endsWith('\n') && text !== '' && !made.endsWith('\n'))
        expect(made).not.toMatch(/\n$/);
    }),
    { numRuns: RUNS },
  );
  expect(placed).toBeGreaterThan(RUNS / 2);
});

test('several entries at once read like one after the other', () => {
  fc.assert(
    fc.property(
      seasonTextArb,
      fc.array(newEntry, { minLength: 1, maxLength: 6 }),
      (style, many) => {
        const file = { path: 'seasons/2026.yaml', text: seasonText(style), bom: false };
        fc.pre(readYaml(file).diagnostics.length === 0);
        const together = placeEntries(file, many);
        let current = file;
        for (const one of many) {
          const step = placeEntries(current, [one]);
          if (step.kind === 'refused') {
            expect(together.kind).toBe('refused');
            return;
          }
          current = step.file;
        }
        if (together.kind === 'refused') throw new Error(together.diagnostics[0]?.message ?? '');
        expect(readYaml(together.file).value).toEqual(readYaml(current).value);
      },
    ),
    { numRuns: RUNS / 4 },
  );
});

test('a scalar means the same to readers of YAML 1.1 and 1.2, in and out of brackets', () => {
  fc.assert(
    fc.property(note, (text) => {
      const scalar = renderScalar(text);
      const block = `k: ${scalar}\n`;
      const flow = `{ k: ${scalar}, l: [${scalar}, 1] }\n`;
      for (const source of [block, flow]) {
        expect(readYaml({ path: 'x', text: source, bom: false })).toMatchObject({
          value: { k: text },
          diagnostics: [],
        });
        expect(parseYaml(source, { version: '1.2' })).toMatchObject({ k: text });
        const old: unknown = parseYaml(source, { version: '1.1' });
        // Dates are written plain by the rules of the ledger, and are dates to readers of YAML 1.1.
        // The library takes E1 for a number without digits; by YAML 1.1 (float) it is text.
        if (!/^(?:\d{4}-\d\d-\d\d|[eE]\d+)$/.test(text)) expect(old).toMatchObject({ k: text });
      }
    }),
    { numRuns: RUNS * 4 },
  );
});
