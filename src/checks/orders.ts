import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Order, Sample, Score } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { mean } from '../stats/describe/mean.ts';
import type { Rule } from './rule.ts';

const orderAgainstScoresWords = wording<{
  taster: string;
  better: string;
  worse: string;
  betterMean: string;
  worseMean: string;
}>({
  rule: 'order-against-scores',
  severity: 'hint',
  why: 'A taster may well prefer what scored lower, but an order more than one point in ten against their own scores is more often written the wrong way round.',
  message: ({ taster, better, worse, betterMean, worseMean }) =>
    `${taster} puts ${better} before ${worse}, but scored them ${betterMean} and ${worseMean}`,
  advice: () => 'check that the order begins with the best and that no labels were swapped',
});

/*
 * One remark an order, at the pair that is furthest from the taster's own scores. The work in a
 * sitting grows with the square of the samples that one person can put in order, which is few.
 */
export const orderAgainstScores: Rule = {
  words: [orderAgainstScoresWords],
  check: findOrderAgainstScores,
};

/** By trait. */
type Sheet = ReadonlyMap<string, number>;

interface Contradiction {
  readonly better: Sample;
  readonly worse: Sample;
  readonly betterMean: number;
  readonly worseMean: number;
}

function* findOrderAgainstScores({ seasons, trial }: Ledger): Generator<Diagnostic> {
  // One point on a scale of 1 to 10, two traits or more being averaged.
  const tolerated = (trial.scale.high - trial.scale.low) / 9;
  for (const { orders, scores } of seasons.flatMap(({ tastings }) => tastings)) {
    if (orders.length === 0 || scores.length === 0) continue;
    const byTaster = groupBy(scores, ({ taster }) => taster);
    for (const order of orders) {
      const worst = worstPair(order, sheetsOf(byTaster.get(order.taster) ?? []));
      if (worst === undefined || gap(worst) <= tolerated + 1e-9) continue;
      yield diagnose(orderAgainstScoresWords, order.at, {
        taster: order.taster.name,
        better: worst.better.label,
        worse: worst.worse.label,
        betterMean: shown(worst.betterMean),
        worseMean: shown(worst.worseMean),
      });
    }
  }
}

function sheetsOf(scores: readonly Score[]): ReadonlyMap<Sample, Sheet> {
  const sheets = new Map<Sample, Map<string, number>>();
  for (const { sample, trait, value } of scores) {
    const sheet = sheets.get(sample);
    if (sheet === undefined) sheets.set(sample, new Map([[trait, value]]));
    else sheet.set(trait, value);
  }
  return sheets;
}

function worstPair(order: Order, sheets: ReadonlyMap<Sample, Sheet>): Contradiction | undefined {
  let worst: Contradiction | undefined;
  const before: Sample[] = [];
  for (const rank of order.ranks) {
    for (const worse of rank) {
      for (const better of before) {
        const found = contradiction(better, worse, sheets);
        if (found !== undefined && (worst === undefined || gap(found) > gap(worst))) worst = found;
      }
    }
    before.push(...rank);
  }
  return worst;
}

/** Means over the traits that the taster scored of both. */
function contradiction(
  better: Sample,
  worse: Sample,
  sheets: ReadonlyMap<Sample, Sheet>,
): Contradiction | undefined {
  const one = sheets.get(better);
  const other = sheets.get(worse);
  if (one === undefined || other === undefined) return undefined;
  const traits = [...one.keys()].filter((trait) => other.has(trait));
  const betterMean = mean(traits.map((trait) => one.get(trait) ?? 0));
  const worseMean = mean(traits.map((trait) => other.get(trait) ?? 0));
  if (betterMean === undefined || worseMean === undefined) return undefined;
  return { better, worse, betterMean, worseMean };
}

function gap({ betterMean, worseMean }: Contradiction): number {
  return worseMean - betterMean;
}

function shown(score: number): string {
  return String(Math.round(score * 10) / 10);
}
