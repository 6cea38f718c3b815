import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { starterFiles } from '../src/reading/starter-ledger.ts';
import { ledgerFrom } from './support/ledger-from.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';

/** The files of a ledger that was begun a moment ago. */
const NEW = Object.fromEntries(
  starterFiles({
    title: 'Mossgate figs',
    season: 2026,
    fruit: 'fig',
    place: undefined,
    latitude: undefined,
    units: undefined,
  }).map(({ path, text }) => [path, text]),
);

/** A session at a terminal on 1 November 2026, line by line; after that the terminal goes. */
async function sit(
  typed: readonly string[],
  files: MemoryWorld['files'] = NEW,
  argv: readonly string[] = [],
) {
  const captured = memoryHost({ env: { NO_COLOR: '1' }, isTTY: true, columns: 80, typed, files });
  const status = await run(['enter', ...argv], captured.host);
  const left = Object.fromEntries(
    [...captured.files].map(([path, text]) => [path.slice('/trial/'.length), String(text)]),
  );
  const screen = (captured.out() + captured.err()).replaceAll(/\s+/g, ' ');
  return { status, screen, left };
}

const LISTS = [
  'taster mara Mara',
  'taster joss Joss',
  'cultivar Paper Lamp bears common',
  'tree A1 Paper Lamp planted 2021',
  'tree A2 Paper Lamp planted 2022',
];

/** What the lines of a file are that the starter does not have. */
function added(left: Readonly<Record<string, string>>, path: string): readonly string[] {
  const old = (NEW[path] ?? '').split('\n');
  return (left[path] ?? '').split('\n').filter((line) => !old.includes(line));
}

describe('an evening at the terminal, from nothing', () => {
  it('lists, picks and tastes in one go', async () => {
    const { status, screen, left } = await sit([
      ...LISTS,
      'A1 main 41 42 1 split',
      'taste A2 main: mara 8 9 7, joss 7 7 7 words melon',
      'done',
      '',
    ]);
    expect(status).toBe(0);
    expect(screen).toContain('7 entries written: ledger.yaml:');
    // What a later line settles is not asked of the line that comes first.
    expect(screen.split('1 new taster Mara')[0]).not.toContain('hint');
    expect(added(left, 'ledger.yaml')).toEqual(['  mara: Mara', '  joss: Joss']);
    expect(added(left, 'trees.yaml')).toEqual([
      'A1: { cultivar: paper-lamp, planted: 2021, site: garden }',
      'A2: { cultivar: paper-lamp, planted: 2022, site: garden }',
    ]);
    const [season] = ledgerFrom(left).seasons;
    expect(season?.picks).toMatchObject([{ weights: [41, 42], defects: { split: 1 } }]);
    expect(season?.tastings[0]?.words).toMatchObject([{ words: ['melon'] }]);
  });

  it('has each list in its file before the next line is typed, where that is asked for', async () => {
    const { screen, left } = await sit([...LISTS, 'A1 main 41', '^C'], NEW, ['--at-once']);
    expect(screen).toContain('1 entry written: trees.yaml:');
    expect(added(left, 'trees.yaml')).toHaveLength(2);
    expect(ledgerFrom(left).seasons[0]?.picks).toHaveLength(1);
  });

  it('says how to begin, by what the ledger has', async () => {
    expect((await sit([])).screen).toContain('as in cultivar Amber Lantern bears unknown, then');
    const { left } = await sit([...LISTS, 'done', '']);
    expect((await sit([], left)).screen).toContain(
      'as in A1 52.4 47 61.3 for a pick or taste A1: joss 8 9 7',
    );
  });

  it('keeps what is listed in the draft, and takes it up again', async () => {
    const { status, left } = await sit([...LISTS, 'A1 main 41', '^C']);
    expect(status).toBe(1);
    expect(added(left, 'trees.yaml')).toEqual([]);
    const next = await sit(['yes', 'done', ''], left);
    expect(next.screen).toContain('6 entries written');
    expect(added(next.left, 'trees.yaml')).toHaveLength(2);
  });

  it('asks once which comes first in a day, and keeps the answer', async () => {
    const { screen, left } = await sit([
      ...LISTS,
      'on 5/6',
      '1',
      'A1 main 41',
      'on 4/6',
      'A1 42',
      'done',
      '',
    ]);
    expect(screen).toContain('ledger.yaml will say dates: day-first');
    expect(added(left, 'ledger.yaml')).toContain('dates: day-first');
    const [season] = ledgerFrom(left).seasons;
    expect(season?.picks.map(({ on }) => on)).toEqual(['2026-06-04', '2026-06-05']);
  });
});

