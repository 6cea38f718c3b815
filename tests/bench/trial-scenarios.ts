/** What a simulated trial looks like. Spreads are drawn anew for each trial from the ranges in `simulated-trial.ts`. */
export type TrialScenario = {
  readonly name: string;
  readonly cultivars: number;
  readonly seasons: number;
  /** A cultivar has 1 to this many trees. */
  readonly mostTrees: number;
  readonly sittingsPerSeason: number;
  readonly sites: number;
  /** Typical level of a tasted trait on the scale of 1 to 10. */
  readonly level: number;
  /** How far apart harsh and kind tasters are, as a standard deviation. */
  readonly harshness: number;
  /** Share of cells (a trait's score, a tree's figure) that no one wrote down. */
  readonly missing: number;
  /** Multiplies the spread of cultivars from season to season. */
  readonly swing: number;
  /** Multiplies the spread between cultivars. */
  readonly contrast: number;
  /** Whether few cultivars are outstanding, rather than all spread evenly. */
  readonly skewed: boolean;
  /** Share of cultivars that join after the first season. */
  readonly late: number;
};

const BASE: TrialScenario = {
  name: 'base: 20 cultivars, 3 seasons',
  cultivars: 20,
  seasons: 3,
  mostTrees: 3,
  sittingsPerSeason: 7,
  sites: 1,
  level: 6,
  harshness: 0.6,
  missing: 0.05,
  swing: 1,
  contrast: 1,
  skewed: false,
  late: 0.25,
};

export const TRIAL_SCENARIOS: readonly TrialScenario[] = [
  BASE,
  { ...BASE, name: 'one season', seasons: 1, late: 0 },
  { ...BASE, name: 'two seasons', seasons: 2 },
  { ...BASE, name: 'four seasons', seasons: 4 },
  { ...BASE, name: 'one tree each', mostTrees: 1 },
  { ...BASE, name: 'one tree each, one season', mostTrees: 1, seasons: 1, late: 0 },
  { ...BASE, name: 'harsh tasters', harshness: 1.5 },
  { ...BASE, name: 'two sites', sites: 2 },
  { ...BASE, name: 'sparse', sittingsPerSeason: 4, missing: 0.3, late: 0.5 },
  { ...BASE, name: 'good cultivars at the ceiling', level: 8.3 },
  { ...BASE, name: 'few outstanding cultivars', skewed: true },
  { ...BASE, name: 'wide swings between seasons', swing: 1.6 },
  { ...BASE, name: 'one season, wide swings', seasons: 1, late: 0, swing: 1.6 },
  { ...BASE, name: 'cultivars much alike', contrast: 0.6 },
  { ...BASE, name: 'cultivars much alike, one season', contrast: 0.6, seasons: 1, late: 0 },
  { ...BASE, name: '10 cultivars, 2 seasons', cultivars: 10, seasons: 2, sittingsPerSeason: 4 },
  { ...BASE, name: '60 cultivars, 4 seasons', cultivars: 60, seasons: 4, sittingsPerSeason: 24 },
  {
    ...BASE,
    name: '100 cultivars, 10 seasons',
    cultivars: 100,
    seasons: 10,
    sittingsPerSeason: 40,
  },
];
