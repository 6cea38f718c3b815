import { type CropRecord, selectRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Selection } from '../measure/selection.ts';
import type { Cultivar, Tree } from '../model/collection.ts';
import { DEFECTS, type Sample, type Tasting } from '../model/entries.ts';
import {
  type Crop,
  type Ledger,
  MEASURED_PARTS,
  type MeasuredPart,
  type Taster,
} from '../model/ledger.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { HarvestRow, JudgedTrial, TastedRow } from './judged-trial.ts';
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
  const grown = (tree: Tree, season: number, site: string) => ({
    item: items(tree.cultivar),
    tree: trees(tree),
    season,
    site: sites(site),
  });

  const weights = weighedParts(ledger);
  const traits = weights.flatMap(([key, weight]) => (isMeasured(key) ? [] : [{ key, weight }]));
  const measured = weights.flatMap(([part, weight]) => {
    const band = isMeasured(part) ? ledger.trial.rank.bands.get(part) : undefined;
    return isMeasured(part) && band !== undefined ? [{ part, weight, band }] : [];
  });

  const sittings = numbering<Tasting>();
  const plates = numbering<Sample>();
  const tasters = numbering<Taster>();
  const most = ledger.trial.tasters.size;
  const sheets = groupBy(
    scores,
    ({ score }) => plates(score.sample) * most + tasters(score.taster),
  );
  const tasted = [...sheets.values()].flatMap((sheet): TastedRow[] => {
    const [first] = sheet;
    if (first === undefined) return [];
    const { sample, taster } = first.score;
    const given = (key: string) => sheet.findLast(({ score }) => score.trait === key)?.score.value;
    return [
      {
        ...grown(sample.tree, first.tasting.season, first.site),
        sitting: sittings(first.tasting),
        plate: plates(sample),
        taster: tasters(taster),
        scores: traits.map(({ key }) => given(key)),
      },
    ];
  });
  return {
    crop,
    cultivars,
    records,
    items: cultivars.length,
    scale: ledger.trial.scale,
    traits,
    measured,
    tasted,
    harvested: records.map((record) => ({
      ...grown(record.tree, record.season, record.site),
      ...harvest(ledger, record),
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

function harvest(
  ledger: Ledger,
  { load, branches, picked, picks, defects, weights, season }: CropRecord,
): Pick<HarvestRow, 'borne' | 'weighed' | 'sound' | 'ripened'> {
  const { fruit, weight } = weights.counted;
  const spoiled = sum(DEFECTS.map((defect) => defects[defect]));
  const frost = ledger.trial.frost.get(season);
  const inTime = picks.filter(({ on }) => frost !== undefined && on <= frost);
  return {
    borne: branches === undefined ? undefined : { sum: load.fruit, of: branches },
    weighed:
      fruit > 0 && weight > 0 ? { sum: weight, of: fruit, singles: weights.singles } : undefined,
    sound: picked > 0 ? { sum: picked - spoiled, of: picked } : undefined,
    ripened:
      frost === undefined || load.fruit === 0
        ? undefined
        : { sum: sum(inTime.map((pick) => pick.fruit)), of: load.fruit },
  };
}

/** Numbers things from 0 in the order in which they are first asked for. */
function numbering<Thing>(first: readonly Thing[] = []): (thing: Thing) => number {
  const places = new Map(first.map((thing, place) => [thing, place]));
  return (thing) => {
    const known = places.get(thing);
    if (known !== undefined) return known;
    places.set(thing, places.size);
    return places.size - 1;
  };
}
