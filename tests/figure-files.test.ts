import { expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';
import { readPng } from './support/read-png.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

async function ran(...argv: readonly string[]) {
  const world = memoryHost({ files: WALL_AND_GLASS });
  const exit = await run(argv, world.host);
  const made = (name: string) => world.files.get(`/trial/${name}`);
  return { exit, out: world.out(), err: world.err(), made };
}

const bytesOf = (made: string | Uint8Array | undefined): Uint8Array => {
  if (made === undefined || typeof made === 'string') throw new Error('no bytes were written');
  return made;
};

test('the ending of the file tells the form, and --format tells it better', async () => {
  const png = await ran('figure', 'weights', '--output', 'w.PNG');
  expect([png.exit, png.out, png.err]).toEqual([0, '', '']);
  expect(readPng(bytesOf(png.made('w.PNG'))).words.get('Title')).toBe('Fruit weight by cultivar');
  const svg = await ran('figure', 'weights', '--output', 'w.svg');
  expect(String(svg.made('w.svg'))).toMatch(/^<svg /);
  const asked = await ran('figure', 'weights', '--format', 'png', '--output', 'w.svg');
  expect(readPng(bytesOf(asked.made('w.svg'))).width).toBe(800);
});

test('a PNG asks for a file, since no screen shows it', async () => {
  const { exit, out, err } = await ran('figure', 'weights', '--format', 'png');
  expect([exit, out]).toEqual([2, '']);
  expect(err).toContain('a PNG goes into a file: name it by --output');
});

test('never takes the place of a file of the ledger', async () => {
  const { exit, made } = await ran(
    'figure',
    'weights',
    '--format',
    'png',
    '--output',
    'trees.yaml',
  );
  expect(exit).toBe(2);
  expect(made('trees.yaml')).toBe(WALL_AND_GLASS['trees.yaml']);
});

test('stands on the ground that is asked for', async () => {
  const light = await ran('figure', 'weights', '--ground', 'light');
  const dark = await ran('figure', 'weights', '--ground', 'dark');
  const auto = await ran('figure', 'weights');
  expect(light.out).not.toContain('prefers-color-scheme');
  expect(dark.out).toContain('height="100%" fill="#191c17"');
  expect(auto.out).toContain('prefers-color-scheme: dark');
  const { exit, err } = await ran('figure', 'weights', '--ground', 'pink');
  expect(exit).toBe(2);
  expect(err).toContain('auto, light, dark, none');
});

test('a page of HTML stands on it too', async () => {
  const { exit, out } = await ran('card', 'slate-quay', '--format', 'html', '--ground', 'dark');
  expect(exit).toBe(0);
  expect(out).toContain('color-scheme: dark;');
  expect(out).not.toContain('prefers-color-scheme');
});

test('the form of figures goes with the folder that they are written into', async () => {
  const { exit, err } = await ran('post', '--figures-format', 'png');
  expect(exit).toBe(2);
  expect(err).toContain('--figures-format goes with --figures');
});
