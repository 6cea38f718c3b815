import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../../tests/support/build-ledger.ts';
import { cropRecords } from '../../measure/crop-record.ts';
import type { Tree } from '../../model/collection.ts';
import { parsePartialDate } from '../../model/dates.ts';
import { alternationOf, bearingYears } from './bearing-years.ts';

const loads = [4, 1, 6, 2];
const ledger = threeTrees(
  Object.fromEntries(
    loads.map((fruit, at) => [
      2021 + at,
      { counts: [{ on: `${2021 + at}-08-01`, tree: 'Y1', fruit }] },
    ]),
  ),
);
const records = cropRecords(ledger);
const tree = ledger.trees.get('Y1');

function planted(text: string, latitude?: number) {
  if (tree === undefined) throw new Error('no tree');
  const one: Tree = { ...tree, planted: parsePartialDate(text) };
  return bearingYears(one, records, latitude);
}

describe('bearingYears', () => {
  it('begins with the third season from planting, where planting is known', () => {
    expect(planted('2021-04-02')).toEqual([6, 2]);
    expect(planted('2020')).toEqual([1, 6, 2]);
    expect(planted('1990')).toEqual(loads);
    expect(planted('2024')).toEqual([]);
  });

  it('reckons seasons from July south of the equator', () => {
    // October 2020 belongs to the season of 2021 there.
    expect(planted('2020-10-02', -38)).toEqual([6, 2]);
    expect(planted('2020-10-02', 52)).toEqual([1, 6, 2]);
  });
});

describe('alternationOf', () => {
  it('is the mean over trees, and none for trees seen in one year', () => {
    const both = threeTrees({
      2021: {
        counts: [
          { on: '2021-08-01', tree: 'Y1', fruit: 10 },
          { on: '2021-08-01', tree: 'G1', fruit: 10 },
          { on: '2021-08-01', tree: 'G2', fruit: 5 },
        ],
      },
      2022: {
        counts: [
          { on: '2022-08-01', tree: 'Y1', fruit: 30 },
          { on: '2022-08-01', tree: 'G1', fruit: 10 },
        ],
      },
    });
    // By hand: 20 / 40 for Y1, 0 for G1, nothing for G2.
    expect(alternationOf(cropRecords(both), 52)).toEqual({ index: 0.25, pairs: 2, trees: 2 });
    expect(alternationOf([], 52)).toBeUndefined();
  });
});
