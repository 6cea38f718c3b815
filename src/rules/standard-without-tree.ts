import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { standardWithoutTreeWords } from '../diagnostics/words/rules-settings.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { plantedCultivars } from './parts/planted-cultivars.ts';
import type { Rule } from './rule.ts';

export const standardWithoutTree: Rule = { words: [standardWithoutTreeWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { standard, at } = ledger.trial;
  const planted = plantedCultivars(ledger);
  if (standard === undefined || planted === undefined || planted.has(standard)) return;
  // A standard that is no cultivar at all is told by the reader.
  if (!ledger.cultivars.has(standard)) return;
  yield diagnose(standardWithoutTreeWords, spotIn(at, 'standard'), { key: standard });
}
