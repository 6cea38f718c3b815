import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { SHORTHAND } from '../src/writing/shorthand/help.ts';
import { StoreFault } from '../src/writing/store.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';

const SEASON = '/trial/seasons/2026.yaml';
const DRAFT = '/trial/.pomary-draft';
const before = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';

interface Sat {
  readonly status: number;
  /** What stood on the screen, its lines joined to one. */
  readonly screen: string;
  readonly season: string;
  readonly draft: string | undefined;
  readonly drafts: readonly string[];
  /** The files, for a session after this one. */
  readonly left: Readonly<Record<string, string>>;
}

/** A session at a terminal: what is typed, line by line; after that the terminal goes. */
async function sit(
  typed: readonly string[],
  argv: readonly string[] = [],
  world: Partial<MemoryWorld> = {},
): Promise<Sat> {
  const captured = memoryHost({
    env: { NO_COLOR: '1' },
    isTTY: true,
    columns: 80,
    typed,
    ...world,
    files: { ...SMALL_EXAMPLE, ...world.files },
  });
  const status = await run(['enter', '--on', '2026-08-01', ...argv], captured.host);
  const shown = captured.out() + captured.err();
  for (const line of captured.out().split('\n')) expect(line.length).toBeLessThanOrEqual(110);
  const draft = captured.files.get(DRAFT);
  const left = [...captured.files].map(([path, text]) => [
    path.slice('/trial/'.length),
    String(text),
  ]);
  return {
    status,
    screen: shown.replaceAll(/\s+/g, ' '),
    season: String(captured.files.get(SEASON)),
    draft: draft === undefined ? undefined : String(draft),
    drafts: [...captured.files.keys()].filter((path) => path.includes('.pomary-draft')),
    left: Object.fromEntries(left),
  };
}

function added(season: string): readonly string[] {
  const old = before.split('\n');
  const fresh: string[] = [];
  let next = 0;
  for (const line of season.split('\n')) {
    if (line === old[next]) next++;
    else fresh.push(line.trim());
  }
  expect(next).toBe(old.length);
  return fresh;
}

const EVENING = ['pick G3 early 52.4 47', '55.1 split 1', 'on 2 Aug', 'drop Y1 main 2 note wasps'];
const WRITTEN = [
  '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47, 55.1], split: 1 }',
  '- { on: 2026-08-02, tree: Y1, crop: main, fruit: 2, note: wasps }',
];

