import { describe, expect, it } from 'vitest';
import { countColumn, intervalColumns, numberColumn, textColumn } from './columns.ts';
import { chooseColumns, UnknownColumn } from './named-column.ts';
import type { Report, Row } from './table.ts';

const index = numberColumn('index', 1, { label: 'Index', drop: 0 });
const [rankLow, rankHigh] = intervalColumns(index, ['rankLow', 'rankHigh'], 0.95, 3);
const REPORT: Report = {
  report: 'rank',
  title: 'Rank',
  ledgerTitle: 'Trial',
  selection: {},
  columns: [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    index,
    { ...rankLow, label: 'Ranks, 95 %' },
    rankHigh,
    countColumn('picked', { label: 'Picked', unit: 'fruit', drop: 2 }),
    { ...textColumn('why', { label: 'Why not ranked', drop: 0 }), machineOnly: true },
  ],
  rows: [],
  notes: [],
  screen: { columns: [], rows: [] },
};

function keys(asked: string, forPeople = true): readonly string[] {
  return chooseColumns(REPORT, asked, forPeople).columns.map(({ key }) => key);
}

describe('columns that someone chose', () => {
  it('are found by key and by label, with the unit or without, in the order that was asked for', () => {
    expect(keys('picked,index,cultivar')).toEqual(['picked', 'index', 'cultivar']);
    expect(keys('Picked (fruit), INDEX , Cultivar')).toEqual(['picked', 'index', 'cultivar']);
  });

  it('may have a comma in their label', () => {
    expect(keys('Cultivar,Ranks, 95 %,Index')).toEqual([
      'cultivar',
      'rankLow',
      'rankHigh',
      'index',
    ]);
  });

  it('show the whole of an interval to people, and the very column to machines', () => {
    expect(keys('rankHigh')).toEqual(['rankLow', 'rankHigh']);
    expect(keys('rankHigh', false)).toEqual(['rankHigh']);
  });

  it('come with what else tells rows apart, where two of them would look alike', () => {
    const row = (crop: string, index: number) => ({ cultivar: 'A', crop, index });
    const crop = textColumn('crop', { label: 'Crop', drop: 0 });
    const columns = [...REPORT.columns, crop];
    const asked = (rows: readonly Row[], forPeople: boolean) =>
      chooseColumns({ ...REPORT, columns, rows }, 'cultivar,index', forPeople).columns.map(
        ({ key }) => key,
      );
    const both = [row('early', 1), row('main', 2)];
    expect(asked(both, true)).toEqual(['cultivar', 'crop', 'index']);
    expect(asked(both, false)).toEqual(['cultivar', 'index']);
    expect(asked([row('main', 2)], true)).toEqual(['cultivar', 'index']);
  });

  it('may be those that only machines see', () => {
    const [why] = chooseColumns(REPORT, 'why', true).columns;
    expect(why?.machineOnly).toBeUndefined();
  });

  it('are all of them where all is asked for, and then of the table itself', () => {
    expect(keys('all')).toHaveLength(6);
    expect(chooseColumns(REPORT, 'all', true).screen).toBeUndefined();
  });

  it('must be there', () => {
    expect(() => keys('cultivar,indx')).toThrow(UnknownColumn);
    expect(() => keys('cultivar,indx')).toThrow(/"indx".*Cultivar; Index/);
  });
});
