import { describe, expect, it } from 'vitest';
import { day, entryLedger } from '../../../tests/support/entry-ledger.ts';
import { beginSession, readLine } from './read-line.ts';

const ledger = entryLedger();
const on = '2026-07-24';
const read = (line: string, known = ledger) => readLine(line, beginSession(day(on)), known);

function entry(line: string, known = ledger) {
  const { slips, questions, entries } = read(line, known);
  expect([slips, questions], line).toEqual([[], []]);
  return entries[0]?.entry;
}
const slips = (line: string, known = ledger) =>
  read(line, known).slips.map(({ message }) => message);
const questions = (line: string, known = ledger) =>
  read(line, known).questions.map(({ message, answers }) => [
    message,
    answers.map(({ text }) => text),
  ]);

const marks = (sweetness: number, flavour: number, texture: number) => ({
  sweetness,
  flavour,
  texture,
});

describe('a plate in a line', () => {
  it('takes marks in the order of the traits, taster by taster', () => {
    const wanted = {
      on,
      samples: [{ tree: 'G3', crop: 'early' }],
      scores: { mara: { G3: marks(8, 9, 7) }, joss: { G3: marks(6, 7, 6.5) } },
    };
    for (const line of [
      'taste G3 early: mara 8 9 7, joss 6 7 6.5',
      'taste g3 breba Mara: 8 9 7 Joss: 6 7 6½',
      'taste G3 early: mara 8, 9, 7, joss 6, 7, 6.5',
      'taste G3 early mara sw 8 fl 9 te 7, joss 6 7 6,5',
      'taste G3 early: mara sweetness=8 flavour=9 texture=7, joss s: 6 f: 7 t: 6.5',
    ]) {
      expect(entry(line), line).toEqual(wanted);
    }
  });

  it('leaves out a mark that is not given, and asks where one is missing', () => {
    expect(entry('taste G3 early: mara 8 - 7')).toMatchObject({
      scores: { mara: { G3: { sweetness: 8, texture: 7 } } },
    });
    expect(questions('taste G3 early: mara 8 9')).toEqual([
      ['Mara: sweetness 8, flavour 9; and no mark for texture?', [' -']],
    ]);
    expect(slips('taste G3 early: mara 8 9 7 6')).toEqual([
      'Mara gives 4 marks, but there are 3 traits: sweetness, flavour, texture',
    ]);
    expect(slips('taste G3 early: mara 8 9 70')).toEqual([
      '70 is off the scale, which runs from 1 to 10',
    ]);
    expect(slips('taste G3 early: mara, joss 7 7 7')).toEqual(['no marks and no words of Mara']);
    expect(slips('taste G3 early: mara 8 9 7, 6 7 6')).toEqual([
      'Mara gives 6 marks, but there are 3 traits: sweetness, flavour, texture',
    ]);
    expect(read('taste G3 early: mara 8 9 7; joss 7 7 7').slips).toMatchObject([
      { message: '7; is no mark', advice: expect.stringContaining('a comma parts tasters') },
    ]);
  });

  it('reads a decimal comma where only that can be meant, and asks where two marks can', () => {
    expect(entry('taste G3 early: mara 8 9 7,5')).toMatchObject({
      scores: { mara: { G3: marks(8, 9, 7.5) } },
    });
    expect(entry('taste G3 early: mara 7,5 8,5 6,5')).toMatchObject({
      scores: { mara: { G3: marks(7.5, 8.5, 6.5) } },
    });
    expect(questions('taste G3 early: mara 8 9,7')).toEqual([
      ['which marks does Mara give with 8 9,7?', ['8 9.7', '8 9 7']],
    ]);
  });

  it('names those who are no tasters, and the marks after them go to nobody', () => {
    expect(read('taste G3 early: mara 8 9 7, kid 6 7 8').slips).toMatchObject([
      {
        message: 'kid is neither a taster nor a trait of this ledger',
        advice: 'list a new one first, as in taster kid kid',
      },
    ]);
  });

  it('goes by a code that was served that day, or by a cultivar', () => {
    const line = 'on 20 Jul taste 417: joss 8 9 7 words melon';
    expect(entry(line)).toEqual({
      on: '2026-07-20',
      samples: [{ tree: 'G3', crop: 'early', as: '417' }],
      scores: { joss: { 417: marks(8, 9, 7) } },
      words: { joss: { 417: ['melon'] } },
    });
    expect(read('taste 417: joss 8 9 7').slips).toMatchObject([
      {
        message: '417 is neither a tree nor a code of that day',
        advice: 'say once what the code stands for, as in taste G3 main as 417',
      },
    ]);
    for (const name of ['Yarrow Bell', '"yarrow bell"', 'yarrow', 'yarrow-bell']) {
      expect(entry(`taste ${name} main: mara 5 5 5`), name).toMatchObject({
        samples: [{ tree: 'Y1', crop: 'main' }],
      });
    }
    expect(questions('taste Amber Lantern early: mara 5 5 5')).toEqual([
      ['Amber Lantern has 2 trees: G3, G4; which one?', ['G3', 'G4']],
    ]);
  });

  it('a code that is a tree of another plate is not guessed at', () => {
    const known = entryLedger({
      'seasons/2026.yaml': `season: 2026
tastings:
  - on: 2026-07-24
    samples:
      - { tree: G3, crop: early, as: Y1 }
`,
    });
    expect(slips('taste Y1: mara 5 5 5', known)).toEqual([
      'Y1 is a tree, and the code of a plate of G3 that day',
    ]);
  });
});

