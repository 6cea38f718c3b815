import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RUNS } from '../../tests/support/property-runs.ts';
import type { GrowingYear } from '../model/dates.ts';
import { readWeather } from './read-weather.ts';

function read(text: string, season?: GrowingYear) {
  const told: string[] = [];
  const file = { path: 'weather/2026.csv', text, bom: false };
  const days = readWeather(file, 2026, season, ({ message, at }) => {
    told.push(`${'start' in at ? text.slice(0, at.start).split('\n').length : 0} ${message}`);
  });
  return { days, told };
}

const line = fc.oneof(
  fc.constantFrom('', 'date,tmin,tmax,rain', '2026-02-30,1,2,3', '2026-05-01,9,1,0', '2026-05-02'),
  fc
    .tuple(fc.integer({ min: 10, max: 31 }), fc.integer({ min: -9, max: 99 }), fc.nat(40))
    .map(([day, low, rise]) => `2026-05-${day},${low},${low + rise},0.4`),
  fc.string({ unit: fc.constantFrom(...'a1.,-:'), maxLength: 12 }),
);

describe('readWeather', () => {
  it('tells once of all days that lie outside the growing year', () => {
    const season = { first: '2025-07-01', last: '2026-06-30' } as GrowingYear;
    const rows = ['date,rain', '2026-06-30,0', '2026-07-01,1', '2026-07-02,0', '2025-06-30,2'];
    const { days, told } = read(rows.join('\n'), season);
    expect(days.map(({ date }) => date)).toEqual(['2026-06-30']);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(
      /^3 .*2026-07-01 and 2 more days are outside the growing year 2026 \(2025-07-01 to 2026-06-30\)/,
    );
    expect(read(rows.slice(0, 3).join('\n'), season).told[0]).toMatch(/2026-07-01 is outside/);
  });

  it('makes of plain lines what the library makes of them when a quoted cell or a blank has it read all', () => {
    fc.assert(
      fc.property(fc.array(line, { maxLength: 12 }), (lines) => {
        const plain = ['date,tmin,tmax,rain', ...lines, '2026-06-01,8,16,0'];
        const quoted = [...plain.slice(0, -1), '"2026-06-01", 8,16,0'];
        expect(read(plain.join('\n'))).toEqual(read(quoted.join('\n')));
      }),
      { numRuns: RUNS / 5 },
    );
  });
});
