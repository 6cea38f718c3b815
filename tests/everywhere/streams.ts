import { existsSync } from 'node:fs';
import { linesAdded } from '../support/lines-added.ts';
import type { Condition } from './condition.ts';
import { plainLedger, seasonText, smallLedger } from './ledgers.ts';

export const STREAMS: Condition = {
  name: 'pipes and streams that are closed or full',
  check: async (column, checks) => {
    const ledger = plainLedger(column);
    const shell = (line: string) => column.shell(ledger, line);
    for (const command of ['yield', 'rank', 'post', 'manual', '--help', 'export --table picks']) {
      const { status, err } = await shell(`pomary ${command} | head -1`);
      checks.that(`${command} | head -1`, status === 0 && err === '', err);
      const gone = await shell(`{ pomary ${command}; echo "status $?" >&2; } | true`);
      checks.has(`${command} | true`, gone.err, /^status 0\n$/);
      const shut = await shell(`pomary ${command} >&-`);
      checks.that(`${command} >&-`, shut.status === 0 && shut.out + shut.err === '', shut.err);
      if (!existsSync('/dev/full')) continue;
      const full = await shell(`pomary ${command} > /dev/full`);
      checks.that(`${command} > /dev/full`, full.status === 3, `${full.status} ${full.err}`);
      checks.has(`${command} > /dev/full`, full.err, 'the disk is full');
    }
    const closed = await shell('pomary yield <&-');
    checks.same('stdin closed', closed.out, (await shell('pomary yield')).out);
    checks.that('stderr closed', (await shell('pomary nonsense 2>&-')).status === 2);
    checks.same('all closed', String((await shell('pomary yield <&- >&- 2>&-')).status), '0');
    const recorded = smallLedger(column, 'streams');
    const before = seasonText(recorded);
    const pick = 'pomary pick G3 early --on 2026-08-01 --weights 50 <&- >&- 2>&-';
    const { status } = await column.shell(recorded, pick);
    const added = linesAdded(before, seasonText(recorded));
    checks.that('an entry with nobody to tell', status === 0 && added.length === 1, added.join());
    const nothing = await column.shell(recorded, 'pomary enter <&-');
    checks.that('enter with nothing to read', nothing.status === 0, nothing.err);
  },
};