describe('a date alone on a line', () => {
  it.each([
    ['2026-07-20', '2026-07-20'],
    ['20 Jul', '2026-07-20'],
    ['July 20th', '2026-07-20'],
    ['20 jul 2025', '2025-07-20'],
    ['yesterday', '2026-07-23'],
    ['3 days ago', '2026-07-21'],
    ['last Friday', '2026-07-17'],
  ])('%s is that of what follows', (line, date) => {
    const { session, slips, questions: asked } = read(line);
    expect([session.date, slips, asked]).toEqual([date, [], []]);
  });

  it('is no date where it may be a weight, or where more stands behind it', () => {
    for (const line of ['24.7', '24/7', '20 Jul G3', 'yesterday G3 early 41']) {
      expect(read(line).session.date, line).toBe(on);
      expect(read(line).slips.length, line).toBeGreaterThan(0);
    }
  });

  it('says that there is no such day', () => {
    expect(read('31 Jun').slips.map(({ message }) => message)).toEqual([
      'there is no such day as 31 Jun',
    ]);
  });

  it('gives way to a tree of that name', () => {
    const known = entryLedger({
      'trees.yaml':
        'friday: { cultivar: amber, site: glass }\nG3: { cultivar: amber, site: glass }\nY1: { cultivar: yarrow, site: yard }\n',
    });
    expect(read('friday', known).session.date).toBe(on);
  });
});

