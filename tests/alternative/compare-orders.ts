import { kendallTauB, type RankCorrelation } from '../support/kendall-tau-b.ts';
import type { Figure } from './figure.ts';

/** How far two ranks put the cultivars of a crop in the same order. */
export interface ComparedOrder {
  readonly crop: string;
  /** Cultivars that both rank. */
  readonly cultivars: number;
  /** Cultivars that only one of them ranks. */
  readonly alone: readonly string[];
  readonly tau: RankCorrelation | undefined;
}

/** Orders of cultivars by two sets of indexes, crop by crop. */
export function compareOrders(
  pomary: readonly Figure[],
  r: readonly Figure[],
): readonly ComparedOrder[] {
  const [ours, theirs] = [indexes(pomary), indexes(r)];
  return [...new Set([...ours, ...theirs].map(({ crop }) => crop))].map((crop) => {
    const own = new Map(ours.filter((one) => one.crop === crop).map((one) => [one.of, one.value]));
    const other = new Map(
      theirs.filter((one) => one.crop === crop).map((one) => [one.of, one.value]),
    );
    const both = [...own.keys()].filter((of) => other.has(of));
    return {
      crop,
      cultivars: both.length,
      alone: [...own.keys(), ...other.keys()].filter((of) => !both.includes(of)),
      tau: kendallTauB(
        both.map((of) => own.get(of) ?? 0),
        both.map((of) => other.get(of) ?? 0),
      ),
    };
  });
}

function indexes(figures: readonly Figure[]): readonly Figure[] {
  return figures.filter(({ figure }) => figure === 'index');
}
