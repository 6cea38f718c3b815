import { expect, test } from 'vitest';
import { day, entryLedger } from '../../../tests/support/entry-ledger.ts';
import { isSeasonEntry } from '../listing.ts';
import { placeEntries } from '../place-entries.ts';
import { completions } from './completions.ts';
import { SHORTHAND, shorthandHelp } from './help.ts';
import { beginSession, readLine } from './read-line.ts';

const ledger = entryLedger();
const start = beginSession(day('2026-07-24'));
const read = (line: string, session = start) => readLine(line, session, ledger);
const entry = (line: string) => {
  const result = read(line);
  expect({ slips: result.slips, questions: result.questions }).toEqual({
    slips: [],
    questions: [],
  });
  return result.entries[0]?.entry;
};
const slips = (line: string) =>
  read(line).slips.map(({ start, end, message, advice }) => [
    line.slice(start, end),
    message,
    advice,
  ]);
const questions = (line: string) =>
  read(line).questions.map(({ message, answers }) => [message, answers.map(({ text }) => text)]);
const on = '2026-07-24';

test('every example of the help is understood and can be placed', () => {
  let session = start;
  for (const { example } of SHORTHAND) {
    const result = readLine(example, session, ledger);
    expect([example, result.slips, result.questions]).toEqual([example, [], []]);
    expect(result.understood.length, example).toBeGreaterThan(0);
    const { file } = ledger.seasons[0]?.at ?? {};
    if (file === undefined) throw new Error('the ledger has no season');
    expect(placeEntries(file, result.entries.filter(isSeasonEntry)).kind, example).toBe('placed');
    session = result.session;
  }
  for (const { pattern } of SHORTHAND) expect(shorthandHelp()).toContain(pattern);
});

test('picks: weights, defects, units and notes', () => {
  expect(entry('pick G3 early 52.4 47 61.3 split 1')).toEqual({
    on,
    tree: 'G3',
    crop: 'early',
    weights: [52.4, 47, 61.3],
    split: 1,
  });
  expect(entry('pick g3 breba fruit 11 weight 580 g bird 2 note wet # week: 3')).toEqual({
    on,
    tree: 'G3',
    crop: 'early',
    fruit: 11,
    weight: 580,
    bird: 2,
    note: 'wet # week: 3',
  });
  expect(
    entry('pick G3 2.1oz 47, 52,4 main best # in the rain'.replace(' best', ' sample best')),
  ).toEqual({
    on,
    tree: 'G3',
    crop: 'main',
    weights: ['2.1 oz', 47, 52.4],
    sample: 'best',
  });
  expect(entry('on yesterday pick yarrow early 3 lb')).toEqual({
    on: '2026-07-23',
    tree: 'Y1',
    crop: 'early',
    weights: ['3 lb'],
  });
});

test('a line of weights adds to the pick before it', () => {
  const first = read('pick G3 early 52.4 split 1');
  const second = read('47 61.3 split 1', first.session);
  expect(second.replaced).toBe(first.entries[0]);
  expect(second.session.entries).toEqual([
    {
      section: 'picks',
      entry: { on, tree: 'G3', crop: 'early', weights: [52.4, 47, 61.3], split: 2 },
    },
  ]);
  expect(second.understood.at(-1)).toBe('G3 that day: 5 fruit, 54.1 g on average');
  expect(slips('47')).toEqual([
    ['47', 'weights of which tree?', 'begin with pick and the tree, as in pick G3 early 52.4'],
  ]);
});

test('a crop is understood where only one can be meant, and asked about where two can', () => {
  const sanPedro = read('pick P2 40');
  expect(sanPedro.entries[0]?.entry).toMatchObject({ crop: 'early' });
  expect(sanPedro.understood[1]).toMatch(
    /^only the early crop of Petrel can be meant: the main crop of a san-pedro/,
  );
  const near = read('pick G3 40');
  expect(near.understood[1]).toBe('the early crop is meant, as in the entry of G3 of 24 July 2026');
  expect(questions('pick Y1 40')).toEqual([
    ['which crop of Y1: breba or main?', [' early', ' main']],
  ]);
  const [question] = read('pick Y1 40').questions;
  const answered = `${`pick Y1 40`.slice(0, question?.end) + question?.answers[1]?.text} 40`;
  expect(entry(answered)).toMatchObject({ tree: 'Y1', crop: 'main', weights: [40] });
});

