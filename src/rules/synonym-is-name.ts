import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { synonymIsNameWords } from '../diagnostics/words/rules-names.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { grouped } from './parts/grouped.ts';
import { nameKey } from './parts/name-form.ts';
import type { Rule } from './rule.ts';

export const synonymIsName: Rule = { words: [synonymIsNameWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const byName = grouped(ledger.cultivars.values(), ({ name }) => nameKey(name));
  for (const cultivar of ledger.cultivars.values()) {
    for (const [index, synonym] of cultivar.also.entries()) {
      const other = byName.get(nameKey(synonym))?.find((one) => one !== cultivar);
      if (other === undefined || isDoubtSaid(cultivar, other)) continue;
      const facts = { key: cultivar.key, synonym, otherKey: other.key };
      yield diagnose(synonymIsNameWords, spotIn(cultivar.at, 'also', index), facts, [
        { at: spotIn(other.at, 'name'), label: 'its name here' },
      ]);
    }
  }
}

function isDoubtSaid(one: Cultivar, other: Cultivar): boolean {
  return one.perhaps?.sameAs === other.key || other.perhaps?.sameAs === one.key;
}
