import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { nameRepeatWords } from '../diagnostics/words/rules-names.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { grouped } from './parts/grouped.ts';
import { nameKey } from './parts/name-form.ts';
import type { Rule } from './rule.ts';

export const nameRepeat: Rule = { words: [nameRepeatWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const byName = grouped(ledger.cultivars.values(), ({ name }) => nameKey(name));
  for (const [first, ...others] of byName.values()) {
    if (first === undefined) continue;
    for (const { at, key, name } of others) {
      const facts = { name, key, firstKey: first.key };
      yield diagnose(nameRepeatWords, spotIn(at, 'name'), facts, [
        { at: spotIn(first.at, 'name'), label: 'the first one' },
      ]);
    }
  }
}
