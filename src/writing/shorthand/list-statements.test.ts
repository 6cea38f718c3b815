import { describe, expect, it } from 'vitest';
import { day, entryLedger } from '../../../tests/support/entry-ledger.ts';
import { beginSession, readLine } from './read-line.ts';

const ledger = entryLedger();
const read = (line: string) => readLine(line, beginSession(day('2026-07-24')), ledger);

function listed(line: string) {
  const { slips, questions, entries } = read(line);
  expect([slips, questions], line).toEqual([[], []]);
  return entries[0];
}
const slips = (line: string) => read(line).slips.map(({ message, advice }) => [message, advice]);

describe('cultivars', () => {
  it('are listed by name, with a key made of it', () => {
    const wanted = {
      section: 'cultivars',
      key: 'paper-lamp',
      entry: { name: 'Paper Lamp', bears: 'unknown', also: ['Lampe', 'Old Lamp'] },
    };
    expect(listed('cultivar "Paper Lamp" bears unknown also "Lampe" "Old Lamp"')).toEqual(wanted);
    expect(listed('cultivar Paper Lamp bears unknown also Lampe, Old Lamp')).toEqual(wanted);
    const known = entryLedger({
      'cultivars.yaml': `amber: { name: Monk's Purse, bears: common }\nyarrow: { name: Yarrow, bears: common }\npetrel: { name: Petrel, bears: common }\n`,
    });
    const typed = readLine(
      'tree T9 Monk\u2019s Purse at yard',
      beginSession(day('2026-07-24')),
      known,
    );
    expect(typed.entries).toMatchObject([{ key: 'T9', entry: { cultivar: 'amber' } }]);
    expect(listed("cultivar Monk's Purse bears san pedro")).toMatchObject({
      key: 'monks-purse',
      entry: { name: "Monk's Purse", bears: 'san-pedro' },
    });
    // What begins with # is a comment, unless it looks like a number of something.
    expect(listed('cultivar Fänge # from the wall')).toMatchObject({ key: 'fange' });
    expect(slips('cultivar Fänge #3')).toEqual([
      [
        'what begins with # is left out as a comment',
        'in quotes it belongs to the name: "Fänge #3"',
      ],
    ]);
    expect(listed('cultivar "Fänge #3" note from "the wall"')).toMatchObject({
      key: 'fange-3',
      entry: { name: 'Fänge #3', note: 'from "the wall"' },
    });
  });

  it('of which nobody says what they bear are unknown, and it is told', () => {
    const { entries, understood } = read('cultivar Paper Lamp');
    expect(entries).toMatchObject([{ entry: { bears: 'unknown' } }]);
    expect(understood.join()).toContain('nothing is said of what it bears');
  });

  it('carry a doubt', () => {
    expect(listed('cultivar Lamp perhaps Amber Lantern why same leaf protected no')).toMatchObject({
      entry: { perhaps: { same_as: 'amber', why: 'same leaf' }, protected: false },
    });
    expect(listed('cultivar Lamp perhaps same as Amber Lantern')).toMatchObject({
      entry: { perhaps: { same_as: 'amber' } },
    });
    for (const line of ['perhaps Amber Lantern, same leaf', 'perhaps "Amber Lantern" same leaf']) {
      expect(slips(`cultivar Lamp ${line}`), line).toEqual([
        ['the reason of a doubt follows why', 'perhaps Amber Lantern why same leaf'],
      ]);
    }
    expect(slips('cultivar Lamp why same leaf')).toEqual([
      ['why belongs to a doubt', 'as in perhaps old-wall-brown why same leaf'],
    ]);
  });

  it('with nearly the name of another are told of it, but for a number or a short name', () => {
    const told = (line: string) => read(line).understood.join(' ');
    expect(told('cultivar Amber Lanten bears common')).toContain('much like Amber Lantern');
    const known = entryLedger({
      'cultivars.yaml':
        'amber: { name: Amber Lantern, bears: common }\nyarrow: { name: Seedling 3, bears: common }\npetrel: { name: Rowan, bears: common }\n',
    });
    for (const line of ['cultivar Seedling 4', 'cultivar Rowen', 'cultivar Amber Light']) {
      const { understood } = readLine(line, beginSession(day('2026-07-24')), known);
      expect(understood.join(' '), line).not.toContain('much like');
    }
  });

  it('of fruit that is no fig mostly bear once a year', () => {
    const known = entryLedger({
      'ledger.yaml':
        'title: Gooseberries\nfruit: gooseberry\nunits: imperial\ntraits: [sweetness, flavour, texture]\ntasters: { mara: Mara, joss: Joss }\nsites: { glass: { name: glasshouse, cover: glass }, yard: { name: yard, cover: open } }\n',
      'cultivars.yaml':
        'amber: { name: Amber, bears: unknown }\nyarrow: { name: Yarrow, bears: main }\npetrel: { name: Petrel, bears: both }\n',
      'seasons/2026.yaml': 'season: 2026\n',
    });
    const reading = (line: string) => readLine(line, beginSession(day('2026-07-24')), known);
    expect(reading('cultivar Paper Lamp').understood.join()).toContain('add bears main');
    expect(reading('G3 0.4 0.3').questions[0]?.message).toContain('put bears: main into');
    expect(reading('Y1 0.4 0.3').understood).toHaveLength(2);
  });

  it('take a line each', () => {
    const advice = 'a name with a comma in it needs quotes';
    expect(slips('cultivar Paper Lamp, Bell Ringer')).toEqual([['one cultivar a line', advice]]);
    expect(listed('cultivar "Lamp, paper"')).toMatchObject({ entry: { name: 'Lamp, paper' } });
  });

  it('are listed once', () => {
    expect(slips('cultivar amber lantern')).toEqual([
      ['amber lantern is listed already', 'its key is amber'],
    ]);
    expect(slips('cultivar')).toEqual([
      ['cultivar needs a name', 'as in cultivar "Paper Lamp" bears unknown'],
    ]);
    expect(slips('cultivar Lamp bears comon')).toEqual([
      [
        'comon is none of common, smyrna, san-pedro, caprifig, early, main, both, unknown',
        'did you mean common?',
      ],
    ]);
  });
});

