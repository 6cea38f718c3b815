import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { cultivarLoopWords } from '../diagnostics/words/rules-names.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const cultivarLoop: Rule = { words: [cultivarLoopWords], check };

function* check({ cultivars }: Ledger): Generator<Diagnostic> {
  const done = new Set<Cultivar>();
  for (const start of cultivars.values()) {
    // A chain either ends, runs into one followed before, or comes back to its own way.
    const way = new Set<Cultivar>();
    let at: Cultivar | undefined = start;
    while (at !== undefined && !done.has(at) && !way.has(at)) {
      way.add(at);
      at = at.perhaps === undefined ? undefined : cultivars.get(at.perhaps.sameAs);
    }
    if (at !== undefined && way.has(at)) {
      const steps = [...way];
      yield loop(steps.slice(steps.indexOf(at)));
    }
    for (const one of way) done.add(one);
  }
}

function loop(members: readonly Cultivar[]): Diagnostic {
  const places = members.map(({ at }) => spotIn(at, 'perhaps', 'same_as'));
  const [first, ...others] = places;
  const keys = members.map(({ key }) => key);
  if (first === undefined) throw new Error('a loop without members');
  const related = others.map((at) => ({ at, label: 'also in the loop' }));
  return diagnose(cultivarLoopWords, first, { keys }, related);
}