test('tastings: scores, samples, orders with ties', () => {
  expect(
    entry('taste G3 early mara sweetness 8 flavour 8,5 ripe brix 19.5 eye 3 note juicy'),
  ).toEqual({
    on,
    samples: [{ tree: 'G3', crop: 'early', ripeness: 'ripe', brix: 19.5, eye: 3, note: 'juicy' }],
    scores: { mara: { G3: { sweetness: 8, flavour: 8.5 } } },
  });
  expect(entry('order early mara G3>Y1 = P2 > P4')).toEqual({
    on,
    samples: ['G3', 'Y1', 'P2', 'P4'].map((tree) => ({ tree, crop: 'early' })),
    order: { mara: ['G3', ['Y1', 'P2'], 'P4'] },
  });
  expect(entry('on 20.7. order Joss 417 > Y1')).toEqual({
    on: '2026-07-20',
    samples: [
      { tree: 'G3', crop: 'early', as: '417' },
      { tree: 'Y1', crop: 'early' },
    ],
    order: { joss: ['417', 'Y1'] },
  });
  expect(questions('taste G3 early sweetness 8')).toEqual([
    ['whose scores are these?', [' joss', ' mara']],
  ]);
  expect(slips('order early mara G3 > > Y1')).toEqual([['>', 'a sample is missing here', '']]);
  expect(slips('taste G3 early mara sweetness 11')).toEqual([
    ['11', 'sweetness is 11, but the scale runs from 1 to 10', ''],
  ]);
});

test('words of taste stand one by one, in quotes, between commas, or as the ledger lists them', () => {
  const known = entryLedger({
    'ledger.yaml': `title: T
fruit: fig
traits: [flavour]
words: [melon, fresh, wild honey, fig leaf]
tasters: { mara: Mara }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
crops: { early: breba, main: main }
`,
  });
  const said = (typed: string) => {
    const read = readLine(`taste G3 early mara ${typed}`, beginSession(day(on)), known);
    expect([read.slips, read.questions], typed).toEqual([[], []]);
    const [made] = read.entries;
    return made?.section === 'tastings' ? made.entry.words?.['mara']?.['G3'] : undefined;
  };
  expect(said('words melon fresh')).toEqual(['melon', 'fresh']);
  expect(said('words Melon wild honey fresh flavour 8')).toEqual(['melon', 'wild honey', 'fresh']);
  expect(said('words green-gage "black tea", melon ripe')).toEqual([
    ...['green-gage', 'black tea', 'melon'],
  ]);
  expect(said('flavour 8 words black tea, melon, Melon')).toEqual(['black tea', 'melon']);
  expect(said('words "wild" "honey" fresh')).toEqual(['wild', 'honey', 'fresh']);
  expect(said('words fig-leaf brix 19')).toEqual(['fig leaf']);
  const doubt = readLine(
    'taste G3 early mara words melon fresh, tea',
    beginSession(day(on)),
    known,
  );
  expect(doubt.questions).toMatchObject([
    {
      message: 'is melon fresh one phrase, or are they 2 words?',
      answers: [{ text: '"melon fresh"' }, { text: 'melon, fresh' }],
    },
  ]);
  const none = readLine('taste G3 early mara words', beginSession(day(on)), known);
  expect(none.slips).toMatchObject([{ message: 'words needs a word after it' }]);
  const semicolon = 'taste G3 early mara flavour 8 words melon; tea';
  expect(readLine(semicolon, beginSession(day(on)), known)).toMatchObject({
    entries: [],
    slips: [{ message: 'melon; is no word', advice: 'a comma parts words, and tasters' }],
  });
});

test('a word for a site and for a tree is asked about', () => {
  const both = (trees: string) =>
    readLine(
      'spray May soap wait 3',
      start,
      entryLedger({
        'ledger.yaml': `title: T
fruit: fig
traits: [flavour]
tasters: { mara: Mara }
sites: { May: { name: may bed, cover: open }, yard: { name: yard, cover: open } }
crops: { early: breba, main: main }
`,
        'cultivars.yaml': 'may: { name: May, bears: common }\n',
        'trees.yaml': trees,
        'seasons/2026.yaml': 'season: 2026\n',
      }),
    );
  expect(both('M1: { cultivar: may, site: yard }\n').questions).toMatchObject([
    {
      message: 'May is a site and a tree; which one?',
      answers: [{ text: '"may bed"' }, { text: 'M1' }],
    },
  ]);
  expect(both('May: { cultivar: may, site: yard }\n')).toMatchObject({
    entries: [],
    slips: [{ message: 'May is a site and a tree' }],
  });
});

test('a quote that holds nothing together is no part of a name', () => {
  for (const line of [
    'spray yard "soft soap wait 3',
    'spray yard "soft soap"; wait 3',
    'taste G3 early mara flavour 8 words "black tea"; brix 19',
    'cultivar "Paper Lamp bears common',
    'taster ann "Ann',
  ]) {
    expect(
      slips(line).map(([, words]) => words),
      line,
    ).toEqual(['this quote holds nothing together']);
  }
  expect(entry('height G3 38"')).toMatchObject({ height: '38 "' });
});