describe('trees', () => {
  it('say what they are, where they stand, in what and since when', () => {
    expect(
      listed(
        'tree A2 Amber Lantern at south wall planted April 2021 received 16.4.2020 in a 20 L pot from swap table as "P. lamp?" rootstock own',
      ),
    ).toEqual({
      section: 'trees',
      key: 'A2',
      entry: {
        cultivar: 'amber',
        site: 'yard',
        planted: '2021-04',
        received: '2020-04-16',
        container: '20 L',
        from: 'swap table',
        received_as: 'P. lamp?',
        rootstock: 'own',
      },
    });
    expect(listed('tree A2 amber at greenhouse planted 2021 in the ground')).toMatchObject({
      entry: { site: 'glass', planted: 2021, container: 'ground' },
    });
    expect(listed('tree A2 amber at yard in 15')).toMatchObject({ entry: { container: '15 L' } });
  });

  it('are there until they are removed, which no pick says', () => {
    expect(listed('on 20 Jul remove Yarrow Bell')).toEqual({
      section: 'removals',
      key: 'Y1',
      entry: '2026-07-20',
    });
    expect(read('remove Y1').understood).toEqual([
      '24 July 2026: Yarrow Bell (Y1) is there no longer',
    ]);
    expect(slips('Y1 died')).toEqual([
      ['died is not understood behind a tree', 'of a tree that is there no longer: remove Y1'],
    ]);
    const known = entryLedger({
      'trees.yaml':
        'G3: { cultivar: amber, site: glass }\nY1: { cultivar: yarrow, site: yard, removed: 2025 }\n',
    });
    const again = readLine('remove Y1', beginSession(day('2026-07-24')), known);
    expect(again.slips).toMatchObject([{ message: 'Y1 was removed already (2025)' }]);
  });

  it('are asked where they stand, if there is more than one place', () => {
    expect(read('tree A2 amber').questions).toMatchObject([
      { message: 'where does it stand?', answers: [{ text: ' at glass' }, { text: ' at yard' }] },
    ]);
  });

  it('of what is not listed, in no pot and of no year are refused with what to type', () => {
    expect(slips('tree A2 Paper Lamp at yard in a bucket planted spring 2021')).toEqual([
      [
        'Paper Lamp is no cultivar of this ledger',
        'list it first: cultivar "Paper Lamp" bears unknown',
      ],
      [
        'spring 2021 is no day, month or year',
        'as in 2021, April 2021 or 2021-04-16; what is not known is left out',
      ],
      ['bucket is no pot and not the ground', 'as in 20 L, or ground'],
    ]);
    expect(slips('tree A2 amber at yard in 5 gal')).toEqual([
      ['5 gal is no pot and not the ground', 'as in 5 US gal, or 5 UK gal'],
    ]);
    expect(slips('tree g3 amber at yard')).toEqual([
      ['G3 is a tree already, of Amber Lantern', 'give the new one another id'],
    ]);
    expect(slips('tree A/2 amber at yard')[0]?.[0]).toBe('A/2 can be no key');
    expect(slips('tree A2 amber at yrad')[0]).toEqual([
      'yrad is no site of this ledger',
      'did you mean yard?',
    ]);
  });
});

it('tasters and sites', () => {
  expect(listed('taster ann Ann')).toEqual({ section: 'tasters', key: 'ann', entry: 'Ann' });
  expect(listed('taster kid The kids')).toMatchObject({ key: 'kid', entry: 'The kids' });
  expect(listed('taster Ann')).toMatchObject({ key: 'ann', entry: 'Ann' });
  expect(slips('taster Mara')).toEqual([['mara is a taster of this ledger already', '']]);
  expect(listed('site plot "far plot" open')).toEqual({
    section: 'sites',
    key: 'plot',
    entry: { name: 'far plot', cover: 'open' },
  });
  expect(listed('site plot far plot open')).toMatchObject({ entry: { name: 'far plot' } });
  expect(read('site plot far plot').questions).toMatchObject([
    { message: 'what is overhead there?', answers: [{ text: ' open' }, {}, {}, {}] },
  ]);
  expect(slips('site yard wall open')).toEqual([['yard is a site of this ledger already', '']]);
});
