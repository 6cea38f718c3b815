import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Condition } from './condition.ts';
import { smallLedger } from './ledgers.ts';
import { sameAsPlain } from './reading.ts';

/** What the calendar on the wall there says. */
function dayIn(zone: string, at: Date): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone: zone, dateStyle: 'short' }).format(at);
}

/** A date in a file is a day of the ledger's place; only "today" is that of the clock. */
function inZone(zone: string): Condition {
  return {
    name: `TZ=${zone}`,
    check: async (column, checks) => {
      const env = { TZ: zone };
      await sameAsPlain(column, checks, { env });
      const ledger = smallLedger(column, `in ${zone.replace('/', ' ')}`);
      // Midnight there may pass meanwhile.
      const before = new Date();
      const ran = await column.pomary(ledger, ['pick', 'G3', 'main', '--weights', '51.5'], { env });
      const typed = await column.pomary(ledger, ['enter', '--on', 'yesterday'], {
        env,
        input: 'pick Y1 main 44.5\n',
      });
      const after = new Date();
      checks.that('pick and enter', ran.status === 0 && typed.status === 0, ran.err + typed.err);
      const DAY = 86_400_000;
      for (const [weight, back] of [
        ['51.5', 0],
        ['44.5', DAY],
      ] as const) {
        const days = [before, after].map((at) => dayIn(zone, new Date(at.getTime() - back)));
        const lines = days.flatMap((day) => linesOf(ledger, day.slice(0, 4)));
        const found = lines.find((line) => line.includes(`[${weight}]`)) ?? '';
        checks.that(
          `the day is ${days[0]}`,
          days.some((day) => found.includes(`on: ${day},`)),
          found,
        );
      }
    },
  };
}

function linesOf(ledger: string, season: string): readonly string[] {
  const path = join(ledger, `seasons/${season}.yaml`);
  return existsSync(path) ? readFileSync(path, 'utf8').split('\n') : [];
}

export const TIME_ZONES = [
  'Pacific/Kiritimati',
  'Pacific/Pago_Pago',
  'America/St_Johns',
  'Asia/Kathmandu',
].map(inZone);
