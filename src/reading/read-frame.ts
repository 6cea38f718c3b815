import { cultivarUnknown } from '../diagnostics/words/naming.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Trial } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import {
  buildCultivars,
  buildTrees,
  checkDoubts,
  type ListedThings,
  type ListedTrees,
} from './build-collection.ts';
import { type BuiltTrial, buildTrial } from './build-trial.ts';
import { type Building, lookUp, WHOLE_LIST } from './building.ts';
import { type Reading, readShaped } from './read-shaped.ts';
import type { SeasonContext } from './season-context.ts';

/** What the files say that the seasons lean on. */
export interface Frame {
  readonly built: BuiltTrial | undefined;
  readonly trial: Trial | undefined;
  readonly cultivars: ListedThings<Cultivar>;
  readonly trees: ListedTrees;
  readonly sites: SeasonContext['sites'];
  readonly tasters: SeasonContext['tasters'];
}

export function readFrame(reading: Reading): Frame {
  const { report } = reading;
  const trialRead = readShaped(reading, 'ledger.yaml', 'ledger', 1, LEDGER_EXAMPLE);
  const built =
    trialRead?.value && buildTrial(trialRead.value, trialRead.bad, trialRead.file, report);
  const trial = built?.trial;
  if (built !== undefined && built.unsure.size > 0) reading.incomplete.add('ledger.yaml');
  const cultivars = readCultivars(reading);
  const units: Building = { units: trial?.units ?? 'metric', report };
  checkDoubts(cultivars, units);
  const sites = listedIn(trial?.sites, built?.unsure.has('sites') ?? true);
  const trees = readTrees(reading, cultivars, sites, units);
  const tasters = listedIn(trial?.tasters, built?.unsure.has('tasters') ?? true);
  if (trial !== undefined) checkStandard(trial, cultivars, units);
  return { built, trial, cultivars, trees, sites, tasters };
}

const LEDGER_EXAMPLE = 'title: My trial';
/** What the files that list things need at least, where something is asked of them. */
export const LIST_EXAMPLES = {
  'cultivars.yaml': 'amber: { name: Amber Lantern, bears: common }',
  'trees.yaml': 'G1: { cultivar: amber, site: glass }',
} as const;

function readCultivars(reading: Reading): ListedThings<Cultivar> {
  const read = readShaped(
    reading,
    'cultivars.yaml',
    'cultivars',
    1,
    LIST_EXAMPLES['cultivars.yaml'],
  );
  if (read?.value === undefined) return { listed: new Map(), faulty: new Set([WHOLE_LIST]) };
  return buildCultivars(read.value, read.bad, read.file);
}

function readTrees(
  reading: Reading,
  cultivars: ListedThings<Cultivar>,
  sites: SeasonContext['sites'],
  building: Building,
): ListedTrees {
  const read = readShaped(reading, 'trees.yaml', 'trees', 1, LIST_EXAMPLES['trees.yaml']);
  if (read?.value === undefined) {
    return { listed: new Map(), faulty: new Set([WHOLE_LIST]), walk: [] };
  }
  return buildTrees(read.value, read.bad, read.file, cultivars, sites, building);
}

function listedIn<Thing>(
  listed: ReadonlyMap<string, Thing> | undefined,
  faulty: boolean,
): ListedThings<Thing> {
  return { listed: listed ?? new Map(), faulty: new Set(faulty ? [WHOLE_LIST] : []) };
}

function checkStandard(trial: Trial, cultivars: ListedThings<Cultivar>, building: Building): void {
  if (trial.standard === undefined) return;
  const where = spotIn(trial.at, 'standard');
  lookUp(building, cultivarUnknown, trial.standard, cultivars.listed, cultivars.faulty, where);
}
