import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RUNS } from '../../tests/support/property-runs.ts';
import { readWeather } from './read-weather.ts';

function read(text: string) {
  const told: string[] = [];
  const file = { path: 'weather/2026.csv', text, bom: false };
  const days = readWeather(file, 2026, undefined, ({ message, at }) => {
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
