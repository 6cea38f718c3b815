import { expect, test } from 'vitest';
import { memoryHost } from '../../tests/support/memory-host.ts';
import { run } from './run.ts';

async function complaint(...argv: readonly string[]): Promise<string> {
  const world = memoryHost({ files: {} });
  expect(await run(argv, world.host)).toBe(2);
  return world.err();
}

test.each([
  [['rank', '--top', 'x'], '--top x: write a whole number from 1.', 'rank'],
  [['rank', '--format', 'pdf'], '--format pdf: choose one of text, markdown, html', 'rank'],
  [['rank', '--season'], '--season needs something after it: --season <year>', 'rank'],
  [['figure', 'pie'], 'pie: choose one of ranks, ripening', 'figure'],
  [['card'], '<cultivar> is missing', 'card'],
  [
    ['card', 'Ferry', 'Bell'],
    'card takes 1 and got 2; put a name of several words in quotes',
    'card',
  ],
  [['changes', '2025'], 'too many words: changes takes none, only options', 'changes'],
  [['count', 'A1'], '--fruit <n> is missing', 'count'],
])('%j is told what to type, and where it is explained', async (argv, words, command) => {
  const told = await complaint(...argv);
  expect(told).toMatch(/^pomary: /);
  expect(told).toContain(words);
  expect(told).toContain(`(pomary ${command} --help tells how)`);
});

test('an unknown command is told of all that there are', async () => {
  expect(await complaint('rnak')).toBe(
    "pomary: unknown command 'rnak'\n(Did you mean rank?)\n(pomary --help lists the commands)\n",
  );
});
