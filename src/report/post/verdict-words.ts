import type { Verdict } from '../../judge/verdict/verdict.ts';

/** What a verdict means to a neighbour: the same four headings everywhere that readers meet it. */
export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  increase: 'Worth planting',
  retain: 'Good here',
  watch: 'Still being watched',
  discard: 'Not here',
};