describe('a pick without the verb', () => {
  it('is what a line is that begins with a tree', () => {
    const wanted = { on, tree: 'G3', crop: 'early', weights: [41.5, 38.2, 44], split: 1 };
    for (const line of [
      'G3 early 41,5 38.2 44 split 1',
      'g3 breba 41.5 38.2 44 1 split',
      'G3 early: 41.5 38.2 44 1 split',
      'pick G3 early 41.5 38.2 44 split 1',
    ]) {
      expect(entry(line), line).toEqual(wanted);
    }
    expect(entry('Yarrow Bell main 40 41')).toMatchObject({ tree: 'Y1', weights: [40, 41] });
  });

  it('takes spoiled fruit before or behind their word', () => {
    expect(entry('G3 early 41 38 44 2 split 1 bird')).toMatchObject({
      weights: [41, 38, 44],
      split: 2,
      bird: 1,
    });
    expect(entry('G3 early 41 38 44 split 2 bird 1')).toMatchObject({
      weights: [41, 38, 44],
      split: 2,
      bird: 1,
    });
    expect(entry('G3 early fruit 11 weight 580 2 bird')).toMatchObject({ fruit: 11, bird: 2 });
    expect(slips('G3 early fruit 11 weight 580 g 52')).toEqual([
      'weight takes one number; found a second, 52',
    ]);
    expect(questions('G3 early 41 38 44 split')).toEqual([
      [
        'is 44 split a number of fruit, or a fruit of that weight that was split?',
        ['split 44', '44 split 1'],
      ],
    ]);
  });

  it('is a count where fruit and branches can only be that', () => {
    const counted = entry('count G3 early 12 on 9');
    for (const line of ['G3 early 12 on 9', 'G3 early 12/9', 'G3 early 12 fruit on 9 branches']) {
      expect(entry(line), line).toEqual(counted);
    }
    expect(entry('G3 early 12 on 9 note windy')).toMatchObject({ branches: 9, note: 'windy' });
  });

  it('of a tree that is not listed says so, and how to list it', () => {
    for (const line of ['T9 main 41 38', 'T9 30/8', 'count T9 main 30/8', 'Wall main 41']) {
      const [first] = read(line).slips;
      expect(first, line).toMatchObject({
        message: `${/T9|Wall/.exec(line)} is no tree of this ledger`,
        advice: `list it first, as in tree ${/T9|Wall/.exec(line)} "Paper Lamp"`,
      });
    }
    expect(read('pik G3 early 41').slips).toMatchObject([{ advice: 'did you mean pick?' }]);
  });

  it('takes the number of fruit before or behind its word', () => {
    expect(entry('G3 early 12 fruit')).toMatchObject({ fruit: 12 });
    // Was 420 fruit, one of 9 g.
    expect(questions('G3 early 9 fruit 420')).toEqual([
      ['is 9 in 9 fruit 420 the number of fruit, or a weight?', ['fruit 9 420', 'fruit 420 9']],
    ]);
    expect(questions('G3 early 9 fruit 420 g')).toEqual(questions('G3 early fruit 9 420 g'));
    expect(questions('G3 early 9 fruit 420.5')).toEqual(questions('G3 early fruit 9 420.5'));
    expect(entry('G3 early 12 fruit weight 580 split 1')).toMatchObject({ fruit: 12, weight: 580 });
    expect(entry('G3 early 41 38 fruit 12')).toMatchObject({ fruit: 12, weights: [41, 38] });
  });

  it('takes pounds and ounces for one weight', () => {
    // Was a fruit of 2 oz beside a pound for all of them.
    for (const [typed, weight] of [
      ['1 lb 2 oz', '1 lb 2 oz'],
      ['1lb 2oz', '1 lb 2oz'],
      ['2 lbs 0.5 oz', '2 lbs 0.5 oz'],
    ] as const) {
      const picked = entry(`G3 early fruit 33 weight ${typed} split 1`);
      expect(picked, typed).toMatchObject({ fruit: 33, weight, split: 1 });
      expect(picked, typed).not.toHaveProperty('weights');
    }
    expect(entry('height G3 5 ft 3 in')).toMatchObject({ height: '5 ft 3 in' });
    expect(slips('G3 early fruit 33 weight 1 lb 2')).toEqual([
      'weight takes one number; found a second, 2',
    ]);
  });

  it('asks where a tree has a number for a name', () => {
    const known = entryLedger({
      'trees.yaml':
        '"7": { cultivar: amber, site: glass }\nG3: { cultivar: amber, site: glass }\nY1: { cultivar: yarrow, site: yard }\n',
    });
    expect(questions('7 52 47', known)).toEqual([
      ['is 7 the tree, or a weight for the pick before?', ['pick 7', '7g']],
    ]);
    expect(entry('pick 7 early 52 47', known)).toMatchObject({ tree: '7', weights: [52, 47] });
  });
});

it('counts say fruit and branches in any of the usual ways', () => {
  for (const line of [
    'count G3 early 20 on 6',
    'count G3 early 20/6',
    'G3 early 20/6',
    'count G3 early 20 on 6 branches',
    'count G3 early 20 fruit on 6 branches',
    'count G3 early 20 6 branches',
    'count G3 early 20 fruit 6 branches',
    'count G3 early: 20 branches 6',
  ]) {
    expect(entry(line), line).toEqual({ on, tree: 'G3', crop: 'early', fruit: 20, branches: 6 });
  }
  expect(slips('count G3 early 20/0')).toEqual(['there must be a branch to count on']);
});

it('a lone number of a frost is how low it went', () => {
  expect(entry('frost -2')).toEqual({ on, kind: 'frost', low: -2 });
  expect(entry('frost yard -2,5')).toEqual({ on, site: 'yard', kind: 'frost', low: -2.5 });
});

describe('a part of a line alone', () => {
  it('is told where it belongs', () => {
    for (const line of ['note windy', 'bears common', 'split 1', 'photo photos/a.jpg']) {
      expect(slips(line), line).toEqual([
        `${line.split(' ')[0]} belongs on the line of what it is about`,
      ]);
    }
  });
});

describe('an order', () => {
  it('without signs is one slip, and commas stand beside them', () => {
    expect(slips('order early mara G3 G4 Y1')).toEqual(['there is no > or = between G3 and G4']);
    expect(slips('order early mara G3, G4, Y1')).toEqual(['there is no > or = between G3 and G4']);
  });
});

