import { CROPS, type Ledger, MEASURED_PARTS } from '../model/ledger.ts';

/** What a ledger calls its things, for an editor to offer while someone types. */
export interface OwnWords {
  readonly trees: readonly string[];
  readonly cultivars: readonly string[];
  readonly sites: readonly string[];
  readonly tasters: readonly string[];
  readonly traits: readonly string[];
  readonly crops: readonly string[];
  /** What fruit tastes of. */
  readonly words: readonly string[];
  /** What the rank may weigh. */
  readonly parts: readonly string[];
}

/** The words of a ledger that is not at hand: what any ledger understands. */
export const COMMON_WORDS: OwnWords = {
  trees: [],
  cultivars: [],
  sites: [],
  tasters: [],
  traits: [],
  crops: CROPS,
  words: [],
  parts: [],
};

export function ownWords({ trial, cultivars, trees }: Ledger): OwnWords {
  return {
    trees: [...trees.keys()],
    cultivars: [...cultivars.keys()],
    sites: [...trial.sites.keys()],
    tasters: [...trial.tasters.keys()],
    traits: trial.traits,
    crops: [...new Set([...CROPS.map((crop) => trial.cropNames[crop]), ...CROPS])],
    words: trial.words,
    parts: [...trial.traits, ...MEASURED_PARTS],
  };
}
