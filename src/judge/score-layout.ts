import type { Factor } from '../stats/numbers/factor.ts';
import type { ScoredSubject } from './score-models.ts';

/** Scores as rows: a value, and by whom, of what and at which sitting it was given. */
export interface ScoreLayout {
  readonly y: readonly number[];
  readonly subject: Factor;
  readonly taster: Factor;
  readonly sitting: Factor;
}

/** The scores of some subjects, one after the other; level of a subject: its place. */
export function scoreLayout(subjects: readonly ScoredSubject[]): ScoreLayout {
  const rows = subjects.flatMap(({ scores }, subject) =>
    scores.map((one) => ({ ...one, subject })),
  );
  return {
    y: rows.map(({ score }) => score.value),
    subject: { levels: rows.map(({ subject }) => subject), count: subjects.length },
    taster: numbered(rows.map(({ score }) => score.taster.key)),
    sitting: numbered(rows.map(({ tasting }) => tasting)),
  };
}

function numbered(values: readonly unknown[]): Factor {
  const places = new Map([...new Set(values)].map((value, place) => [value, place]));
  return { levels: values.map((value) => places.get(value) ?? 0), count: places.size };
}