describe('a line that waits', () => {
  const WAITING = [...LISTS, 'on 20 Aug', 'A1 main 41', 'on 21 Aug', 'A2 main 51', '52 1 split'];
  const weights = (left: Readonly<Record<string, string>>) =>
    ledgerFrom(left).seasons[0]?.picks.map(({ on, weights: all }) => [on, all]);

  it('is opened again by its number, on its own day and in its own place', async () => {
    const { screen, left } = await sit([...WAITING, 'fix 6', 'A1 main 44 45', '53', 'done', '']);
    expect(screen).toContain('20 Aug> A1 main 44 45');
    // More weights after that are of the last pick again.
    expect(weights(left)).toEqual([
      ['2026-08-20', [44, 45]],
      ['2026-08-21', [51, 52, 53]],
    ]);
  });

  it('stays as it was where nothing better is typed', async () => {
    const { screen, left } = await sit([
      ...WAITING,
      'fix 6',
      'A1 main nonsense',
      'fix 99',
      'done',
      '',
    ]);
    expect(screen).toContain('6 stays as it was.');
    expect(screen).toContain('There is no 99 to open; list numbers what waits, 1 to 7.');
    expect(weights(left)).toEqual([
      ['2026-08-20', [41]],
      ['2026-08-21', [51, 52]],
    ]);
  });

  it('is not changed where a line after it needs it', async () => {
    const { screen, left } = await sit([...WAITING, 'fix 4', 'tree B9 Paper Lamp', 'done', '']);
    expect(screen).toContain('4 stays as it was, since a line after it needs it: A1 main 41');
    expect(weights(left)).toHaveLength(2);
  });

  it('opens the last of the list where no number is said', async () => {
    const { left } = await sit([...WAITING, 'fix', 'A2 main 61', 'done', '']);
    expect(weights(left)?.at(-1)).toEqual(['2026-08-21', [61, 52]]);
  });
});

describe('what the ledger has already', () => {
  it('is doubted as it is typed', async () => {
    const { left } = await sit([...LISTS, 'girth A1 14', 'A1 main 41', 'done', '']);
    const { screen } = await sit(['girth A1 14', 'girth A2 14', 'A1 main 41', '^C'], left);
    expect(screen.match(/the ledger has this already, to the letter/g)).toHaveLength(1);
    expect(screen.match(/warning: /g)).toHaveLength(2);
    expect(screen).toContain('the same pick of main fruit from tree A1');
  });

  it('is passed over in a text, lists and all', async () => {
    const stdin = `${LISTS.join('\n')}\nsite bay "the bay" glass\non 30 Oct\nremove A2\n`;
    const once = memoryHost({ files: NEW, stdin });
    expect(await run(['enter'], once.host)).toBe(0);
    const files = Object.fromEntries(
      [...once.files].map(([path, text]) => [path.slice('/trial/'.length), text]),
    );
    const twice = memoryHost({ files, stdin });
    expect([await run(['enter'], twice.host), twice.err()]).toEqual([0, '']);
    expect(twice.out()).toMatch(/Nothing new to write\.\n$/);
    expect(twice.out()).not.toContain('--again');
    expect(twice.files).toEqual(once.files);
    const other = memoryHost({ files, stdin: 'tree A1 Paper Lamp planted 2020\n' });
    expect(await run(['enter'], other.host)).toBe(1);
    expect(other.err()).toContain('A1 is a tree already, of Paper Lamp');
  });
});

describe('a long text', () => {
  const lines = Array.from({ length: 21 }, (_, at) => `on ${at + 1} Aug\nA1 main ${40 + at} 41`);

  async function piped(argv: readonly string[]) {
    const { left } = await sit([...LISTS, 'done', '']);
    const captured = memoryHost({ files: left, stdin: lines.join('\n') });
    expect(await run(['enter', ...argv], captured.host)).toBe(0);
    return captured.out();
  }

  it('is told back by days', async () => {
    const out = await piped([]);
    expect(out.trim().split('\n')).toHaveLength(22);
    expect(out).toContain('1 August 2026: 1 pick of 2 fruit\n');
    expect(out).toContain('21 entries written.\n');
  });

  it('is told back whole on asking', async () => {
    expect(await piped(['--echo'])).toContain(
      '1 August 2026: pick of Paper Lamp (A1), main crop: 2 fruit; 40, 41 g',
    );
  });
});
