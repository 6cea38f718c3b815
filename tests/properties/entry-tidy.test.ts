import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readYaml } from '../../src/reading/yaml-read.ts';
import { tidyText } from '../../src/writing/tidy-text.ts';
import { RUNS } from '../support/property-runs.ts';
import { seasonText, seasonTextArb } from './season-text.ts';

/** Comments as a plain look at the lines finds them, less the two texts that only look like one. */
function commentsIn(text: string): readonly string[] {
  const bare = text.replaceAll('fish # meal', '').replaceAll('# not a comment', '');
  return [...bare.matchAll(/(?:^|\s)(#.*)$/gm)].map((found) => (found[1] ?? '').trim()).sort();
}

function sortedSections(text: string): unknown {
  const value = parse(text, { schema: 'core' }) as Record<string, unknown>;
  return Object.fromEntries(
    Object.entries(value).map(([key, list]) => [
      key,
      Array.isArray(list)
        ? list.toSorted((a: { on: string }, b: { on: string }) =>
            a.on < b.on ? -1 : a.on > b.on ? 1 : 0,
          )
        : list,
    ]),
  );
}

test('tidy keeps every value and every comment, sorts, and a second time changes nothing', () => {
  let tidied = 0;
  fc.assert(
    fc.property(seasonTextArb, (style) => {
      const text = seasonText(style);
      const file = { path: 'seasons/2026.yaml', text, bom: style.bom };
      fc.pre(readYaml(file).diagnostics.length === 0);
      const once = tidyText(file);
      if (once.kind === 'refused') throw new Error(once.diagnostics[0]?.message ?? '');
      tidied++;
      const made = once.file.text;
      expect(once.file.bom).toBe(style.bom);
      expect(sortedSections(made)).toEqual(sortedSections(text));
      const dates = Object.values(parse(made) as Record<string, unknown>).flatMap((list) =>
        Array.isArray(list) ? [list.map((entry: { on: string }) => entry.on)] : [],
      );
      for (const list of dates) expect(list).toEqual(list.toSorted());
      expect(commentsIn(made)).toEqual(commentsIn(text));
      const twice = tidyText(once.file);
      expect(twice.kind === 'tidied' && twice.file.text).toBe(made);
      expect(twice.kind === 'tidied' && twice.changed).toBe(false);
      expect(made).toMatch(/[^\n]\r?\n$/);
    }),
    { numRuns: RUNS },
  );
  expect(tidied).toBeGreaterThan(RUNS / 2);
});

const scalar = fc.constantFrom(
  'plain',
  '"quoted"',
  "'single'",
  '"no"',
  'no',
  "'12:30'",
  '12:30',
  '"a: b"',
  '7',
  '7.50',
  'null',
  '"it\'s"',
);
const line = fc.oneof(
  fc.tuple(scalar, fc.constantFrom('', '  # why', '   ')).map(
    ([s, tail]) =>
      (k: string) =>
        `${k}:  ${s}${tail}`,
  ),
  fc.tuple(scalar, scalar).map(
    ([a, b]) =>
      (k: string) =>
        `${k}: {x: ${a},   y: [ ${b},1 ]}`,
  ),
  fc.tuple(scalar, scalar).map(
    ([a, b]) =>
      (k: string) =>
        `${k}:\n    x: ${a}\n\n\n    # inner\n    y:\n    - ${b}`,
  ),
  fc.constant((k: string) => `${k}: |\n  text  \n\n\n  "more" # no comment`),
  fc.constant((k: string) => `${k}: [\n  a,   # first\n  'b' ]`),
);

test('other files keep their order; a second time changes nothing', () => {
  fc.assert(
    fc.property(
      fc.array(line, { minLength: 1, maxLength: 6 }),
      fc.constantFrom('\n', '\r\n'),
      (lines, eol) => {
        const text = lines
          .map((make, index) => make(`k${index}`))
          .join('\n')
          .replaceAll('\n', eol);
        const file = { path: 'cultivars.yaml', text, bom: false };
        const once = tidyText(file);
        if (once.kind === 'refused') throw new Error(once.diagnostics[0]?.message ?? '');
        expect(parse(once.file.text)).toEqual(parse(text));
        expect(Object.keys(parse(once.file.text) as object)).toEqual(
          Object.keys(parse(text) as object),
        );
        const twice = tidyText(once.file);
        expect(twice.kind === 'tidied' && twice.file.text).toBe(once.file.text);
      },
    ),
    { numRuns: RUNS / 2 },
  );
});
