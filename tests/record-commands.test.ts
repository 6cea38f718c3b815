import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { StoreFault } from '../src/writing/store.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';

const SEASON = '/trial/seasons/2026.yaml';
const before = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';

interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
  readonly season: string;
  readonly files: ReadonlyMap<string, string | Uint8Array>;
}

async function pomary(argv: readonly string[], world: Partial<MemoryWorld> = {}): Promise<Ran> {
  const { files = {}, ...rest } = world;
  const captured = memoryHost({ files: { ...SMALL_EXAMPLE, ...files }, ...rest });
  const status = await run(argv, captured.host);
  const season = String(captured.files.get(SEASON));
  return { status, out: captured.out(), err: captured.err(), season, files: captured.files };
}

/** Lines that came into the season file; fails where any other line changed. */
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

const PICK = ['pick', 'G3', 'breba', '--on', '2026-08-01', '--weights', '52.4,47'];

describe('one entry from the command line', () => {
  it('stands in the file on the line that is told, in the words of the ledger', async () => {
    const ran = await pomary([...PICK, '--split', '1', '--note', 'a # b']);
    expect(ran.status).toBe(0);
    const [line = '', ...others] = added(ran.season);
    expect(others).toEqual([]);
    expect(line).toBe(
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47], split: 1, note: "a # b" }',
    );
    const place = /^seasons\/2026\.yaml:(\d+)\n/.exec(ran.out);
    expect(ran.season.split('\n')[Number(place?.[1]) - 1]?.trim()).toBe(line);
    expect(ran.out.replaceAll(/\s+/g, ' ')).toContain(
      '1 August 2026: pick of Amber Lantern (G3), early crop (breba): 2 fruit; 52.4, 47 g, mean 49.7 g; 1 split',
    );
    expect(ran.out).toContain('G3 that day: 2 fruit, 49.7 g on average');
  });

  it.each<[readonly string[], string]>([
    [
      ['pick', 'G3', 'main', '--on', '1 Sep', '--fruit', '11', '--weight', '1.5 lb', '--bird', '2'],
      '- { on: 2026-09-01, tree: G3, crop: main, fruit: 11, weight: 1.5 lb, bird: 2 }',
    ],
    [
      ['pick', 'g3', 'main', '--on', '1.9.', '--weights', '2.1oz, 47', '--sample', 'best'],
      '- { on: 2026-09-01, tree: G3, crop: main, weights: [2.1 oz, 47], sample: best }',
    ],
    [
      ['count', 'G3', 'early', '--on', '2026-06-30', '--fruit', '20', '--branches', '8'],
      '- { on: 2026-06-30, tree: G3, crop: early, fruit: 20, branches: 8 }',
    ],
  ])('%j', async (argv, line) => {
    const ran = await pomary(argv);
    expect([ran.status, added(ran.season)]).toEqual([0, [line]]);
  });

  it.each<[readonly string[], string]>([
    [['--weights', '41,5'], '[41.5]'],
    [['--weights', '41,5 38,2'], '[41.5, 38.2]'],
    [['--weights', '41.5', '38.2'], '[41.5, 38.2]'],
    [['--weights', '41.5;38.2', '--weights', '47'], '[41.5, 38.2, 47]'],
    [['--weights', '52.4,47'], '[52.4, 47]'],
    [['--weights', '52,47,61'], '[52, 47, 61]'],
    [['--weights', '41,5g'], '[41.5]'],
  ])('weights as people type them: %j', async (weights, written) => {
    const ran = await pomary(['pick', 'G3', 'main', '--on', '1.9.', ...weights]);
    expect([ran.status, added(ran.season)]).toEqual([
      0,
      [`- { on: 2026-09-01, tree: G3, crop: main, weights: ${written} }`],
    ]);
  });

  it('weights that the shell took off their option come after a tree without its crop', async () => {
    const ran = await pomary(['pick', 'G3', '--on', '1.9.', '--weights', '41.5', '38.2']);
    expect(added(ran.season)).toEqual([
      '- { on: 2026-09-01, tree: G3, crop: main, weights: [41.5, 38.2] }',
    ]);
  });

  it('reads a comma as the ledger has it', async () => {
    const settings = SMALL_EXAMPLE['ledger.yaml'] ?? '';
    const files = { 'ledger.yaml': `${settings}decimal: comma\n` };
    const ran = await pomary(['pick', 'G3', 'main', '--on', '1.9.', '--weights', '52,47 6,5'], {
      files,
    });
    expect(added(ran.season)).toEqual([
      '- { on: 2026-09-01, tree: G3, crop: main, weights: [52.47, 6.5] }',
    ]);
  });

  it('is of today where no day is given', async () => {
    const ran = await pomary(['pick', 'G3', 'main', '--fruit', '1']);
    expect(added(ran.season)).toEqual(['- { on: 2026-11-01, tree: G3, crop: main, fruit: 1 }']);
  });

  it('a tasting joins the sitting of its day', async () => {
    const taste = ['taste', 'Y1', 'main', '--on', '2026-10-30', '--ripeness', 'ripe'];
    const score = (key: string) => [
      '--taster',
      key,
      '--score',
      'sweetness=8',
      '--score',
      'flavour=9.5',
    ];
    const first = await pomary([...taste, ...score('mara'), '--brix', '19.5', '--eye', '3']);
    expect(first.status).toBe(0);
    const second = await pomary([...taste, ...score('joss')], {
      files: { 'seasons/2026.yaml': first.season },
    });
    expect(second.status).toBe(0);
    expect(added(second.season)).toEqual([
      '- on: 2026-10-30',
      'samples:',
      '- { tree: Y1, crop: main, ripeness: ripe, brix: 19.5, eye: 3 }',
      'scores:',
      'mara: { Y1: { sweetness: 8, flavour: 9.5 } }',
      'joss: { Y1: { sweetness: 8, flavour: 9.5 } }',
    ]);
  });

  it('words of taste are given one by one, phrases and all', async () => {
    const words = ['--word', 'melon', '--word', 'wild honey'];
    const ran = await pomary([
      ...['taste', 'Y1', 'main', '--on', '2026-10-30', '--taster', 'mara', ...words],
    ]);
    expect(ran.status).toBe(0);
    expect(added(ran.season)).toEqual([
      '- on: 2026-10-30',
      'samples:',
      '- { tree: Y1, crop: main }',
      'words:',
      'mara: { Y1: [melon, wild honey] }',
    ]);
  });

  it('begins the file of a season', async () => {
    const ran = await pomary([...PICK], { files: { 'seasons/2026.yaml': 'season: 2026\n' } });
    expect(ran.season).toContain('picks:\n  - { on: 2026-08-01');
    const fresh = await pomary(['count', 'G3', 'early', '--on', '2024-07-01', '--fruit', '3']);
    expect(fresh.files.get('/trial/seasons/2024.yaml')).toContain('season: 2024\n');
  });

  it('a dry run shows the change and makes none', async () => {
    const ran = await pomary([...PICK, '--dry-run']);
    expect([ran.status, ran.season]).toEqual([0, before]);
    expect(ran.out).toMatch(/^--- a\/seasons\/2026\.yaml\n\+\+\+ b\/seasons\/2026\.yaml\n@@ /);
    expect(ran.out.match(/^[+-] .*/gm)).toEqual([
      '+  - { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47] }',
    ]);
  });

  it('passes over and tells what the ledger has already, and writes it once more if told to', async () => {
    const first = await pomary(PICK);
    const files = { 'seasons/2026.yaml': first.season };
    const second = await pomary([...PICK.slice(0, -1), '52.4 g; 47'], { files });
    expect([second.status, second.err, second.season]).toEqual([0, '', first.season]);
    expect(second.out.replaceAll(/\s+/g, ' ')).toBe(
      'seasons/2026.yaml: this is there already; nothing was written ' +
        '1 August 2026: pick of Amber Lantern (G3), early crop (breba): 2 fruit; 52.4, 47 g, mean 49.7 g ' +
        'What is true twice is written once more with --again. ',
    );
    const third = await pomary([...PICK, '--again'], { files });
    const line = '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47] }';
    expect([third.status, added(third.season)]).toEqual([0, [line, line]]);
    expect(third.err).toContain('pick-repeat');
    const unlike = await pomary([...PICK, '--split', '1'], { files });
    expect(added(unlike.season)).toHaveLength(2);
  });

  it('a mark that stands already is passed over, and another one of it is refused', async () => {
    const taste = ['taste', 'Y1', 'main', '--on', '2026-10-30', '--taster', 'mara', '--score'];
    const first = await pomary([...taste, 'sweetness=8']);
    const files = { 'seasons/2026.yaml': first.season };
    const second = await pomary([...taste, 'sweetness=8'], { files });
    expect([second.status, second.season]).toEqual([0, first.season]);
    expect(second.out).toContain('this is there already; nothing was written');
    expect(second.out).not.toContain('--again');
    const other = await pomary([...taste, 'sweetness=7'], { files });
    expect([other.status, other.season]).toEqual([1, first.season]);
    const more = await pomary([...taste, 'flavour=7'], { files });
    expect(added(more.season)).toContain('mara: { Y1: { sweetness: 8, flavour: 7 } }');
  });

  it.each<[readonly string[], string]>([
    [['pick', 'G9', 'early', '--fruit', '1'], 'G9 is no tree of this ledger'],
    [['pick', 'G3', 'brebba', '--fruit', '1'], 'did you mean breba?'],
    [['pick', 'G3', 'early'], 'neither fruit nor weights'],
    [['pick', 'G3', 'early', '--weights', '52.4,,47'], 'found 52.4,,47'],
    [['pick', 'G3', 'early', '--weights', 'note'], 'write weights'],
    [['pick', 'G3', 'early', '--weights', '52,47'], 'is 52,47 52.47, or 52 and 47?'],
    [['pick', 'G3', 'early', '--fruit', '2', '--weight', '1 234'], 'write a number'],
    [['pick', 'G3', 'early', '52.4', '47'], 'weights follow --weights, as in --weights "52.4 47"'],
    [['pick', 'G3', 'early', '--weights', '52.4', 'x'], 'pick does not know what x is'],
    [['pick', 'G3', 'early', '--fruit', '-1'], 'write a whole number, 0 or more.'],
    [['pick', 'G3', 'early', '--fruit', '3', '--split', '4'], 'more than the 3 picked'],
    [['pick', 'G3', 'early', '--fruit', '1', '--on', '31 Jun'], 'there is no such day'],
    [['pick', 'G3', 'early', '--fruit', '1', '--on', '5/6'], '5 June 2026 or 6 May 2026'],
    [['pick', 'G3 early', '--fruit', '1'], 'this must be one word'],
    [['pick', 'G3', 'early', '--fruit', '1', '--note', ' '], '--note needs a text'],
    [['pick', 'Y1', '--fruit', '1', '--on', '2026-01-05'], 'which crop of Y1'],
    [['count', 'G3', 'early'], '--fruit <n> is missing'],
    [['taste', 'G3', 'early', '--taster', 'mara', '--score', 'sweetness'], 'as in sweetness=8'],
    [
      ['taste', 'G3', 'early', '--taster', 'mara', '--score', 'swetness=8'],
      'did you mean sweetness?',
    ],
    [['taste', 'G3', 'early', '--taster', 'mara', '--score', 'sweetness=11'], 'from 1 to 10'],
    [['taste', 'G3', 'early', '--score', 'sweetness=8'], 'whose scores are these? Type joss or'],
    [
      ['taste', 'G3', 'early', '--taster', 'bob', '--score', 'sweetness=8'],
      '--taster bob: no such taster; ledger.yaml names',
    ],
    [['taste', 'G3', 'early', '--taster', 'marra', '--score', 'sweetness=8'], 'did you mean mara?'],
  ])('%j is a wrong command line', async (argv, said) => {
    const ran = await pomary(argv);
    expect([ran.status, ran.out, ran.season]).toEqual([2, '', before]);
    expect(ran.err).toContain(said);
  });

  it('what cannot be right is refused and handed back; what is odd is written and told', async () => {
    const early = await pomary(['pick', 'Y1', 'main', '--on', '2019-09-01', '--fruit', '1']);
    expect([early.status, early.season, early.out]).toEqual([1, before, '']);
    expect(early.files.has('/trial/seasons/2019.yaml')).toBe(false);
    expect(early.err).toContain('error entry-before-tree');
    expect(early.err).toContain('Nothing was written. The entry:\npicks:\n  - { on: 2019-09-01');
    const heavy = await pomary(['pick', 'G3', 'early', '--on', '2026-08-01', '--weights', '524']);
    expect([heavy.status, added(heavy.season).length]).toEqual([0, 1]);
    expect(heavy.err).toContain('warning fruit-weight-unlikely');
  });

  it('an error that is there already does not keep anyone from writing', async () => {
    const wrong = `${before}  - { on: 2026-10-30, tree: Q, kind: prune }\n`;
    const ran = await pomary(PICK, { files: { 'seasons/2026.yaml': wrong } });
    expect([ran.status, ran.err]).toEqual([0, '']);
    const broken = await pomary(PICK, { files: { 'seasons/2026.yaml': 'season: [' } });
    expect([broken.status, broken.season]).toEqual([1, 'season: [']);
    expect(broken.err).toContain(
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47] }',
    );
    const lost = await pomary(PICK, { files: { 'ledger.yaml': 'title: [' } });
    expect(lost.status).toBe(1);
    expect(lost.err).toContain('before ledger.yaml is mended');
  });

  it('a disk that does not play along ends with status 3 and the entry printed back', async () => {
    const storeFault = new StoreFault(SEASON, 'ENOSPC', 'the disk is full', 'make room');
    const ran = await pomary(PICK, { storeFault });
    expect([ran.status, ran.out, ran.season]).toEqual([3, '', before]);
    expect(ran.err).toContain('cannot write seasons/2026.yaml: the disk is full; make room\n');
    expect(ran.err).toContain('- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47] }');
  });
});

