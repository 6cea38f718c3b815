import { groupBy } from '../../measure/group-by.ts';
import { allows } from '../../measure/selection.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import type { Sample } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import { type AdditiveModel, additiveModel } from '../../stats/linear/additive-model.ts';
import { scoreLayout } from './score-layout.ts';
import type { ScoreUnit } from './score-unit.ts';
import { type TastedScore, type TastedSelection, tastedScores } from './tasted-scores.ts';

/** What a mean is of: a cultivar, its trees together, or each tree. */
export type ScoredBy = 'cultivar' | 'tree';

/** What was scored, with what its mean rests on. */
export interface ScoredSubject {
  readonly cultivar: Cultivar;
  /** The one tree that the mean is of; undefined where it is of a cultivar. */
  readonly tree: Tree | undefined;
  /** Samples (plates) with a score. */
  readonly samples: number;
  readonly tasters: number;
  readonly scores: readonly TastedScore[];
}

/** Subjects that sittings and tasters join, so that they can be compared. */
export interface ScoreGroup {
  /** Places in `subjects`, rising. */
  readonly members: readonly number[];
  /** Of the means of `members`, in their order; undefined where no standard error can be had. */
  readonly covariance: readonly (readonly number[])[] | undefined;
}

/** One crop's scores for one trait, with taster and sitting allowed for. */
export interface ScoreModel {
  readonly crop: Crop;
  readonly trait: string;
  /** Unit of errors, F and letters. */
  readonly unit: ScoreUnit;
  /** In the ledger's order. */
  readonly subjects: readonly ScoredSubject[];
  /** By subject: the least-squares mean, on the ledger's scale but not kept within its ends. */
  readonly means: readonly number[];
  /** By subject: the plain mean of its scores. */
  readonly rawMeans: readonly number[];
  /** By subject; undefined where no standard error can be had. */
  readonly errors: readonly (number | undefined)[];
  /** Largest first. */
  readonly groups: readonly ScoreGroup[];
  /** By subject: place in `groups`. */
  readonly groupOf: readonly number[];
  /** Residual degrees of freedom. */
  readonly df: number;
  /** Why no standard error can be had, if so. */
  readonly unsure: 'too few' | 'no spread' | undefined;
}

/**
 * A model a crop and trait: score = subject + taster + sitting, fitted by least squares (see
 * `additiveModel`), early before main, traits in the ledger's order. Early and main crop are never
 * mixed: a sitting that has both counts as two.
 *
 * Tasters of one plate share its luck, so the unit is the plate: plate = subject + sitting, tasters
 * allowed for beforehand (`scoreLayout`), with the spread between plates of a subject for error, as
 * units are tested where several readings are taken of each (Steel & Torrie 1980, Principles and
 * Procedures of Statistics, section 7.9). With `score` each score counts for itself.
 *
 * Everything that was tasted in the selected seasons, sites and crops has its say on tasters and
 * sittings, so cultivars of the selection (and trees, where a subject is a tree) are not cut out
 * here: `isShown` tells which ones were asked for.
 *
 * Without residual degrees of freedom there are means without standard errors; likewise if no
 * spread at all is left, since marks on a coarse scale that happen to agree prove no precision.
 *
 * @param asked `traits`: only these; all where it is empty
 */
export function scoreModels(
  ledger: Ledger,
  selection: TastedSelection,
  {
    by = 'cultivar',
    traits = [],
    unit = 'plate',
  }: {
    readonly by?: ScoredBy;
    readonly traits?: readonly string[];
    readonly unit?: ScoreUnit;
  } = {},
): readonly ScoreModel[] {
  const scores = tastedScores(ledger, {
    ...selection,
    cultivars: [],
    trees: by === 'tree' ? [] : selection.trees,
  });
  const cells = groupBy(scores, ({ score }) => `${score.sample.crop} ${score.trait}`);
  return CROPS.flatMap((crop) =>
    ledger.trial.traits.flatMap((trait) => {
      const own = allows(traits, trait) ? cells.get(`${crop} ${trait}`) : undefined;
      return own === undefined ? [] : scoreModel(ledger, { crop, trait, unit, by }, own);
    }),
  );
}

/** Whether a selection that names cultivars or trees asks for this one. */
export function isShown(selection: TastedSelection, { cultivar, tree }: ScoredSubject): boolean {
  return (
    allows(selection.cultivars, cultivar.key) &&
    (tree === undefined || allows(selection.trees, tree.id))
  );
}

function scoreModel(
  ledger: Ledger,
  { by, ...of }: Pick<ScoreModel, 'crop' | 'trait' | 'unit'> & { readonly by: ScoredBy },
  scores: readonly TastedScore[],
): ScoreModel[] {
  const keyOf = ({ tree }: Sample) => (by === 'tree' ? tree.id : tree.cultivar.key);
  const owned = groupBy(scores, ({ score }) => keyOf(score.sample));
  const keys = [...(by === 'tree' ? ledger.trees : ledger.cultivars).keys()];
  const subjects = keys.flatMap((key) => {
    const own = owned.get(key) ?? [];
    const first = own[0];
    return first === undefined ? [] : [subjectOf(first.score.sample.tree, own, by)];
  });
  const model = fitted(subjects, of.unit);
  return model === undefined ? [] : [{ ...of, subjects, ...told(model, subjects) }];
}

function subjectOf(tree: Tree, scores: readonly TastedScore[], by: ScoredBy): ScoredSubject {
  return {
    cultivar: tree.cultivar,
    tree: by === 'tree' ? tree : undefined,
    samples: new Set(scores.map(({ score }) => score.sample)).size,
    tasters: new Set(scores.map(({ score }) => score.taster.key)).size,
    scores,
  };
}

function fitted(subjects: readonly ScoredSubject[], unit: ScoreUnit): AdditiveModel | undefined {
  const { y, subject, taster, sitting } = scoreLayout(subjects, unit);
  return additiveModel({
    y,
    treatment: subject.levels,
    treatments: subject.count,
    factors: taster === undefined ? [sitting] : [taster, sitting],
  });
}

function told(model: AdditiveModel, subjects: readonly ScoredSubject[]) {
  const { residualVariance, df } = model;
  const unsure =
    residualVariance === undefined ? 'too few' : residualVariance === 0 ? 'no spread' : undefined;
  const groups = model.groups
    .map(({ treatments, covariance }) => ({
      members: treatments,
      covariance: unsure === undefined ? covariance : undefined,
    }))
    .toSorted((a, b) => b.members.length - a.members.length);
  const groupOf = new Array<number>(subjects.length).fill(0);
  for (const [place, { members }] of groups.entries()) {
    for (const member of members) groupOf[member] = place;
  }
  return {
    means: subjects.map((_, at) => model.means[at] ?? 0),
    rawMeans: subjects.map(({ scores }) => mean(scores.map(({ score }) => score.value)) ?? 0),
    errors: subjects.map((_, at) => (unsure === undefined ? model.standardErrors[at] : undefined)),
    groups,
    groupOf,
    df,
    unsure,
  } as const;
}
