import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readYaml } from '../../src/reading/yaml-read.ts';
import type { SourceFile } from '../../src/source/source-file.ts';
import type { NewEntry } from '../../src/writing/new-entry.ts';
import { placeEntries } from '../../src/writing/place-entries.ts';
import { tidyText } from '../../src/writing/tidy-text.ts';
import { RUNS } from '../support/property-runs.ts';

interface Fact {
  readonly on: string;
  readonly tree: string;
  readonly taster: string;
  readonly trait: string;
  readonly value: number;
}

const facts = fc.uniqueArray(
  fc.record({
    on: fc.constantFrom('2026-07-24', '2026-07-25'),
    tree: fc.constantFrom('G3', 'Y1', '417'),
    taster: fc.constantFrom('mara', 'joss', 'no'),
    trait: fc.constantFrom('sweetness', 'flavour'),
    value: fc.integer({ min: 2, max: 20 }).map((n) => n / 2),
  }),
  {
    minLength: 1,
    maxLength: 10,
    selector: ({ on, tree, taster, trait }) => [on, tree, taster, trait].join(),
  },
);

const begun = fc.constantFrom(
  '',
  'season: 2026\n',
  'season: 2026\ntastings: # evenings\n  # the first\n  - on: 2026-07-24\n    samples: []\n    scores: # none yet\n',
  'season: 2026\ntastings:\n- { on: 2026-07-24, samples: [ {tree: G3, crop: early} ] }\n# end',
  'season: 2026\ntastings:\n  - on: 2026-07-24\n    samples:\n    - tree: "417"\n      crop: early # first\n    - { tree: Y1, crop: early }\n    scores:\n      mara:\n        Y1: {}\n      joss: {}\n    order: {}\n    # after supper\n  - { on: 2026-07-26, samples: [] }\n',
  'season: 2026\r\ntastings:\r\n  - samples:\r\n      - { tree: G3, crop: early }\r\n    on: 2026-07-25\r\n\r\n  # last\r\n  - on: 2026-07-28\r\n    samples: []',
);

function entryOf({ on, tree, taster, trait, value }: Fact): NewEntry {
  const samples = [{ tree, crop: 'early' }];
  return {
    section: 'tastings',
    entry: { on, samples, scores: { [taster]: { [tree]: { [trait]: value } } } },
  };
}

type Sitting = {
  on: string;
  samples: { tree: string }[];
  scores?: Record<string, Record<string, Record<string, number>>>;
};

function factsIn(text: string): readonly string[] {
  const { tastings } = parse(text) as { tastings: Sitting[] };
  return tastings
    .flatMap(({ on, scores }) =>
      Object.entries(scores ?? {}).flatMap(([taster, sheet]) =>
        Object.entries(sheet ?? {}).flatMap(([tree, values]) =>
          Object.entries(values).map(([trait, value]) => [on, tree, taster, trait, value].join()),
        ),
      ),
    )
    .sort();
}

test('scores typed one by one, or all at once, end in one sitting a day, each once', () => {
  fc.assert(
    fc.property(begun, facts, (text, list) => {
      const file = { path: 'seasons/2026.yaml', text, bom: false };
      const wanted = list
        .map(({ on, tree, taster, trait, value }) => [on, tree, taster, trait, value].join())
        .sort();
      let current: SourceFile = file;
      for (const fact of list) {
        const step = placeEntries(current, [entryOf(fact)]);
        if (step.kind === 'refused') throw new Error(step.diagnostics[0]?.message ?? '');
        current = step.file;
        // The same again changes nothing.
        const again = placeEntries(current, [entryOf(fact)]);
        expect(again.kind === 'placed' && again.file.text).toBe(current.text);
      }
      expect(factsIn(current.text)).toEqual(wanted);
      const together = placeEntries(file, list.map(entryOf));
      if (together.kind === 'refused') throw new Error(together.diagnostics[0]?.message ?? '');
      expect(factsIn(together.file.text)).toEqual(wanted);
      expect(readYaml(together.file).diagnostics).toEqual([]);
      for (const made of [current.text, together.file.text]) {
        const { tastings } = parse(made) as { tastings: Sitting[] };
        const dates = tastings.map(({ on }) => on);
        expect(new Set(dates).size).toBe(dates.length);
        for (const { samples } of tastings) {
          const trees = samples.map(({ tree }) => String(tree));
          expect(new Set(trees).size).toBe(trees.length);
        }
        for (const comment of text.match(/#.*/g) ?? []) expect(made).toContain(comment.trim());
      }
      const tidied = tidyText(together.file);
      expect(tidied.kind === 'tidied' && factsIn(tidied.file.text)).toEqual(wanted);
    }),
    { numRuns: RUNS / 5 },
  );
});
