import { describe, expect, test } from 'vitest';
import { soundLedger } from './support/read-marked.ts';
import { runOn } from './support/run-on.ts';
import { withExamples } from './support/with-examples.ts';

/** A person in an empty folder: the host of the tests stands in /trial, on 1 November 2026. */
const init = (...argv: string[]) => runOn(['init', ...argv], {});
const checkJson = async (files: Readonly<Record<string, string>>) => {
  const { exit, out } = await runOn(['check', '--format', 'json'], files);
  return { exit, found: (JSON.parse(out) as { diagnostics: unknown[] }).diagnostics };
};

const WAYS: readonly (readonly string[])[] = [
  [],
  ['--latitude', '-41.3', '--units', 'imperial'],
  ['--title', 'On: "trial" #1', '--place', 'no', '--fruit', 'plum'],
];

describe.each(WAYS)('init %s %s %s %s', (...words) => {
  const argv = words.filter((word) => word !== undefined);

  test('makes a ledger with nothing to say against it', async () => {
    const { exit, files } = await init(...argv);
    expect(exit).toBe(0);
    expect(await checkJson(files)).toEqual({ exit: 0, found: [] });
  });

  test('the examples are right as they stand', async () => {
    const { files } = await init(...argv);
    const used = Object.fromEntries(
      Object.entries(files).map(([path, text]) => [path, withExamples(path, text)]),
    );
    expect(used).not.toEqual(files);
    expect(await checkJson(used)).toEqual({ exit: 0, found: [] });
    const { out } = await runOn(['yield', '--format', 'csv'], used);
    expect(out).toContain('T1,Amber Lantern');
  });
});

test('options go where they belong', async () => {
  const { files } = await init(
    ...['--title', 'My figs', '--latitude', '52.1', '--units', 'imperial'],
  );
  expect(files['ledger.yaml']).toContain('title: My figs\nfruit: fig\n');
  expect(files['ledger.yaml']).toMatch(/place:\n.*\n {2}latitude: 52\.1\n/);
  expect(files['ledger.yaml']).toContain('units: imperial');
});

test.each(['gooseberry', 'apple', 'fig'])('bands are those of figs, for a %s', async (fruit) => {
  const { files } = await init('--fruit', fruit);
  const { trial } = soundLedger(files);
  const measured = fruit === 'fig' ? ['productivity', 'size', 'soundness'] : [];
  expect([...trial.rank.bands.keys()]).toEqual(measured);
  expect(trial.rank.weights.size).toBe(2 + measured.length);
  for (const part of ['flavour', 'sweetness', ...measured]) {
    expect(trial.rank.weights.has(part)).toBe(true);
  }
  if (fruit !== 'fig') expect(files['ledger.yaml']).toContain('write your own numbers for POOR');
});

test('the bands for another fruit, made live as they stand, are refused in words', async () => {
  const { files } = await init('--fruit', 'gooseberry');
  const live = files['ledger.yaml']?.replace(
    /^ {2}# ( *)(bands|productivity|size|soundness):/gm,
    '  $1$2:',
  );
  const { found } = await checkJson({ ...files, 'ledger.yaml': live ?? '' });
  expect(JSON.stringify(found)).toContain('POOR');
});

test.each(['metric', 'imperial'])('the bands of figs say their unit: %s', async (units) => {
  const { files } = await init('--units', units);
  expect(
    soundLedger(files)
      .trial.rank.bands.get('size')
      ?.map(([grams]) => Math.round(grams)),
  ).toEqual(units === 'metric' ? [20, 80] : [20, 79]);
});

test('an example of a pick weighs alike in every unit', async () => {
  for (const [units, lightest, heaviest] of [
    ['metric', 47, 61.3],
    ['imperial', 48, 62],
  ] as const) {
    const { files } = await init('--units', units);
    const season = files['seasons/2026.yaml'] ?? '';
    const example = /weights: \[(.*)\]/.exec(season)?.[1]?.split(', ').map(Number) ?? [];
    const grams = units === 'metric' ? 1 : 28.349523125;
    expect(Math.min(...example) * grams).toBeCloseTo(lightest, -0.5);
    expect(Math.max(...example) * grams).toBeCloseTo(heaviest, -0.5);
    expect(season).toContain(units === 'metric' ? '"30 L"' : '"7 UK gal"');
  }
});

test('the season is the one that today lies in', async () => {
  expect(Object.keys((await init()).files)).toContain('seasons/2026.yaml');
  expect(Object.keys((await init('--latitude', '-41')).files)).toContain('seasons/2027.yaml');
});

test('every file names its schema, which is there', async () => {
  const { files } = await init('north/field');
  for (const [path, text] of Object.entries(files).filter(([path]) => path.endsWith('.yaml'))) {
    const named = /^# yaml-language-server: \$schema=(.+)\n/.exec(text)?.[1] ?? '';
    expect(files).toHaveProperty([new URL(named, `file:///${path}`).pathname.slice(1)]);
  }
});

test('nothing is ever overwritten', async () => {
  const mine = { 'ledger.yaml': 'title: mine\n' };
  const again = await runOn(['init'], mine);
  expect(again).toMatchObject({ exit: 2, files: mine });
  expect(again.err).toContain('ledger.yaml is there already; nothing was written');
  const trees = { 'trees.yaml': '{}\n', 'schema/season.schema.json': '{}' };
  const other = await runOn(['init'], trees);
  expect(other).toMatchObject({ exit: 2, files: trees });
  expect(other.err).toContain('in the way: trees.yaml, schema/season.schema.json');
});

test('attributes that are there stay as they are', async () => {
  const { exit, out, files } = await runOn(['init'], { '.gitattributes': '*.jpg binary\n' });
  expect(exit).toBe(0);
  expect(files['.gitattributes']).toBe('*.jpg binary\n');
  expect(out).toContain('left .gitattributes as it is');
});

test('a dry run lists the same files and writes none', async () => {
  const dry = await init('figs', '--dry-run');
  const wet = await init('figs');
  expect(dry.files).toEqual({});
  const listed = (out: string) =>
    [...out.matchAll(/^(?:would write|wrote) (.+)$/gm)].map((one) => one[1]);
  expect(listed(dry.out)).toEqual(Object.keys(wet.files));
  expect(listed(wet.out)).toEqual(Object.keys(wet.files));
});

test('what cannot be is refused in words', async () => {
  expect((await init('--latitude', '95')).err).toContain('degrees from -90 to 90');
  expect((await init('--title', '  ')).err).toContain('a word or more');
  expect((await init('--units', 'stone')).exit).toBe(2);
  const blocked = await runOn(['init', 'figs'], { figs: 'a file' });
  expect(blocked).toMatchObject({ exit: 3, files: { figs: 'a file' } });
});