describe('a session at the terminal', () => {
  it('says what it understood, and writes at done after a last look', async () => {
    const sat = await sit([...EVENING, 'done', '']);
    expect(sat.status).toBe(0);
    expect(added(sat.season)).toEqual(WRITTEN);
    expect(sat.drafts).toEqual([]);
    expect(sat.screen).toContain('pick of Amber Lantern (G3), early crop (breba): 2 fruit');
    expect(sat.screen).toContain('G3 that day: 3 fruit, 51.5 g on average');
    expect(sat.screen).toContain('2 Aug> drop Y1 main 2 note wasps');
    expect(sat.screen).toContain('Write these 2 entries?');
    const [, first, second] =
      /2 entries written: seasons\/2026\.yaml:(\d+), (\d+)/.exec(sat.screen) ?? [];
    const lines = sat.season.split('\n').map((line) => line.trim());
    expect([lines[Number(first) - 1], lines[Number(second) - 1]]).toEqual(WRITTEN);
  });

  it('Ctrl-D is done, and again yes', async () => {
    const sat = await sit([...EVENING, '^D', '^D']);
    expect([sat.status, added(sat.season), sat.drafts]).toEqual([0, WRITTEN, []]);
  });

  it('takes back what the list numbers, with the weights added to it', async () => {
    const sat = await sit([...EVENING, 'count Y1 main 9', 'back 1', 'list', 'back 7', 'done', '']);
    expect(sat.screen).toMatch(/Taken back: 1, 1 August 2026: pick of Amber Lantern \(G3\)/);
    expect(sat.screen).toContain(
      'list 1 2 August 2026: 2 fruit of Amber Lantern (Y1), main crop, dropped',
    );
    expect(sat.screen).toContain('There is no 7 to take back; list numbers what waits, 1 to 2.');
    expect(added(sat.season)).toEqual([
      '- { on: 2026-08-02, tree: Y1, crop: main, fruit: 9 }',
      '- { on: 2026-08-02, tree: Y1, crop: main, fruit: 2, note: wasps }',
    ]);
    const last = await sit([...EVENING, 'back 2', 'done', '']);
    expect(added(last.season)).toEqual([WRITTEN[0]]);
    expect(last.drafts).toEqual([]);
  });

  it('keeps what a later line needs', async () => {
    const sat = await sit(['pick G3 early 52.4', '55.1', 'on 2 Aug', 'back 1', 'done', 'y']);
    expect([sat.status, sat.season]).toEqual([0, before]);
    const blind = ['taste Y1 main as 417', 'taste G3 main as 977', 'order main mara 417 > 977'];
    const kept = await sit([...blind, 'back 1', 'list', 'done', 'no']);
    expect(kept.screen).toContain(
      '1 stays, since a line after it needs it: order main mara 417 > 977',
    );
    expect(kept.screen).toContain('list 1 1 August 2026: tasting of Amber Lantern (Y1)');
  });

  it('takes lines back, one after the other, dates too', async () => {
    const sat = await sit([...EVENING, 'back', 'back', 'back', 'list', 'done', 'y']);
    expect(added(sat.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47] }',
    ]);
    expect(sat.screen).toContain('Taken back: drop Y1 main 2 note wasps');
    expect(sat.screen).toContain('Taken back: on 2026-08-02 What follows is of 1 August 2026.');
    expect(sat.screen).toContain('1 Aug> list 1 1 August 2026: pick of Amber Lantern (G3)');
    const none = await sit(['back', 'done']);
    expect([none.status, none.season]).toEqual([0, before]);
    expect(none.screen).toContain('There is nothing to take back.');
  });

  it('marks a slip and takes nothing of the line, nor what follows from it', async () => {
    const sat = await sit(['pick G3 early 50', 'pick G9 early 40', '41 42', 'done', '']);
    expect(added(sat.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [50] }',
    ]);
    expect(sat.screen).toContain('pick G9 early 40 ^^ error: G9 is no tree of this ledger');
    expect(sat.screen).toContain('weights of which pick?');
  });

  it('tells doubts at once, and refuses what cannot be right', async () => {
    const heavy = await sit(['pick G3 early 524', 'pick G3 early 50', 'done', '']);
    expect(heavy.screen).toMatch(/warning: .*524 g.* 1 Aug> pick G3 early 50/);
    expect(added(heavy.season).length).toBe(2);
    const early = await sit(['on 1 Aug 2019 pick Y1 main 30', 'done']);
    expect(early.screen).toContain('This line is not taken.');
    expect([early.season, early.drafts]).toEqual([before, []]);
    const twice = await sit(['pick G3 early 50', 'pick G3 early 50', 'done', '']);
    expect(twice.screen).toMatch(/warning: .* 1 Aug> done/);
  });

  it('asks where a line can mean two things; another line is no answer', async () => {
    const one = await sit(['pick G7 main 52,40', '2', 'done', '']);
    expect(added(one.season)).toEqual([
      '- { on: 2026-08-01, tree: G7, crop: main, weights: [52, 40] }',
    ]);
    expect(one.screen).toContain('is 52,40 52.40, or 52 and 40? 1 52.40 2 52 40');
    const word = await sit(['pick G7 main 52,40', '52.40', 'done', '']);
    expect(added(word.season)).toEqual([
      '- { on: 2026-08-01, tree: G7, crop: main, weights: [52.4] }',
    ]);
    for (const answer of ['', 'back', '^D']) {
      const out = await sit(['pick G7 main 52,40', answer, 'done']);
      expect([out.season, out.screen.includes('Left out: pick G7 main 52,40')]).toEqual([
        before,
        true,
      ]);
    }
    const pasted = await sit(['pick G7 main 52,40', 'drop Y1 main 2', 'done', '']);
    expect(added(pasted.season)).toEqual(['- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }']);
  });

  it('no goes on', async () => {
    const sat = await sit(['drop Y1 main 2', 'done', 'no', 'drop Y1 main 1', 'done', '']);
    expect(added(sat.season)).toEqual([
      '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }',
      '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 1 }',
    ]);
  });

  it('a line typed where yes or no was asked for is not lost', async () => {
    const asked = await sit(['drop Y1 main 2', 'done', 'drop Y1 main 1', 'done', '']);
    expect(added(asked.season).length).toBe(2);
    const files = { '.pomary-draft': 'on 2026-08-01\ndrop Y1 main 2\n' };
    const offered = await sit(['drop Y1 main 1', 'done', ''], [], { files });
    expect(added(offered.season)).toEqual(['- { on: 2026-08-01, tree: Y1, crop: main, fruit: 1 }']);
    expect(offered.draft).toBe(files['.pomary-draft']);
  });

  it('helps: with every kind of line, and with one of them', async () => {
    const sat = await sit(['help', 'help order', 'quit', 'done']);
    for (const { example } of SHORTHAND) expect(sat.screen).toContain(` ${example} `);
    expect(sat.screen).toContain('order CROP TASTER TREE > TREE = TREE');
    expect(sat.screen).toContain('= between fruit that are as good as each other');
    expect(sat.screen).toContain('Ctrl-C leaves and keeps the lines for the next time');
  });

  it('a dry run shows the change and keeps no draft', async () => {
    const sat = await sit([...EVENING, 'done'], ['--dry-run']);
    expect([sat.status, sat.season, sat.drafts]).toEqual([0, before, []]);
    expect(sat.screen).toContain('+++ b/seasons/2026.yaml');
    expect(sat.screen).toContain('Nothing was written (--dry-run).');
  });

  it('at once: each line is in the file before the next is typed', async () => {
    const sat = await sit(['pick G3 early 52.4', '55', 'drop Y1 main 2'], ['--at-once']);
    expect(added(sat.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4] }',
      '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }',
    ]);
    expect(sat.screen).toContain('1 entry written: seasons/2026.yaml:');
    expect(sat.screen).toContain('weights of which tree?');
    expect(sat.drafts).toEqual([]);
  });
});

