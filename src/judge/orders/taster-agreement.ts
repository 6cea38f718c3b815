import { groupBy } from '../../measure/group-by.ts';
import type { Sample, Tasting } from '../../model/entries.ts';
import type { Crop } from '../../model/ledger.ts';
import { friedmanChance } from '../../stats/ranks/friedman-chance.ts';
import { kendallW } from '../../stats/ranks/kendall-w.ts';
import type { OrderSheet } from './order-sheets.ts';

/** How far tasters agreed at a sitting. */
export interface TasterAgreement {
  readonly tasting: Tasting;
  readonly crop: Crop;
  readonly tasters: number;
  readonly samples: number;
  /** Kendall's coefficient of concordance, corrected for ties: 0 none, 1 full. */
  readonly w: number;
  /** The chance of so much agreement among tasters who order at random. */
  readonly chance: number;
}

/** Fewer tasters or plates than this say nothing of agreement. */
const LEAST = 3;

/**
 * Agreement at each sitting and crop where three tasters or more put the same three plates or more
 * in order (see `kendallW` and `friedmanChance`). Where not all ordered everything, the tasters who ordered most are
 * taken, as many of them as leave three plates in common, and the plates that they share.
 */
export function tasterAgreement(sheets: readonly OrderSheet[]): readonly TasterAgreement[] {
  const sittings = groupBy(sheets, ({ tasting }) => tasting);
  return [...sittings].flatMap(([tasting, own]) =>
    [...groupBy(own, ({ crop }) => crop)].flatMap(([crop, same]) => {
      const panel = commonPanel(same, LEAST);
      if (panel === undefined) return [];
      const places = panel.map((one) => one.places);
      const [found, chance] = [kendallW(places), friedmanChance(places)];
      if (found === undefined || chance === undefined) return [];
      const samples = places[0]?.length ?? 0;
      return [{ tasting, crop, tasters: panel.length, samples, w: found.w, chance }];
    }),
  );
}

/**
 * The places that each taster of the panel gave the plates that all of them ordered; undefined
 * without so many tasters of so many plates.
 */
export function commonPanel(
  sheets: readonly OrderSheet[],
  least: number,
): readonly { readonly places: readonly number[] }[] | undefined {
  const placed = sheets
    .map(({ ranks }) => new Map(ranks.flatMap((rank, at) => rank.map((one) => [one, at] as const))))
    .toSorted((a, b) => b.size - a.size);
  for (let tasters = placed.length; tasters >= least; tasters--) {
    const panel = placed.slice(0, tasters);
    const common = [...(panel[0]?.keys() ?? [])].filter((sample: Sample) =>
      panel.every((places) => places.has(sample)),
    );
    if (common.length < least) continue;
    return panel.map((places) => ({ places: common.map((sample) => places.get(sample) ?? 0) }));
  }
  return undefined;
}
