import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { selectRecords } from './crop-record.ts';
import { splitFigures } from './split-figures.ts';
import type { WettingOptions } from './wet-days.ts';
import { wettingBefore } from './wet-days.ts';

describe('splits', () => {
  const weather = [
    { date: '2026-08-01', rain: 0 },
    { date: '2026-08-02', rain: 1.9 },
    { date: '2026-08-03', rain: 2 },
    { date: '2026-08-04', rain: 0 },
    { date: '2026-08-05', rain: 0 },
    { date: '2026-08-06', rain: 0 },
  ];
  const ledger = threeTrees(
    {
      2026: {
        picks: [
          { on: '2026-08-02', tree: 'Y1', fruit: 10, split: 1 },
          { on: '2026-08-04', tree: 'Y1', fruit: 10, split: 5 },
          { on: '2026-08-05', tree: 'G1', fruit: 10, split: 2 },
          { on: '2026-08-06', tree: 'Y1', fruit: 10 },
          { on: '2026-08-20', tree: 'Y1', fruit: 7, split: 7 },
        ],
        events: [
          { on: '2026-08-03', at: 'glass', kind: 'water' },
          { on: '2026-08-10', tree: 'Y1', kind: 'water' },
          { on: '2026-08-18', kind: 'water' },
        ],
      },
    },
    { weather },
  );
  const split = (wetting: WettingOptions, trees: string[] = []) =>
    splitFigures(selectRecords(ledger, { trees }), wettingBefore(ledger, wetting), 0.95);

  it('after rain count picks within the days after enough rain, and leave out unknown days', () => {
    const figures = split({ after: 'rain', withinDays: 1 });
    expect(figures.after).toEqual({ fruit: 10, split: 5, share: 0.5 });
    expect(figures.rest).toEqual({ fruit: 30, split: 3, share: 0.1 });
    expect(figures.difference).toBeCloseTo(0.4, 14);
    expect(figures.unknown).toBe(7);
  });

  it('take a pick as after rain where one of its days is missing and another was wet', () => {
    const figures = split({ after: 'rain', withinDays: 30, rainFrom: 1 });
    expect(figures.after.fruit).toBe(47);
    expect(figures).toMatchObject({ unknown: 0, rest: { fruit: 0, share: undefined } });
    expect(figures.difference).toBeUndefined();
  });

  it('after rain on the day itself', () => {
    expect(split({ after: 'rain', withinDays: 0, rainFrom: 1.9 }).after.fruit).toBe(10);
  });

  it('after watering look at the tree, its site and the whole trial', () => {
    const figures = split({ after: 'water', withinDays: 2 });
    // G1 by its site on 3 August, Y1 on the 20th by the whole trial.
    expect(figures.after).toMatchObject({ fruit: 17, split: 9 });
    expect(figures).toMatchObject({ unknown: 0, rest: { fruit: 30, split: 6 } });
    expect(split({ after: 'water', withinDays: 2 }, ['Y1']).after.fruit).toBe(7);
  });
});