describe('lines from a file or a pipe', () => {
  const GOOD = 'on 1 Aug\npick G3 early 52.4 47 # from the scale\n55.1\n\ndrop Y1 main 2\n';
  const BAD =
    'on 1 Aug\npick G3 early 52.4\npick G9 early 50\n55.1 49.8\npick G7 main 52,40\npick Y1 main 30\n';

  it('are written all at once, with weights that follow', async () => {
    for (const world of [{ stdin: GOOD }, { files: { 'evening.txt': GOOD } }]) {
      const ran = await pomary(['enter', 'stdin' in world ? '-' : 'evening.txt'], world);
      expect([ran.status, ran.err]).toEqual([0, '']);
      expect(added(ran.season)).toEqual([
        '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4, 47, 55.1] }',
        '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }',
      ]);
      expect(ran.out).toMatch(/2 entries written\.\n$/);
    }
    const first = await pomary(['enter', '--on', '1 Aug'], { stdin: 'drop Y1 main 2\n' });
    expect(added(first.season)).toEqual(['- { on: 2026-08-01, tree: Y1, crop: main, fruit: 2 }']);
  });

  it('may end with done, as at a terminal, and with nothing after it', async () => {
    const ended = await pomary(['enter'], { stdin: `${GOOD}done\n\n` });
    expect([ended.status, ended.err]).toEqual([0, '']);
    expect(added(ended.season)).toHaveLength(2);
    const early = await pomary(['enter'], { stdin: `done\n${GOOD}` });
    expect([early.status, early.season]).toEqual([1, before]);
    expect(early.err).toContain('done is no beginning of a line');
  });

  it('are passed over where the ledger has them already, told, and written on asking', async () => {
    const twice = `${GOOD}drop Y1 main 2\n`;
    const first = await pomary(['enter'], { stdin: twice });
    expect(added(first.season)).toHaveLength(3);
    const files = Object.fromEntries(
      [...first.files].map(([path, text]) => [path.slice('/trial/'.length), text]),
    );
    const again = await pomary(['enter'], { files, stdin: twice });
    expect([again.status, again.err, again.season]).toEqual([0, '', first.season]);
    expect(again.out).toBe(
      [
        'seasons/2026.yaml: 3 entries are there already and passed over (lines 2, 3, 5,',
        '6)',
        '  on 2026-08-01',
        '  pick G3 early 52.4 47 # from the scale',
        '  55.1',
        '  drop Y1 main 2',
        '  drop Y1 main 2',
        'What is true twice is written once more with --again.',
        'Nothing new to write.\n',
      ].join('\n'),
    );
    const third = await pomary(['enter'], { files, stdin: `${twice}drop Y1 main 2\n` });
    expect(third.out).toMatch(/1 entry written\.\n$/);
    expect(added(third.season)).toHaveLength(4);
    const asked = await pomary(['enter', '--again'], { files, stdin: GOOD });
    expect(added(asked.season)).toHaveLength(5);
    expect(asked.out).not.toContain('passed over');
  });

  it('of a day that is still to come are doubted and written', async () => {
    const ran = await pomary(['enter', 'evening.txt'], {
      files: { 'evening.txt': 'on 2026-12-30 frost -2\non 2026-12-31 frost -2\n' },
      today: '2026-12-30',
    });
    expect(ran.status).toBe(0);
    expect(ran.err).toContain('evening.txt:2:1 warning day-ahead\n  2026-12-31 is still to come\n');
    expect(ran.err).not.toContain('evening.txt:1:1 warning');
    expect(added(ran.season)).toContain('- { on: 2026-12-31, kind: frost, low: -2 }');
  });

  it('are passed over to the letter alone', async () => {
    const { files: written } = await pomary(['enter'], { stdin: GOOD });
    const files = Object.fromEntries(
      [...written].map(([path, text]) => [path.slice('/trial/'.length), text]),
    );
    for (const line of ['drop Y1 main 2 note wind', 'drop Y1 main 3', 'on 2 Aug drop Y1 main 2']) {
      const ran = await pomary(['enter', '--on', '1 Aug'], { files, stdin: line });
      expect(ran.out, line).toMatch(/1 entry written\.\n$/);
    }
  });

  it('for a season that cannot be read are handed back, and the slip is shown where it stands', async () => {
    const broken = before.replace('weights: [', 'weights: [[');
    const files = { 'seasons/2026.yaml': broken, 'evening.txt': GOOD };
    const ran = await pomary(['enter', 'evening.txt', '--keep-good'], { files });
    expect([ran.status, ran.season]).toEqual([1, broken]);
    const places = ran.err.match(/^\S+:\d+:\d+ \w+ \S+/gm) ?? [];
    expect(places.filter((one) => !one.startsWith('seasons/2026.yaml:'))).toEqual([]);
    expect(new Set(places).size).toBe(places.length);
    expect(
      ran.err.replaceAll(/\s+/g, ' ').match(/the rest of this file is checked after that/g),
    ).toHaveLength(1);
    expect(ran.err).toMatch(/These lines were not written:\non 2026-08-01\npick G3/);
  });

  it('with anything wrong none is written, and every place is shown', async () => {
    const ran = await pomary(['enter', 'evening.txt'], { files: { 'evening.txt': BAD } });
    expect([ran.status, ran.out, ran.season]).toEqual([1, '', before]);
    expect(ran.err.match(/^\S+:\d+:\d+ \w+ \S+/gm)).toEqual([
      'evening.txt:3:6 error line-not-understood',
      'evening.txt:4:1 error line-not-understood',
      'evening.txt:5:14 error line-unclear',
    ]);
    expect(ran.err).toContain('  > 3 | pick G9 early 50\n      |      ^^\n');
    expect(ran.err).toContain('try: type 52.40 or 52 40');
    expect(ran.err).toMatch(/Nothing was written\.\n$/);
  });

  it('good ones can be kept; the others come back so that they can be typed again', async () => {
    const ran = await pomary(['enter', '--keep-good'], { stdin: BAD });
    expect(ran.status).toBe(1);
    expect(added(ran.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [52.4] }',
      '- { on: 2026-08-01, tree: Y1, crop: main, weights: [30] }',
    ]);
    expect(ran.err).toMatch(
      /These lines were not written:\non 2026-08-01\npick G9 early 50\n55\.1 49\.8\npick G7 main 52,40\n$/,
    );
  });

  it('nothing leans on a date that was not understood', async () => {
    const stdin = 'on 31 Jun\npick G3 early 50\non 1 Aug\npick G3 early 40\n';
    const ran = await pomary(['enter', '--keep-good'], { stdin });
    expect(added(ran.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [40] }',
    ]);
    expect(ran.err).toContain('of which day?');
    expect(ran.err).toMatch(/not written:\non 31 Jun\npick G3 early 50\n$/);
    const between = 'on 1 Aug\npick G9 early 1\non 31 Jun\non 1 Aug\npick G9 early 2\n';
    const back = await pomary(['enter', '--keep-good'], { stdin: between });
    expect(back.err).toMatch(
      /on 2026-08-01\npick G9 early 1\non 31 Jun\non 2026-08-01\npick G9 early 2\n$/,
    );
  });

  it.each(['31 Jun', '24 Juli', '24.7.', '24/7', '2026-07-32', 'Friday 24 July', 'yesteday'])(
    'nor on one that stands alone: %s',
    async (date) => {
      const stdin = `on 1 Aug\n${date}\npick G3 early 50\n2 Aug\npick G3 early 40\n`;
      const ran = await pomary(['enter', '--keep-good'], { stdin });
      expect(added(ran.season)).toEqual([
        '- { on: 2026-08-02, tree: G3, crop: early, weights: [40] }',
      ]);
      expect(ran.err).toMatch(/not written:\n.*\npick G3 early 50\n$/);
    },
  );

  it('weights and names that were not understood leave the date as it is', async () => {
    const stdin = 'on 1 Aug\nG9 early 50\nMarigold early 50\n52..4\npick G3 early 40\n';
    const ran = await pomary(['enter', '--keep-good'], { stdin });
    expect(added(ran.season)).toEqual([
      '- { on: 2026-08-01, tree: G3, crop: early, weights: [40] }',
    ]);
  });

  it('a date with its year stands alone', async () => {
    const stdin = '24.7.2026\npick G3 early 50\n25/7/2026\npick G3 early 40\n';
    expect(added((await pomary(['enter'], { stdin })).season)).toEqual([
      '- { on: 2026-07-24, tree: G3, crop: early, weights: [50] }',
      '- { on: 2026-07-25, tree: G3, crop: early, weights: [40] }',
    ]);
  });

  it('what the rules refuse is shown at its line, and only that is left out', async () => {
    const stdin = 'on 1 Sep 2019\npick Y1 main 30\non 1 Aug 2026\npick G3 early 40\n';
    const none = await pomary(['enter'], { stdin });
    expect([none.status, none.season]).toEqual([1, before]);
    expect(none.err).toContain('standard input:2:1 error entry-before-tree');
    const some = await pomary(['enter', '--keep-good'], { stdin });
    expect([some.status, added(some.season).length]).toEqual([1, 1]);
    expect(some.files.has('/trial/seasons/2019.yaml')).toBe(false);
  });

  it('two scores for one thing are refused, not merged', async () => {
    const stdin = 'on 30 Oct\ntaste Y1 main mara sweetness 8\ntaste Y1 main mara sweetness 7\n';
    const ran = await pomary(['enter'], { stdin });
    expect([ran.status, ran.season]).toEqual([1, before]);
    expect(ran.err).toContain('standard input:3:1 error sitting-conflict');
  });

  it('a dry run shows the change of every file', async () => {
    const stdin = 'on 1 Aug 2026\npick G3 early 50\non 1 Aug 2025\npick G3 early 40\n';
    const ran = await pomary(['enter', '--dry-run'], { stdin });
    expect([ran.status, ran.season]).toEqual([0, before]);
    expect(ran.out.match(/^\+\+\+ .*/gm)).toEqual([
      '+++ b/seasons/2025.yaml',
      '+++ b/seasons/2026.yaml',
    ]);
  });

  it('nothing to write is no fault', async () => {
    expect(await pomary(['enter'], { stdin: '' })).toMatchObject({ status: 0, season: before });
    expect(await pomary(['enter'], { stdin: '# rain\n' })).toMatchObject({ status: 0, err: '' });
  });

  it.each<[readonly string[], number, string]>([
    [['enter', 'nothere.txt'], 3, 'it does not exist'],
    [['enter', 'seasons'], 3, 'it is a folder, not a file'],
    [['enter', '--at-once'], 2, '--at-once is for typing at a terminal'],
    [['enter', '--on', 'soon'], 2, '--on soon is no date'],
    [['enter', '--on', '5/6'], 2, 'may be 2026-06-05 or 2026-05-06'],
  ])('%j ends with status %i', async (argv, status, said) => {
    const ran = await pomary(argv, { stdin: 'drop Y1 main 2' });
    expect([ran.status, ran.season]).toEqual([status, before]);
    expect(ran.err).toContain(said);
  });

  it('a full disk hands back every entry and every faulty line', async () => {
    const storeFault = new StoreFault(SEASON, 'ENOSPC', 'the disk is full', 'make room');
    const ran = await pomary(['enter', '--keep-good'], { stdin: BAD, storeFault });
    expect(ran.status).toBe(3);
    for (const said of ['weights: [52.4]', 'weights: [30]', 'pick G9 early 50', '55.1 49.8']) {
      expect(ran.err).toContain(said);
    }
  });
});

describe('a tree that is there no longer', () => {
  it('is told and stands in trees.yaml, every other byte as it was', async () => {
    const trees = SMALL_EXAMPLE['trees.yaml'] ?? '';
    const ran = await pomary(['enter'], { stdin: 'on 2026-10-20\nremove G3\n' });
    expect(ran.status, ran.err).toBe(0);
    expect(ran.out).toContain('Amber Lantern (G3) is there no longer');
    const now = String(ran.files.get('/trial/trees.yaml'));
    expect(now).toContain('removed: 2026-10-20');
    expect(now.replace(/, removed: 2026-10-20|\n +removed: 2026-10-20/, '')).toBe(trees);
  });
});
