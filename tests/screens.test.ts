import { describe, expect, it, vi } from 'vitest';
import { run } from '../src/cli/run.ts';
import { displayWidth } from '../src/source/display-width.ts';
import { exampleFiles } from './support/example-files.ts';
import { memoryHost } from './support/memory-host.ts';

vi.mock('../src/cli/open-ledger.ts', () => import('./support/ledger-once.ts'));

const files = exampleFiles();

const known = new Map<string, Promise<string>>();

/** What a command prints; the ledger is the same throughout, so nothing is worked out twice. */
function printed(columns: number, ...argv: readonly string[]): Promise<string> {
  const key = JSON.stringify([columns, argv]);
  const text = known.get(key) ?? print(columns, argv);
  known.set(key, text);
  return text;
}

async function print(columns: number, argv: readonly string[]): Promise<string> {
  const world = memoryHost({ files, env: { COLUMNS: String(columns) } });
  const exit = await run(argv, world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world.out();
}

const COMMANDS: readonly (readonly string[])[] = [
  ['yield', '--by', 'cultivar'],
  ['weights'],
  ['crops'],
  ['soundness'],
  ['ripening', '--season', '2026'],
  ['scores'],
  ['preference'],
  ['words'],
  ['rank'],
  ['stability'],
  ['verdict'],
];
/** Of scores and words --top counts in each trait and cultivar, not in the whole. */
const OF_ONE_CROP = COMMANDS.filter(([name]) => name !== 'scores' && name !== 'words').map(
  (argv) => [...argv, '--crop', 'main'],
);

/** Lines of notes under a table: what stands behind the last empty line. */
function notesOf(text: string): readonly string[] {
  const lines = text.trimEnd().split('\n');
  return lines.slice(lines.lastIndexOf('') + 1);
}

describe('a report on a terminal of 80 x 24', () => {
  it.each(OF_ONE_CROP)('is seen whole with twelve rows: %s %s', async (...argv) => {
    const text = await printed(80, ...argv, '--top', '12');
    const lines = text.trimEnd().split('\n');
    for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(80);
    const [title, , ...rest] = lines;
    expect(title).toContain('main crop');
    // One line is the prompt's.
    expect(lines.length, text).toBeLessThanOrEqual(23 + wrapped(rest));
    expect(notesOf(text).length, text).toBeLessThanOrEqual(6);
  });

  it.each(COMMANDS)(
    'has at most five lines of notes, and one of what else there is: %s',
    async (...argv) => {
      const text = await printed(80, ...argv);
      expect(notesOf(text).length, text).toBeLessThanOrEqual(6);
      expect(text).not.toMatch(/\d{4}, [A-Z][a-z]+ [A-Z].* \d+:\d+/);
      expect(text).toContain('--explain');
      expect(text).not.toContain('Crops: early');
    },
  );

  it.each(COMMANDS)('tells all of it where --explain asks: %s', async (...argv) => {
    const all = JSON.parse(await printed(80, ...argv, '--format', 'json', '--explain'));
    const words = (text: string) => text.replace(/\s+/g, ' ');
    const text = words(await printed(80, ...argv, '--explain'));
    for (const note of all.notes) expect(text).toContain(words(note.text));
  });

  it('shows the parts of the index before any statistics, and names whole', async () => {
    const [, , head = '', , first = ''] = (await printed(80, 'rank', '--crop', 'main')).split('\n');
    expect(head).toMatch(/^Rank +Cultivar +Index +95 % +Sweet +Flav +Prod +Size +Sound +Trees$/);
    expect(first).toMatch(/^ +1 {2}Lamplighter's Thumb {2}/);
  });

  it('tells of every verdict which crop it is of', async () => {
    const text = await printed(80, 'verdict');
    const rows = text.split('\n').filter((line) => /increase|retain|watch|discard/.test(line));
    const ofTable = rows.filter((line) => !line.startsWith('-'));
    expect(ofTable.length).toBeGreaterThan(20);
    for (const row of ofTable) expect(row).toMatch(/ (breba|main) /);
  });
});

/** How many lines of a table go on with the row before. */
function wrapped(lines: readonly string[]): number {
  return lines.filter((line) => /^ {12,}\S/.test(line)).length;
}

describe('columns and notes that are asked for', () => {
  it('stand in every format, by label as by key', async () => {
    const argv = ['rank', '--crop', 'main', '--top', '2', '--columns', 'cultivar,Letters,trees'];
    expect(await printed(80, ...argv, '--format', 'csv')).toMatch(/^cultivar,letters,trees\n/);
    expect(await printed(80, ...argv, '--format', 'markdown')).toContain(
      '| Cultivar | Letters | Trees |',
    );
    expect(await printed(80, ...argv)).toMatch(/^Cultivar +Letters +Trees$/m);
    const { columns } = JSON.parse(await printed(80, ...argv, '--format', 'json'));
    expect(columns.map(({ key }: { key: string }) => key)).toEqual([
      'cultivar',
      'letters',
      'trees',
    ]);
  });

  it('name what was meant where it is a slip', async () => {
    const world = memoryHost({ files });
    expect(await run(['weights', '--columns', 'cultivar,Medain'], world.host)).toBe(2);
    expect(world.err()).toContain('no column "Medain"; did you mean Median?');
  });

  it('sort by label as by key', async () => {
    const by = (sort: string) => printed(80, 'yield', '--sort', sort, '--format', 'csv');
    expect(await by('Picked weight')).toBe(await by('pickedWeight'));
    expect(await by('picked weight (g):asc')).toBe(await by('pickedWeight:asc'));
  });

  it('change no column of CSV and JSON unasked', async () => {
    const { notes } = JSON.parse(await printed(80, 'weights', '--format', 'json'));
    const few = JSON.parse(
      await printed(80, 'weights', '--format', 'json', '--notes', 'few'),
    ).notes;
    expect(few.length).toBeGreaterThan(0);
    expect(few.length).toBeLessThan(notes.length);
    expect(await printed(80, 'weights', '--notes', 'none')).not.toContain('Sites differ');
  });
});