test('events upon a tree, a site and the whole trial', () => {
  expect(entry('move P2 glass')).toEqual({ on, tree: 'P2', kind: 'move', site: 'glass' });
  expect(entry('spray yard soft soap wait 3')).toEqual({
    on,
    site: 'yard',
    kind: 'spray',
    product: 'soft soap',
    wait_days: 3,
  });
  expect(entry('spray all soap wait 3 after picks')).toEqual({
    on,
    site: 'all',
    kind: 'spray',
    product: 'soap',
    wait_days: 3,
    after: 'picks',
  });
  expect(entry('spray greenhouse soap wait 3')).toMatchObject({ site: 'glass', product: 'soap' });
  expect(slips('spray verandah soap wait 3')).toEqual([
    [
      'verandah',
      'spray needs a tree, a site or all first, and verandah is none of them',
      'sites: glass (glasshouse), yard (south wall); all is every tree, as in spray all soap wait 3',
    ],
  ]);
  expect(slips('spray wait 3').map(([, words]) => words)).toEqual([
    'spray needs a tree, a site or all first, and wait is none of them',
    'spray needs the product',
  ]);
  expect(entry('feed')).toEqual({ on, kind: 'feed' });
  const thinned = { on, tree: 'G3', kind: 'thin', fruit: 12 };
  expect(entry('thin G3 12')).toEqual(thinned);
  expect(entry('move P2 to glass')).toEqual(entry('move P2 glass'));
  expect(entry('repot P2 into 30 L')).toEqual(entry('repot P2 30 L'));
  expect(entry('thin G3 fruit 12')).toEqual(thinned);
  expect(slips('thin G3').map(([, words]) => words)).toEqual(['thin needs the number of fruit']);
  expect(slips('thin G3 3 4').map(([, words]) => words)).toEqual(['a second number of fruit: 4']);
  expect(entry('repot P2 30')).toEqual({ on, tree: 'P2', kind: 'repot', container: '30 L' });
  expect(entry('repot P2 5 US gal')).toMatchObject({ container: '5 US gal' });
  expect(entry('frost low -2.5 note all leaves')).toEqual({
    on,
    kind: 'frost',
    low: -2.5,
    note: 'all leaves',
  });
  expect(slips('spray yard soap')[0]?.[1]).toBe('spray needs the waiting time');
  expect(questions('water yrad')).toEqual([
    ['yrad is neither a tree nor a site; did you mean yard?', ['yard', 'all yrad']],
  ]);
  expect(entry('water all yrad')).toEqual({ on, kind: 'water', product: 'yrad' });
});

test('growth and counts', () => {
  expect(entry('girth G3 14,25')).toEqual({ on, tree: 'G3', girth: 14.25 });
  expect(entry('height G3 38 in girth 14.2')).toEqual({
    on,
    tree: 'G3',
    height: '38 in',
    girth: 14.2,
  });
  expect(entry('count G3 early 21 on 8')).toEqual({
    on,
    tree: 'G3',
    crop: 'early',
    fruit: 21,
    branches: 8,
  });
  expect(entry('drop G3 early 2')).toEqual({ on, tree: 'G3', crop: 'early', fruit: 2 });
  expect(slips('count G3 early')).toEqual([
    ['', 'count needs the number of fruit', 'as in count G3 early 21 on 8'],
  ]);
});

test('all slips of a line are told at once, each at its columns', () => {
  expect(slips('pick G33 early 52 splt 1 wasps 2 Rotten x bird')).toEqual([
    ['G33', 'G33 is no tree of this ledger', 'did you mean G3?'],
    ['splt', 'splt is not understood in pick', 'did you mean split?'],
    [
      'wasps',
      'wasps is not understood in pick',
      'did you mean insect? note wasps at the end keeps the word',
    ],
    [
      'Rotten',
      'Rotten is not understood in pick',
      'did you mean mould? note Rotten at the end keeps the word',
    ],
    ['x', 'x is not understood in pick', expect.stringMatching(/^here may stand: fruit, weight, /)],
    ['bird', 'bird needs a number after it', 'for example bird 3'],
  ]);
  expect(slips('pick G3 early 52 birds 1').map(([, , advice]) => advice)).toEqual([
    'did you mean bird?',
  ]);
  for (const word of ['slugs', 'squirrel', 'rats']) {
    expect(slips(`pick G3 early 52 47 ${word} 1`)[0]?.[2]).toBe(
      `did you mean animal? note ${word} at the end keeps the word`,
    );
  }
  expect(entry('pick G3 early 52 47 1 animal note slugs')).toMatchObject({
    weights: [52, 47],
    animal: 1,
    note: 'slugs',
  });
  expect(slips('pik G3 early 3')).toEqual([
    ['pik', 'pik is no beginning of a line', 'did you mean pick?'],
  ]);
  expect(slips('taste G3 early marra swetness 8')).toEqual([
    ['marra', 'marra is not understood in taste', 'did you mean mara?'],
    [
      'swetness',
      'swetness is neither a taster nor a trait of this ledger',
      'did you mean sweetness?',
    ],
  ]);
  expect(slips('pick G3 early')[0]?.[1]).toBe('this pick has neither fruit nor weights');
  expect(slips('pick G3 early 40 split 2')[0]?.[1]).toBe(
    '2 spoiled fruit are more than the 1 picked',
  );
  expect(read('pick G33 early 52').session).toBe(start);
});

