import { wording } from '../diagnostic.ts';

// Words for names that lead nowhere.

interface Lost {
  readonly name: string;
  readonly nearest: string | undefined;
}

function unknownWords(rule: string, thing: string, file: string, why: string) {
  return wording<Lost>({
    rule,
    severity: 'error',
    why,
    message: ({ name }) => `${thing} ${name} is not in ${file}`,
    advice: ({ nearest }) =>
      nearest === undefined
        ? `add it to ${file}, or type the one that is meant`
        : `did you mean ${nearest}?`,
  });
}

export const treeUnknown = unknownWords(
  'tree-unknown',
  'the tree',
  'trees.yaml',
  'An entry for a tree that is not listed would be lost to every table.',
);
export const cultivarUnknown = unknownWords(
  'cultivar-unknown',
  'the cultivar',
  'cultivars.yaml',
  'A tree of a cultivar that is not listed cannot be ranked.',
);
export const tasterUnknown = unknownWords(
  'taster-unknown',
  'the taster',
  'the tasters of ledger.yaml',
  'How harsh or kind a taster is can be told only if all scores of a person stand under one key.',
);
export const siteUnknown = unknownWords(
  'site-unknown',
  'the site',
  'the sites of ledger.yaml',
  'Trees under glass and outdoors are compared only where the site is known.',
);
export const traitUnknown = unknownWords(
  'trait-unknown',
  'the trait',
  'the traits of ledger.yaml',
  'A score for a trait that is not listed would be lost.',
);
export const partUnknown = wording<Lost & { readonly known: readonly string[] }>({
  rule: 'part-unknown',
  severity: 'error',
  why: 'The rank can weigh only what is tasted or measured.',
  message: ({ name }) => `${name} is neither a trait of this ledger nor a measured part`,
  advice: ({ nearest, known }) =>
    nearest === undefined ? `parts: ${known.join(', ')}` : `did you mean ${nearest}?`,
});
export const cropUnknown = wording<Lost & { readonly known: readonly string[] }>({
  rule: 'crop-unknown',
  severity: 'error',
  why: 'Early and main crop are different fruit and are never mixed.',
  message: ({ name }) => `${name} is not a crop of this ledger`,
  advice: ({ nearest, known }) =>
    nearest === undefined ? `crops: ${known.join(', ')}` : `did you mean ${nearest}?`,
});

export const cropWords = wording<{ word: string }>({
  rule: 'crop-words',
  severity: 'error',
  why: 'One word for both crops, or the word of one crop for the other, would mix them.',
  message: ({ word }) => `the word ${word} would stand for both crops`,
  advice: () => 'give each crop a word of its own, for example crops: { early: breba, main: main }',
});
export const traitTaken = wording<{ name: string }>({
  rule: 'trait-taken',
  severity: 'error',
  why: 'The rank names its parts; a trait with the name of a measured part could not be told from it.',
  message: ({ name }) => `the trait ${name} has the name of something that pomary measures itself`,
  advice: () => 'give the trait another name',
});
export const traitTwice = wording<{ name: string }>({
  rule: 'trait-twice',
  severity: 'error',
  why: 'A trait listed twice would be weighed twice.',
  message: ({ name }) => `the trait ${name} is listed twice`,
});
export const scaleEmpty = wording<{ low: number; high: number }>({
  rule: 'scale-empty',
  severity: 'error',
  why: 'Scores need room between the worst and the best.',
  message: ({ low, high }) => `the scale runs from ${low} to ${high}: high must be above low`,
});
export const degreeLimits = wording<{ base: number; upper: number }>({
  rule: 'degree-limits',
  severity: 'error',
  why: 'Warmth is counted between the two limits, so they need room between them.',
  message: ({ base, upper }) => `upper is ${upper} degC, not above the base of ${base} degC`,
});
export const bandPoints = wording<{ part: string; why: string }>({
  rule: 'band-points',
  severity: 'error',
  why: 'A band is a broken line that is read from left to right.',
  message: ({ part, why }) => `the band of ${part} ${why}`,
  advice: () => 'for example [[0, 1], [4, 10]]: at 0 the scale gives 1, at 4 it gives 10',
});

export const bandUnitMissing = wording<{ oz: string; g: string }>({
  rule: 'band-unit-missing',
  severity: 'error',
  why: 'Where fruit is weighed in oz, a bare size in a band may mean oz or g, and the rank comes out quite different.',
  message: () => 'the band of size does not say whether it is in oz or in g',
  advice: ({ oz, g }) => `write the unit: size: ${oz} if you meant oz, size: ${g} if you meant g`,
});

export const sampleTwice = wording<{ label: string }>({
  rule: 'sample-twice',
  severity: 'error',
  why: 'Score sheets call a sample by its label, so each sample of a sitting needs one of its own.',
  message: ({ label }) => `two samples of this sitting are called ${label}`,
  advice: ({ label }) =>
    `give one of them a label, for example as: "${label}-2", and use it in scores and order`,
});

interface Stranger extends Lost {
  readonly taster: string;
  readonly served: string | undefined;
}
function strangerAdvice({ name, nearest, served }: Stranger): string {
  if (served !== undefined) return `${name} was served here as ${served}: use that label`;
  return nearest === undefined ? 'list it under samples first' : `did you mean ${nearest}?`;
}
export const scoreStranger = wording<Stranger>({
  rule: 'score-stranger',
  severity: 'error',
  why: 'A score belongs to a fruit that was on the table.',
  message: ({ name, taster }) => `${taster} scores ${name}, which is not a sample of this sitting`,
  advice: strangerAdvice,
});
export const orderStranger = wording<Stranger>({
  rule: 'order-stranger',
  severity: 'error',
  why: 'An order ranks what was on the table.',
  message: ({ name, taster }) =>
    `${taster} puts ${name} in order, which is not a sample of this sitting`,
  advice: strangerAdvice,
});
export const orderRepeat = wording<{ name: string; taster: string }>({
  rule: 'order-repeat',
  severity: 'error',
  why: 'A sample has one place in an order.',
  message: ({ name, taster }) => `${taster} has ${name} in the order twice`,
  advice: () => 'keep the place that is meant',
});
export const scoreOffScale = wording<{ trait: string; value: number; low: number; high: number }>({
  rule: 'score-off-scale',
  severity: 'error',
  why: 'A score outside the scale is a slip, and would weigh more than any true one.',
  message: ({ trait, value, low, high }) =>
    `${trait} is ${value}, but the scale runs from ${low} to ${high}`,
});
