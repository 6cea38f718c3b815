import { type CropRecord, selectRecords } from '../measure/crop-record.ts';
import { PART_OF_RECORD } from '../measure/measured-parts.ts';
import type { Selection } from '../measure/selection.ts';
import type { Cultivar, Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Sample, Taster, Tasting } from '../model/entries.ts';
import { type Crop, type Ledger, MEASURED_PARTS, type MeasuredPart } from '../model/ledger.ts';
import type { HarvestRow, JudgedTrial, TastedRow } from './judged-trial.ts';
import { numbering } from './numbering.ts';
import { type TastedScore, tastedScores } from './tasted-scores.ts';

/** Parts that carry a weight above 0, in the order of the ledger. */
export function weighedParts(ledger: Ledger): readonly (readonly [part: string, weight: number])[] {
  return [...ledger.trial.rank.weights].filter(([, weight]) => weight > 0);
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
  /** By item. */
  readonly evidence: readonly Evidence[];
}

/** How much was seen of an item. */
export interface Evidence {
  readonly trees: number;
  readonly seasons: number;
  /** Sittings at which it was tasted. */
  readonly tastings: number;
  /** Keys of the sites where it was seen. */
  readonly sites: readonly string[];
}

/** Everything that a selection has of one crop, for the index model. */
export function gatherTrial(ledger: Ledger, selection: Selection, crop: Crop): GatheredTrial {
  const chosen: Selection = { ...selection, crops: [crop] };
  const records = selectRecords(ledger, chosen);
  const scores = tastedScores(ledger, chosen);
  const seen = seenOf(records, scores);
  const cultivars = [...ledger.cultivars.values()].filter((cultivar) => seen.has(cultivar));
  const items = numbering<Cultivar>(cultivars);
  const trees = numbering<Tree>();
  const sites = numbering<string>();
  const weights = weighedParts(ledger);
  const traits = weights.flatMap(([key, weight]) => (isMeasured(key) ? [] : [{ key, weight }]));
  const measured = weights.flatMap(([part, weight]) => {
    const band = isMeasured(part) ? ledger.trial.rank.bands.get(part) : undefined;
    return isMeasured(part) && band !== undefined ? [{ part, weight, band }] : [];
  });

  const sittings = numbering<Tasting>();
  const plates = numbering<Sample>();
  const tasters = numbering<Taster>();
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
        item: items(tree.cultivar),
        tree: trees(tree),
        season: tasting.season,
        site: sites(site),
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
    scale: ledger.trial.scale,
    traits,
    measured,
    tasted: [...rows.values()],
    harvested: records.map((record) => ({
      item: items(record.tree.cultivar),
      tree: trees(record.tree),
      season: record.season,
      site: sites(record.site),
      ...harvestOf(record, ledger.trial.frost.get(record.season)),
    })),
    evidence: cultivars.map((cultivar) => {
      const { trees, seasons, tastings, sites } = seen.get(cultivar) ?? nothingSeen();
      return {
        trees: trees.size,
        seasons: seasons.size,
        tastings: tastings.size,
        sites: [...sites],
      };
    }),
  };
}

/** What was seen of a cultivar. */
interface Seen {
  readonly trees: Set<Tree>;
  readonly seasons: Set<number>;
  readonly tastings: Set<Tasting>;
  readonly sites: Set<string>;
}

function nothingSeen(): Seen {
  return { trees: new Set(), seasons: new Set(), tastings: new Set(), sites: new Set() };
}

function seenOf(
  records: readonly CropRecord[],
  scores: readonly TastedScore[],
): ReadonlyMap<Cultivar, Seen> {
  const seen = new Map<Cultivar, Seen>();
  const grown = (tree: Tree, season: number, site: string): Seen => {
    let own = seen.get(tree.cultivar);
    if (own === undefined) {
      own = nothingSeen();
      seen.set(tree.cultivar, own);
    }
    own.trees.add(tree);
    own.seasons.add(season);
    own.sites.add(site);
    return own;
  };
  for (const { tree, season, site } of records) grown(tree, season, site);
  for (const { score, tasting, site } of scores) {
    grown(score.sample.tree, tasting.season, site).tastings.add(tasting);
  }
  return seen;
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
