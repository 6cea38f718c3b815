import { groupBy } from '../../measure/group-by.ts';
import { allows } from '../../measure/selection.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import type { Sample } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import { JOINT_PRIOR } from '../../stats/joint/joint-prior.ts';
import { additiveModel } from '../../stats/linear/additive-model.ts';
import { type NestedSpread, nestedSpread } from '../../stats/linear/nested-spread.ts';
import { type ScoreLayout, scoreLayout } from './score-layout.ts';
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
  /** Degrees of freedom of the errors. */
  readonly df: number;
  /** What plates, seasons and trees do, where plates are the unit and leave anything to tell it by. */
  readonly spread: NestedSpread | undefined;
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
 * Procedures of Statistics, section 7.9). Plates of a tree share its luck, and in a season that
 * season's: both are in the errors as far as the plates tell them (`nestedSpread`), so that what is
 * told apart are cultivars and not trees in their years. With `score` each score counts for itself.
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
  const model = told(subjects, of.unit, by);
  return model === undefined ? [] : [{ ...of, subjects, ...model }];
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

function told(subjects: readonly ScoredSubject[], unit: ScoreUnit, by: ScoredBy) {
  const layout = scoreLayout(subjects, unit);
  const { y, subject, taster, sitting } = layout;
  const model = additiveModel({
    y,
    treatment: subject.levels,
    treatments: subject.count,
    factors: taster === undefined ? [sitting] : [taster, sitting],
  });
  if (model === undefined) return undefined;
  const { residualVariance } = model;
  const spread = residualVariance ? plateSpread(layout, by) : undefined;
  // Covariances are in units of the residual variance.
  const inflated = (covariance: ScoreGroup['covariance'], members: readonly number[]) =>
    spread === undefined || residualVariance === undefined
      ? covariance
      : covariance?.map((row, i) =>
          row.map((value, j) => {
            const [one, other] = [members[i] ?? 0, members[j] ?? 0];
            const both = (spread.asRows[one] ?? 0) * (spread.asRows[other] ?? 0);
            return (value / residualVariance) * Math.sqrt(both);
          }),
        );
  const unsure =
    residualVariance === undefined ? 'too few' : residualVariance === 0 ? 'no spread' : undefined;
  const groups = model.groups
    .map(({ treatments, covariance }) => ({
      members: treatments,
      covariance: unsure === undefined ? inflated(covariance, treatments) : undefined,
    }))
    .toSorted((a, b) => b.members.length - a.members.length);
  const groupOf = new Array<number>(subjects.length).fill(0);
  const errors = new Array<number | undefined>(subjects.length).fill(undefined);
  for (const [place, { members, covariance }] of groups.entries()) {
    members.forEach((member, at) => {
      groupOf[member] = place;
      const variance = covariance?.[at]?.[at];
      if (variance !== undefined) errors[member] = Math.sqrt(Math.max(0, variance));
    });
  }
  return {
    means: subjects.map((_, at) => model.means[at] ?? 0),
    rawMeans: subjects.map(({ scores }) => mean(scores.map(({ score }) => score.value)) ?? 0),
    errors,
    groups,
    groupOf,
    df: spread?.df ?? model.df,
    spread,
    unsure,
  } as const;
}

function plateSpread(layout: ScoreLayout, by: ScoredBy): NestedSpread | undefined {
  const { y, subject, sitting, groups } = layout;
  if (groups === undefined) return undefined;
  return nestedSpread({
    y,
    block: sitting,
    treatment: subject,
    outer: by === 'tree' ? undefined : groups.tree,
    inner: groups.stand,
    expected: TREES_TO_SEASONS,
  });
}

/** How far trees of a cultivar are expected to differ against a cultivar's seasons, as variances; see `JOINT_PRIOR`. */
const TREES_TO_SEASONS = JOINT_PRIOR.shares.centre.tree / JOINT_PRIOR.shares.centre.season;
