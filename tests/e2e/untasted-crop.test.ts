import { expect, test } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { madeTrialFiles } from '../support/made-trial.ts';
import { memoryHost } from '../support/memory-host.ts';
import { runJson } from '../support/run-json.ts';

// Picked and weighed for two seasons, and never tasted.
const FILES = madeTrialFiles(['a', 'b', 'c'].map((key) => ({ key, scores: [[], []] })));

test('of a crop that nobody tasted people read why in one line', async () => {
  const { host, out } = memoryHost({ files: FILES });
  expect(await run(['rank'], host)).toBe(0);
  expect(out()).toContain('No rank can be given yet.');
  expect(out()).toContain('Not ranked: all 3 cultivars of the main crop (not tasted ripe).');
  expect(out().replaceAll(/\s+/g, ' ')).toMatch(
    /Taste them, or take .* out of rank\.weights in ledger\.yaml\./,
  );
});

test('machines get a row for each of its cultivars, with the reason', async () => {
  const { rows } = await runJson(FILES, 'rank');
  expect(rows.map(({ cultivar, rank, index, why }) => [cultivar, rank, index, why])).toEqual(
    ['a', 'b', 'c'].map((name) => [name, null, null, 'not tasted ripe']),
  );
});
