import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { keyIn, spotIn } from '../source/source-file.ts';
import { plantedCultivars } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const cultivarLoopWords = wording<{ keys: readonly string[] }>({
  rule: 'cultivar-loop',
  severity: 'error',
  why: 'A doubt about identity points from the less certain entry to the more certain one. A chain that comes back to its beginning has no certain end.',
  message: ({ keys }) =>
    keys.length === 1
      ? `${keys[0]} is said to be perhaps the same as itself`
      : `the doubts go round in a loop: ${keys.join(' -> ')} -> ${keys[0]}`,
  advice: ({ keys }) =>
    keys.length === 1 ? 'take out `perhaps`' : 'take `perhaps` out of the one you are surest of',
});

export const cultivarLoop: Rule = { words: [cultivarLoopWords], check: findCultivarLoop };

function* findCultivarLoop({ cultivars }: Ledger): Generator<Diagnostic> {
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

const cultivarWithoutTreesWords = wording<{ key: string }>({
  rule: 'cultivar-without-trees',
  severity: 'hint',
  why: 'A cultivar without a tree can have no figures.',
  message: ({ key }) => `no tree of ${key} is listed`,
  advice: ({ key }) =>
    `list its tree, as in tree T1 ${key} (in trees.yaml T1: { cultivar: ${key}, site: ... }), or take the cultivar out`,
});

export const cultivarWithoutTrees: Rule = {
  words: [cultivarWithoutTreesWords],
  check: findCultivarWithoutTrees,
};

function* findCultivarWithoutTrees(ledger: Ledger): Generator<Diagnostic> {
  const planted = plantedCultivars(ledger);
  if (planted === undefined) return;
  for (const { at, key } of ledger.cultivars.values()) {
    if (!planted.has(key)) yield diagnose(cultivarWithoutTreesWords, keyIn(at), { key });
  }
}
