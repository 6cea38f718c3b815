import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { exportTables } from '../src/report/export/export-tables.ts';
import { runOn } from './support/run-on.ts';

// One season of an invented garden: 17 trees, 7 evenings, 3 sittings. It is typed twice, once with every
// word spelled out and once as short as it goes.

const text = (name: string) =>
  readFileSync(fileURLToPath(new URL(`evenings/${name}`, import.meta.url)), 'utf8');
const TRIAL = Object.fromEntries(
  ['ledger.yaml', 'cultivars.yaml', 'trees.yaml'].map((name) => [name, text(name)]),
);

async function entered(lines: string, today = '2026-11-28') {
  const { exit, err, out, files } = await runOn(
    ['enter', 'evenings.txt'],
    { ...TRIAL, 'evenings.txt': lines },
    { today },
  );
  expect(err).not.toContain('error');
  expect(exit).toBe(0);
  const { 'evenings.txt': _, ...ledger } = files;
  return { out, ledger };
}

async function exported(ledger: Readonly<Record<string, string>>): Promise<readonly unknown[]> {
  const tables = exportTables.filter(({ name }) => name !== 'figures' && name !== 'columns');
  const all: unknown[] = [];
  for (const { name } of tables) {
    const { out } = await runOn(['export', '--table', name, '--format', 'jsonl'], ledger, {
      today: '2026-11-28',
    });
    all.push([name, out.trim().split('\n')]);
  }
  return all;
}

/** What is typed: every character, and Enter for a line. */
const keystrokes = (lines: string) => lines.length;

describe('a season of evenings', () => {
  const [long, short] = [text('long.txt'), text('short.txt')];

  it('takes at most 3,000 keystrokes, where all words spelled out take 5,041', () => {
    expect(keystrokes(long)).toBe(5041);
    expect(keystrokes(short)).toBeLessThanOrEqual(3000);
  });

  it('says the same either way', async () => {
    const [one, other] = [await entered(long), await entered(short)];
    const tables = await exported(one.ledger);
    const picks = long.match(/^pick /gm) ?? [];
    expect(tables).toContainEqual(['picks', expect.objectContaining({ length: picks.length })]);
    expect(await exported(other.ledger)).toEqual(tables);
  });

  it('is entered by the sheet in a line a plate', async () => {
    const sheets = `taster joe Joe
on 30 Sep
taste P1 main as 417: ann 8 9 7, tom 6 7 6.5, kid 9 8 8 words melon, joe 5 - 6
taste P2 main as 862: ann 6 6,5 7, tom 7 7 7, kid 8 8 9, joe 6 6 6
taste Y1 main: ann 7 7 7, tom 5 6 5, kid 7 8 7, joe 4 5 4 words hay
taste 417 brix 18.5
taste Monk Purse main: ann 7 8 6, tom 6 6 6, kid 9 9 8, joe 7 - 7
`;
    const { ledger } = await entered(sheets);
    const [, scores] = ((await exported(ledger)) as [string, readonly string[]][]).find(
      ([name]) => name === 'scores',
    ) as [string, readonly string[]];
    // Four plates by four tasters by three traits, two marks not given.
    expect(scores).toHaveLength(4 * 4 * 3 - 2);
    const season = ledger['seasons/2026.yaml'] ?? '';
    expect(season).toContain('- { tree: P1, crop: main, as: "417", brix: 18.5 }');
    expect(season).toContain('"862": { sweetness: 6, flavour: 6.5, texture: 7 }');
    expect(season).toContain('kid: { "417": [melon] }');
  });
});