describe('places', () => {
  it('go by their names, and by a word for what is overhead where one place has it', () => {
    const site = (line: string) => (entry(line) as { site?: string } | undefined)?.site;
    expect(site('spray greenhouse soap wait 3')).toBe('glass');
    expect(site('feed "south wall" seaweed')).toBe('yard');
    expect(site('feed south wall seaweed')).toBe('yard');
    expect(site('water outdoors')).toBe('yard');
    expect(entry('move P2 greenhouse')).toMatchObject({ kind: 'move', site: 'glass' });
  });

  it('are asked about where two have it', () => {
    const known = entryLedger({
      'ledger.yaml': `title: T
fruit: fig
traits: [flavour]
tasters: { mara: Mara }
crops: { early: breba, main: main }
sites:
  glass: { name: old house, cover: glass }
  lean: { name: lean-to, cover: glass }
  yard: { name: south wall, cover: open }
`,
    });
    expect(questions('spray greenhouse soap wait 3', known)).toEqual([
      ['greenhouse may be 2 sites; which one?', ['glass', 'lean']],
    ]);
  });
});

describe('days', () => {
  const date = (line: string, known = ledger) => read(line, known).session.date;
  it('may be weekdays, or so many days ago', () => {
    // 24 July 2026 is a Friday: 1 January 2026 was a Thursday (ISO 8601), 204 days before.
    expect(date('on Friday')).toBe('2026-07-24');
    expect(date('on last Friday')).toBe('2026-07-17');
    expect(date('on sat')).toBe('2026-07-18');
    expect(date('on 3 days ago')).toBe('2026-07-21');
    expect(date('on a week ago')).toBe('2026-07-17');
    expect(date('on two weeks ago')).toBe('2026-07-10');
  });

  it('with a stroke are asked about once: the answer is kept in the ledger', () => {
    const [question] = read('on 5/6').questions;
    expect(question?.answers).toEqual([
      { label: '5 June 2026', text: '2026-06-05', before: 'dates day-first' },
      { label: '6 May 2026', text: '2026-05-06', before: 'dates month-first' },
    ]);
    expect(read('dates day-first').entries).toEqual([
      { section: 'settings', key: 'dates', entry: 'day-first' },
    ]);
    const trial = ledger.files.get('ledger.yaml')?.text ?? expect.fail();
    const known = (order: string) => entryLedger({ 'ledger.yaml': `${trial}dates: ${order}\n` });
    expect(date('on 5/6', known('day-first'))).toBe('2026-06-05');
    expect(date('on 5/6', known('month-first'))).toBe('2026-05-06');
    // Only a month can be 5 here, whoever comes first.
    expect(date('on 5/16', known('day-first'))).toBe('2026-05-16');
    expect(slips('dates month-first', known('day-first'))).toEqual([
      'ledger.yaml says dates: day-first',
    ]);
  });
});

describe('what is told of a tree behind the tree', () => {
  it.each([
    ['G3 early count 21/8', 'count G3 early 21/8'],
    ['G3 count early 21 fruit 8 branches', 'count G3 early 21 on 8'],
    ['G3 early drop 2', 'drop G3 early 2'],
    ['G3 early pick 52.4 47', 'pick G3 early 52.4 47'],
    ['G3 girth 14.2', 'girth G3 14.2'],
    ['P2 move yard', 'move P2 yard'],
    ['G3 early taste mara 8 9 7', 'taste G3 early mara 8 9 7'],
    ['G3 early: mara 8 9 7, joss 6 7 6', 'taste G3 early: mara 8 9 7, joss 6 7 6'],
    ['G3 early mara sweetness 8', 'taste G3 early mara sweetness 8'],
  ])('%s', (line, usual) => {
    expect(entry(line)).toEqual(entry(usual));
  });

  it('leaves a taster in a note of a pick alone', () => {
    expect(entry('G3 early 52 48 note mara took two')).toMatchObject({
      weights: [52, 48],
      note: 'mara took two',
    });
  });

  it('says where the tree stands in a line of marks', () => {
    expect(slips('mara G3 early 8 9 7')).toEqual(['mara is a taster, and marks are of a plate']);
  });
});

it('tells all words that could be anything in one slip', () => {
  const told = read('G3 early 52 zzz qqq xyzzy').slips;
  expect(told.map(({ message, start, end }) => [message, start, end])).toEqual([
    ['zzz, qqq and xyzzy are not understood in pick', 12, 15],
  ]);
});
