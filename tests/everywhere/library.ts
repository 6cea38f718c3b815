import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Condition } from './condition.ts';
import { exampleLedger } from './ledgers.ts';

const PROGRAM = `
import { openLedger, rank, yields } from 'pomary';
const { ledger } = await openLedger(process.argv[2]);
console.log(JSON.stringify([await yields(ledger), await rank(ledger, { crop: 'main' })]));
`;

export const LIBRARY: Condition = {
  name: 'another program imports it',
  check: async (column, checks) => {
    const program = join(column.installed, 'program.mjs');
    writeFileSync(program, PROGRAM);
    const ledger = exampleLedger(column);
    const { status, out, err } = await column.run(['node', program, ledger], {
      cwd: column.folder,
    });
    checks.that('it runs', status === 0 && err === '', err);
    const objects: unknown[] = [];
    for (const words of [['yield'], ['rank', '--crop', 'main']]) {
      const printed = await column.pomary(ledger, [...words, '--format', 'json']);
      objects.push(JSON.parse(printed.out));
    }
    checks.same('the same objects', out, `${JSON.stringify(objects)}\n`);
  },
};