describe('the draft', () => {
  it('keeps what was typed, with plain dates, until it is written', async () => {
    for (const end of [['^C'], []]) {
      const sat = await sit(['on yesterday', 'drop Y1 main 1', ...EVENING, ...end]);
      expect([sat.status, sat.season]).toEqual([1, before]);
      expect(sat.draft?.split('\n').slice(1)).toEqual([
        'on 2026-10-31',
        'drop Y1 main 1',
        'pick G3 early 52.4 47',
        '55.1 split 1',
        'on 2026-08-02',
        'drop Y1 main 2 note wasps',
        '',
      ]);
      expect(sat.screen).toContain('kept in .pomary-draft; pomary enter offers them again');
    }
  });

  it('is offered to the next session, which writes it and takes it away', async () => {
    const first = await sit([...EVENING, '^C']);
    const second = await sit(['', 'done', ''], [], { files: first.left });
    expect(second.screen).toContain('A session before this one ended with lines not written');
    expect([second.status, added(second.season), second.drafts]).toEqual([0, WRITTEN, []]);
  });

  it('and again to the one after, if that is cut short too', async () => {
    const first = await sit([...EVENING, '^C']);
    const second = await sit(['yes', 'drop G3 early 1', '^C'], [], { files: first.left });
    expect(second.drafts.length).toBe(1);
    const third = await sit(['', 'done', ''], [], { files: second.left });
    expect(added(third.season)).toEqual([
      ...WRITTEN,
      '- { on: 2026-08-02, tree: G3, crop: early, fruit: 1 }',
    ]);
    expect(third.drafts).toEqual([]);
  });

  it('can be left for later or thrown away', async () => {
    const first = await sit([...EVENING, '^C']);
    const later = await sit(['later', 'drop G3 early 1', 'done', ''], [], { files: first.left });
    expect(added(later.season)).toEqual(['- { on: 2026-08-01, tree: G3, crop: early, fruit: 1 }']);
    expect(later.draft).toBe(first.draft);
    const thrown = await sit(['no', 'done'], [], { files: first.left });
    expect([thrown.season, thrown.drafts]).toEqual([before, []]);
  });

  it('of two sessions at once is each its own', async () => {
    const files = { '.pomary-draft': '# of another\npick G3 early 50\n' };
    const sat = await sit(['later', 'drop Y1 main 2', '^C'], [], { files });
    expect(sat.draft).toBe(files['.pomary-draft']);
    expect(sat.left['.pomary-draft-2']).toContain('drop Y1 main 2');
  });

  it('keeps the line that is asked about, and lets go of one that is left out', async () => {
    const first = await sit(['drop Y1 main 2', 'on 3 Aug pick G3 52.4']);
    expect(first.screen).toContain('which crop of G3');
    expect(first.draft?.split('\n').slice(1)).toEqual([
      'on 2026-08-01',
      'drop Y1 main 2',
      'on 2026-08-03',
      'pick G3 52.4',
      '',
    ]);
    const alone = await sit(['pick G3 52.4']);
    expect(alone.draft).toContain('pick G3 52.4');
    const leftOut = await sit(['pick G3 52.4', '']);
    expect(leftOut.drafts).toEqual([]);
  });

  it('keeps lines that are not understood any more', async () => {
    const files = { '.pomary-draft': 'on 2026-08-01\ndrop Q9 main 2\ndrop Y1 main 2\n' };
    const sat = await sit(['', 'done', ''], [], { files });
    expect(added(sat.season)).toEqual(['- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }']);
    expect(sat.screen).toContain('not understood, or not settled: drop Q9 main 2');
    expect(sat.draft).toContain('on 2026-08-01\ndrop Q9 main 2\n');
  });

  it('is a list of lines that pomary enter reads', async () => {
    const first = await sit([...EVENING, '^C']);
    const captured = memoryHost({ files: { ...SMALL_EXAMPLE, ...first.left } });
    expect(await run(['enter', '.pomary-draft'], captured.host)).toBe(0);
    expect(added(String(captured.files.get(SEASON)))).toEqual(WRITTEN);
  });

  it('cannot be kept on a full disk: that is said, once, and the entries come back', async () => {
    const storeFault = new StoreFault(SEASON, 'ENOSPC', 'the disk is full', 'make room');
    const sat = await sit([...EVENING, 'done', '', '^C'], [], { storeFault });
    expect([sat.status, sat.season, sat.drafts]).toEqual([1, before, []]);
    expect(sat.screen.split('No draft can be kept: the disk is full').length).toBe(2);
    for (const line of WRITTEN) expect(sat.screen).toContain(line);
    expect(sat.screen).toContain('on 2026-08-01 pick G3 early 52.4 47');
  });
});