test('what can be read in two ways is asked about', () => {
  expect(questions('pick G3 early 52,47')).toEqual([
    ['is 52,47 52.47, or 52 and 47?', ['52.47', '52 47']],
  ]);
  expect(questions('pick G3 early fruit 3 120')).toEqual([
    [
      'is 120 the weight of the 3 together, or of one of them?',
      ['weight 120', '120 sample random', '120 sample best'],
    ],
  ]);
  expect(questions('pick G3 early fruit 3 120 sample random')).toEqual([]);
  expect(questions('pick G3 early fruit 3 weight 1,234')).toEqual([
    ['is 1,234 1.234, or 1234?', ['1.234', '1234']],
  ]);
  expect(questions('on 5/6')).toEqual([
    ['is 5/6 5 June 2026 or 6 May 2026?', ['2026-06-05', '2026-05-06']],
  ]);
  expect(questions('pick amber early 40')).toEqual([
    ['amber has 2 trees: G3, G4; which one?', ['G3', 'G4']],
  ]);
});

test.each([
  ['2026-07-02', '2026-07-02'],
  ['24 Jul', '2026-07-24'],
  ['24jul', '2026-07-24'],
  ['July 24', '2026-07-24'],
  ['24 July 2025', '2025-07-24'],
  ['24.7.', '2026-07-24'],
  ['3.4.25', '2025-04-03'],
  ['24/7', '2026-07-24'],
  ['7/24', '2026-07-24'],
  ['25 Jul', '2025-07-25'],
  ['29 Feb', '2024-02-29'],
  ['today', '2026-07-24'],
  ['yesterday', '2026-07-23'],
])('on %s is %s', (typed, date) => {
  expect(read(`on ${typed}`).session.date).toBe(date);
});

test('a day that does not exist, and a word that is no date', () => {
  expect(slips('on 31 Jun')).toEqual([
    ['31 Jun', 'there is no such day as 31 Jun', 'as in 2026-07-24 or 24 Jul'],
  ]);
  expect(slips('on payday')[0]?.[1]).toBe('payday is no date');
});

test('the echo has names, units and sums', () => {
  expect(read('pick G3 early 52.4 47 2.1oz split 1').understood).toEqual([
    '24 July 2026: pick of Amber Lantern (G3), early crop (breba): 3 fruit; 52.4, 47, (2.1 oz) g, mean 53.0 g; 1 split',
    'G3 that day: 5 fruit, 53.8 g on average',
  ]);
  expect(read('spray yard soap wait 1').understood).toEqual([
    '24 July 2026: spray, all trees at south wall, soap, wait 1 day',
  ]);
});

test('completions follow what stands before the cursor', () => {
  const offered = (line: string) => completions(line, line.length, ledger).words;
  expect(offered('pi')).toEqual(['pick']);
  expect(offered('on ')).toEqual(['today', 'yesterday']);
  expect(offered('on 24 Jul co')).toEqual(['count']);
  expect(offered('pick g')).toEqual(['G3', 'G4']);
  expect(offered('pick y')).toEqual(['Y1', 'yarrow']);
  expect(offered('pick G3 ')).toContain('breba');
  expect(offered('pick G3 early ')).not.toContain('main');
  expect(offered('pick G3 early 52 split ')).toEqual([]);
  expect(offered('pick G3 early sample ')).toEqual(['all', 'random', 'best']);
  expect(offered('taste G3 early m')).toEqual(['mara']);
  expect(offered('taste G3 early mara sw')).toEqual(['sweetness']);
  expect(offered('order early mara G3 ')).toEqual(['>', '=']);
  expect(offered('move P2 ')).toEqual(['glass', 'yard']);
  expect(offered('spray yard soap w')).toEqual(['wait']);
});
