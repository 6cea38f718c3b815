import { type CropRecord, selectRecords } from '../../measure/crop-record.ts';
import { PART_OF_RECORD } from '../../measure/measured-parts.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { type IsoDate, seasonOf } from '../../model/dates.ts';
import type { Sample, Taster, Tasting } from '../../model/entries.ts';
import { type Crop, type Ledger, MEASURED_PARTS, type MeasuredPart } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { orderSheets } from '../orders/order-sheets.ts';
import { type TastedSelection, tastedScores } from '../scores/tasted-scores.ts';
import type { HarvestRow, JudgedTrial, TastedRow } from './judged-trial.ts';
import { numbering } from './numbering.ts';

/** Parts that carry a weight above 0, in the order of the ledger. */
export function weighedParts(ledger: Ledger): readonly (readonly [part: string, weight: number])[] {
  return [...ledger.trial.rank.weights].filter(([, weight]) => weight > 0);
}

/** Those that an index can be made of: a measured part has to have a band. */
export function indexedParts(ledger: Ledger): readonly (readonly [part: string, weight: number])[] {
  const { bands } = ledger.trial.rank;
  return weighedParts(ledger).filter(([part]) => !isMeasured(part) || bands.has(part));
}

export function isMeasured(part: string): part is MeasuredPart {
  return (MEASURED_PARTS as readonly string[]).includes(part);
}

/** One crop's trial in numbers, with who the items are. */
export interface GatheredTrial extends JudgedTrial {
  readonly crop: Crop;
  /** Whom the items stand for: every cultivar with any entry of the crop, in the ledger's order. */
  readonly cultivars: readonly Cultivar[];
  readonly records: readonly CropRecord[];
  /** By site. */
  readonly siteKeys: readonly string[];
  /** Numbers of trees that are no more. */
  readonly removedTrees: ReadonlySet<number>;
}

/**
 * Everything that a selection has of one crop, for the index model.
 *
 * @param weights parts that are asked for; those of the index if left out
 */
export function gatherTrial(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  weights = indexedParts(ledger),
): GatheredTrial {
  const chosen: TastedSelection = { ...selection, crops: [crop] };
  const records = selectRecords(ledger, chosen);
  const scores = tastedScores(ledger, chosen);
  const seen = new Set([
    ...records.map(({ tree }) => tree.cultivar),
    ...scores.map(({ score }) => score.sample.tree.cultivar),
  ]);
  const cultivars = [...ledger.cultivars.values()].filter((cultivar) => seen.has(cultivar));
  const items = numbering<Cultivar>(cultivars);
  const trees = numbering<Tree>();
  const siteKeys = [
    ...new Set([...records.map(({ site }) => site), ...scores.map(({ site }) => site)]),
  ].toSorted();
  const sites = numbering<string>(siteKeys);
  const traits = weights.flatMap(([key, weight]) => (isMeasured(key) ? [] : [{ key, weight }]));
  const measured = weights.flatMap(([part, weight]) =>
    isMeasured(part) ? [{ part, weight, band: ledger.trial.rank.bands.get(part) }] : [],
  );

  const sittings = numbering<Tasting>();
  const plates = numbering<Sample>();
  const tasters = numbering<Taster>();
  const standing = (tree: Tree, season: number, site: string) => ({
    item: items(tree.cultivar),
    tree: trees(tree),
    season,
    site: sites(site),
    age: ageIn(ledger, tree, season),
  });
  const traitAt = new Map(traits.map(({ key }, at) => [key, at]));
  const rows = new Map<number, TastedRow & { readonly scores: (number | undefined)[] }>();
  for (const { score, tasting, site } of scores) {
    const { tree } = score.sample;
    const plate = plates(score.sample);
    const taster = tasters(score.taster);
    const sheet = plate * ledger.trial.tasters.size + taster;
    let row = rows.get(sheet);
    if (row === undefined) {
      row = {
        ...standing(tree, tasting.season, site),
        sitting: sittings(tasting),
        plate,
        taster,
        scores: traits.map(() => undefined),
      };
      rows.set(sheet, row);
    }
    const at = traitAt.get(score.trait);
    if (at !== undefined) row.scores[at] = score.value;
  }
  return {
    crop,
    cultivars,
    records,
    items: cultivars.length,
    sites: siteKeys.length,
    siteKeys,
    removedTrees: new Set(
      removedIn([...records, ...scores.map(({ score }) => score.sample)], trees),
    ),
    scale: ledger.trial.scale,
    traits,
    measured,
    tasted: [...rows.values()],
    ordered: orderSheets(ledger, chosen, 'orders').flatMap(({ tasting, taster, ranks }) => {
      const scored = new Set(
        tasting.scores.flatMap((score) => (score.taster === taster ? [score.sample] : [])),
      );
      const own = ranks
        .map((rank) =>
          rank.filter((sample) => !scored.has(sample) && seen.has(sample.tree.cultivar)),
        )
        .filter((rank) => rank.length > 0);
      return own.flat().length < 2
        ? []
        : [
            own.map((rank) =>
              rank.map((sample) => ({
                ...standing(sample.tree, tasting.season, siteOn(ledger, sample.tree, tasting.on)),
                sitting: sittings(tasting),
                plate: plates(sample),
              })),
            ),
          ];
    }),
    harvested: records.map((record) => ({
      ...standing(record.tree, record.season, record.site),
      ...harvestOf(record, ledger.trial.frost.get(record.season)),
    })),
  };
}

/** Numbers of the trees of some records or samples that were taken out. */
function removedIn(
  those: readonly { readonly tree: Tree }[],
  number: (tree: Tree) => number,
): readonly number[] {
  return those.flatMap(({ tree }) => (tree.removed === undefined ? [] : [number(tree)]));
}

/** How old a tree is in a season: 1 in the first that it could bear in. */
function ageIn({ trial }: Ledger, { planted }: Tree, season: number): number | undefined {
  if (planted === undefined) return undefined;
  return Math.max(1, season - seasonOf(planted.latest, trial.place.latitude));
}

function harvestOf(
  record: CropRecord,
  frost: IsoDate | undefined,
): Pick<HarvestRow, 'borne' | 'weighed' | 'sound' | 'ripened'> {
  const size = PART_OF_RECORD.size(record, frost);
  return {
    borne: PART_OF_RECORD.productivity(record, frost),
    weighed: size && { ...size, singles: record.weights.singles },
    sound: PART_OF_RECORD.soundness(record, frost),
    ripened: PART_OF_RECORD.ripened(record, frost),
  };
}
