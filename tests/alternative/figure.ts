/** One number of a report, and what it is of. */
export interface Figure {
  readonly report: string;
  readonly crop: string;
  /** Name of a cultivar, id of a tree, or a line of an analysis of variance. */
  readonly of: string;
  /** Empty where the report knows no traits. */
  readonly trait: string;
  readonly figure: string;
  readonly value: number;
}

/** A report that both pomary and the R script can make. */
export interface Report {
  /** As the R script knows it. */
  readonly name: string;
  /** What stands after `pomary`. */
  readonly argv: readonly string[];
  /** Column that tells what a row is of. */
  readonly by: 'cultivar' | 'tree';
}

/** The reports whose figures must be equal. */
export const REPORTS: readonly Report[] = [
  { name: 'yield by tree', argv: ['yield'], by: 'tree' },
  { name: 'yield by cultivar', argv: ['yield', '--by', 'cultivar'], by: 'cultivar' },
  { name: 'weights', argv: ['weights'], by: 'cultivar' },
  { name: 'soundness', argv: ['soundness'], by: 'cultivar' },
  { name: 'crops', argv: ['crops'], by: 'cultivar' },
  { name: 'stability', argv: ['stability'], by: 'cultivar' },
  { name: 'scores', argv: ['scores', '--explain'], by: 'cultivar' },
];

/** The rank: pomary draws it from a mixed model, R puts together means of least squares. Only the orders compare. */
export const RANK: Report = { name: 'rank', argv: ['rank'], by: 'cultivar' };
