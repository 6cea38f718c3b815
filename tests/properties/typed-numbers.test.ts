import fc from 'fast-check';
import { expect, test } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { memoryHost } from '../support/memory-host.ts';
import { RUNS } from '../support/property-runs.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

const digits = fc.stringMatching(/^[0-9]{1,4}$/);
const number = fc.oneof(
  {
    weight: 3,
    arbitrary: fc
      .tuple(digits, fc.constantFrom('.', ','), digits)
      .map(([whole, sign, part]) => `${whole}${sign}${part}`),
  },
  {
    weight: 2,
    arbitrary: fc.array(digits, { minLength: 1, maxLength: 4 }).map((all) => all.join(',')),
  },
  fc.tuple(digits, fc.constantFrom('', 'g', 'oz', ' oz', 'x')).map((parts) => parts.join('')),
  fc.stringMatching(/^[0-9][0-9.,]{0,7}$/),
);
const before = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';

/** What a way of writing down leaves in the file: the weights, or nothing where it asks or refuses. */
async function written(argv: readonly string[], decimal: string, stdin = ''): Promise<string> {
  const settings = `${SMALL_EXAMPLE['ledger.yaml']}decimal: ${decimal}\n`;
  const files = { ...SMALL_EXAMPLE, 'ledger.yaml': settings };
  const captured = memoryHost({ files, stdin });
  const status = await run(argv, captured.host);
  const season = String(captured.files.get('/trial/seasons/2026.yaml'));
  if (season === before) {
    expect([1, 2], `${argv.join(' ')}: ${captured.err()}`).toContain(status);
    return 'nothing';
  }
  const lines = before.split('\n');
  const [fresh = ''] = season.split('\n').filter((line) => !lines.includes(line));
  return /(weights?: (?:\[.*?\]|[^,}]*?)) ?[,}]/.exec(fresh)?.[1] ?? fresh;
}

const tree = 'pick G3 main';

test('weights are the same by every door, or every door asks or refuses', async () => {
  const seen = new Set<string>();
  await fc.assert(
    fc.asyncProperty(
      fc.array(number, { minLength: 1, maxLength: 3 }),
      fc.constantFrom('comma', 'point'),
      async (numbers, decimal) => {
        const text = numbers.join(' ');
        const typed = await written(['enter', '--on', '1.9.'], decimal, `${tree} ${text}\n`);
        const option = [...tree.split(' '), '--on', '1.9.', '--weights', text];
        expect(await written(option, decimal), text).toBe(typed);
        const table = `date;tree;crop;weights\n2026-09-01;G3;main;${text}\n`;
        expect(await written(['import', '-', '--kind', 'picks'], decimal, table), text).toBe(typed);
        seen.add(typed);
      },
    ),
    { numRuns: RUNS / 5 },
  );
  expect(seen.has('nothing')).toBe(true);
  expect(seen.size).toBeGreaterThan(20);
});

test('one weight is the same by every door, or every door asks or refuses', async () => {
  await fc.assert(
    fc.asyncProperty(number, fc.constantFrom('comma', 'point'), async (text, decimal) => {
      const line = `${tree} fruit 3 weight ${text}\n`;
      const typed = await written(['enter', '--on', '1.9.'], decimal, line);
      const option = [...tree.split(' '), '--on', '1.9.', '--fruit', '3', '--weight', text];
      expect(await written(option, decimal), text).toBe(typed);
      const table = `date;tree;crop;fruit;weight\n2026-09-01;G3;main;3;${text}\n`;
      expect(await written(['import', '-', '--kind', 'picks'], decimal, table), text).toBe(typed);
    }),
    { numRuns: RUNS / 5 },
  );
});

test('no way of writing makes two fruit of 41,5', async () => {
  for (const text of ['41,5', '41,5 38,2', '38,2 41,5g', '41,5,38,2', '52.4,41,5', '41,5;38,2']) {
    for (const decimal of ['comma', 'point']) {
      const option = [...tree.split(' '), '--on', '1.9.', '--weights', text];
      expect(await written(option, decimal)).not.toMatch(/[[ ](?:41|38|5|2)[,\]]/);
    }
  }
});
