import { linesAdded } from '../support/lines-added.ts';
import type { Condition } from './condition.ts';
import { seasonText, smallLedger } from './ledgers.ts';
import { sameAsPlain } from './reading.ts';

const EVENING = `on 31 Jul 2026
PICK g3 EARLY 52,4 47 split 1 note ISIL i ı İ
count Y1 main 24 on 10
taste g3 early MARA sweetness 7,5 flavour 8 ripe
`;
const RECORDED = [
  '  - { on: 2026-07-31, tree: Y1, crop: main, fruit: 24, branches: 10 }',
  '  - { on: 2026-07-31, tree: G3, crop: early, weights: [52.4, 47], split: 1, note: ISIL i ı İ }',
];

/** Dates, decimals, order and letter case are those of the ledger, not of the machine. */
function inLanguage(name: string): Condition {
  return {
    name: `LANG=${name}`,
    check: async (column, checks) => {
      const env = { LANG: name, LC_ALL: name, LANGUAGE: name.slice(0, 2) };
      await sameAsPlain(column, checks, { env });
      const ledger = smallLedger(column, `in ${name}`);
      const before = seasonText(ledger);
      const ran = await column.pomary(ledger, ['enter'], { env, input: EVENING });
      checks.that('enter', ran.status === 0, ran.err);
      const added = linesAdded(before, seasonText(ledger));
      for (const line of RECORDED) checks.that(line, added.includes(line), added.join('\n'));
      checks.has('the scores', added.join('\n'), '{ sweetness: 7.5, flavour: 8 }');
    },
  };
}

export const LANGUAGES = ['de_DE.UTF-8', 'tr_TR.UTF-8', 'ar_EG.UTF-8'].map(inLanguage);
