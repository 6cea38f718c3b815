import type { Option } from 'commander';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildProgram } from '../src/cli/program.ts';
import { memoryHost } from './support/memory-host.ts';
import { ProgramFolder } from './support/program-folder.ts';
import { runOn } from './support/run-on.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

// The words of the library are the options of the commands: none is missing, none is its own.

/** Options that say in which form something is wanted and where: a program gets the thing itself. */
const OF_PAGES = ['format', 'ground', 'output', 'sheet'];
const OF_TABLES = ['columns', 'notes', 'format', 'decimal', 'output'];

interface Face {
  readonly command: string;
  /** What a call has between the ledger and the words, and a command line before its options. */
  readonly operands?: readonly string[];
  /** Options that the command line needs for what the library does anyway. */
  readonly line?: readonly string[];
  /** Options of the command that the library does not take. */
  readonly not?: readonly string[];
  /** Words for what a command line has as an operand, or from the clock. */
  readonly own?: readonly string[];
}

const FACES: Readonly<Record<string, Face>> = {
  yields: { command: 'yield' },
  weights: { command: 'weights' },
  crops: { command: 'crops' },
  soundness: { command: 'soundness' },
  ripening: { command: 'ripening' },
  scores: { command: 'scores' },
  preference: { command: 'preference' },
  words: { command: 'words' },
  rank: { command: 'rank' },
  compare: { command: 'compare', operands: ['Amber Lantern', 'slate-quay'] },
  stability: { command: 'stability' },
  verdict: { command: 'verdict' },
  pool: { command: 'pool', operands: ['/trial/other'] },
  // Its name is the table's.
  table: {
    ...{ command: 'export', operands: ['picks'] },
    not: ['table', 'format', 'decimal', 'output'],
  },
  sheet: { command: 'sheet', not: OF_PAGES },
  lineup: { command: 'lineup', not: OF_PAGES },
  day: { command: 'day', operands: ['2026-09-05'], not: OF_PAGES, own: [] },
  card: { command: 'card', operands: ['slate-quay'], not: OF_PAGES },
  // An open ledger is that of today, without a history.
  changes: { command: 'changes', not: [...OF_PAGES, 'since', 'until'] },
  // Text and JSON are no pages of a site.
  post: {
    ...{ command: 'post', line: ['--into', 'site', '--cards', 'none'] },
    ...{ not: ['output', 'into', 'figures', 'format'], own: ['today', 'format'] },
  },
  figure: {
    ...{ command: 'figure', operands: ['ranks'] },
    ...{ not: ['format', 'output'], own: ['today', 'pool'] },
  },
};

/** The options of a command that the library takes. */
function optionsOf({ command, not = OF_TABLES }: Face): readonly Option[] {
  const { commands } = buildProgram(memoryHost({ files: {} }).host);
  const options = commands.find((one) => one.name() === command)?.options ?? [];
  return options.filter((option) => !option.hidden && !not.includes(option.attributeName()));
}

/** A neighbour that differs in one weight. */
const OTHER = Object.entries(WALL_AND_GLASS).map(([path, text]) => [
  `other/${path}`,
  text.replaceAll('Tidewrack Lane', 'Hill Foot').replace('[40, 50,', '[41, 50,'),
]);
const TWO_GARDENS: Readonly<Record<string, string>> = {
  ...WALL_AND_GLASS,
  ...Object.fromEntries(OTHER),
};

const folder = new ProgramFolder();
beforeAll(() => folder.lay('trial', TWO_GARDENS));
afterAll(() => folder.remove());

test('the types know every option of a command, and no other word', { timeout: 120_000 }, () => {
  const lines = Object.entries(FACES).map(([name, face]) => {
    const words = [
      ...optionsOf(face).map((option) => option.attributeName()),
      ...(face.own ?? ['today']),
    ];
    const at = name === 'pool' ? 2 : 1 + (name === 'figure' ? 1 : (face.operands ?? []).length);
    const asked = `NonNullable<Parameters<typeof pomary.${name}>[${at}]>`;
    return `export const ${name}: Same<keyof ${asked}, ${words.map((word) => `'${word}'`).join(' | ')}> = true;`;
  });
  const said = folder.typed(`
    import * as pomary from 'pomary';
    type Same<One, Other> = Nothing<Exclude<One, Other> | Exclude<Other, One>>;
    type Nothing<Left> = [Left] extends [never] ? true : Left;
    ${lines.join('\n')}
  `);
  expect(said).toBe('');
});

test('every function that asks a ledger is held to a command', async () => {
  const names = folder.printedBy(`
    import * as pomary from 'pomary';
    console.log(JSON.stringify(Object.keys(pomary).filter((name) => /^[a-z]/.test(name))));
  `) as readonly string[];
  const others = ['default', 'openLedger', 'figurePng'];
  expect(names.filter((name) => !others.includes(name)).toSorted()).toEqual(
    Object.keys(FACES).toSorted(),
  );
});

/** No year, day, number, crop, site, column or cultivar. */
const WRONG = 'x-none';

describe('a wrong value is refused in the words of the command line', () => {
  let given: Readonly<Record<string, Readonly<Record<string, string | null>>>> = {};
  beforeAll(() => {
    const calls = Object.entries(FACES).map(([name, face]) => {
      const operands = (face.operands ?? []).map((operand) => JSON.stringify(operand));
      const before = ['ledger', ...(name === 'pool' ? ['[other]'] : operands)].join(', ');
      return `${name}: (asked) => pomary.${name}(${before}, asked)`;
    });
    const words = Object.entries(FACES).map(([name, face]) => [
      name,
      wordsWithValue(face).map((option) => option.attributeName()),
    ]);
    given = folder.printedBy(`
      import * as pomary from 'pomary';
      const { ledger } = await pomary.openLedger('trial');
      const { ledger: other } = await pomary.openLedger('trial/other');
      const calls = { ${calls.join(', ')} };
      const given = {};
      for (const [name, words] of ${JSON.stringify(words)}) {
        given[name] = {};
        for (const word of words) {
          const error = await calls[name]({ [word]: ${JSON.stringify(WRONG)} }).then(() => null, (thrown) => thrown);
          given[name][word] = error === null || error instanceof pomary.UsageError ? (error?.message ?? null) : String(error.stack);
        }
      }
      console.log(JSON.stringify(given));
    `) as typeof given;
  });

  test.each(Object.entries(FACES))('%s', async (name, face) => {
    const said = await Promise.all(
      wordsWithValue(face).map(async (option): Promise<[string, string | null]> => {
        const word = option.attributeName();
        const { command, operands = [], line = [] } = face;
        const argv = [command, ...operands, ...line, `${option.long}=${WRONG}`];
        const { exit, err } = await runOn(argv, TWO_GARDENS);
        return [word, exit === 0 ? null : ofProgram(err)];
      }),
    );
    expect(given[name]).toEqual(Object.fromEntries(said));
  });
});

/** Those that take a value that is written down, and not a ledger. */
function wordsWithValue(face: Face): readonly Option[] {
  return optionsOf(face).filter(({ required, long }) => required && long !== '--pool');
}

/** What the command line said, as a program that has no hyphens would be told it. */
function ofProgram(said: string): string {
  const [first = ''] = said.replace(/^pomary: /, '').split('\n');
  const [, option = '', rest = first] = /^--([a-z-]+)(.*)/.exec(first) ?? [];
  const word = option.replace(/-[a-z]/g, (found) => found.slice(1).toUpperCase());
  return `${word}${rest}`.replace(/ --(?=[a-z])/g, ' ');
}
