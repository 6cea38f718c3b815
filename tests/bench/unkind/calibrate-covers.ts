import { type CoverRow, coverRows } from './cover-tally.ts';
import { COVER_KINDS } from './garden-kinds.ts';

/**
 * How often intervals of `rank --by cover` hold what is true under that cover, and what `verdict --by cover` would get
 * wrong if any number of tastings sufficed. Nominal 90 %.
 *
 * Usage: node .build/script.mjs tests/bench/unkind/calibrate-covers.ts [trials] [first seed] [part of a garden's name]
 */
const [trials = '20', seed = '500000', only = ''] = process.argv.slice(2);
/** Tastings up to which a row is thin. */
const THIN = 3;

const COLUMNS: readonly { readonly name: string; readonly isOf: (row: CoverRow) => boolean }[] = [
  { name: 'all', isOf: () => true },
  { name: `tasted more than ${THIN} times`, isOf: ({ tastings }) => tastings > THIN },
  { name: `tasted 1 to ${THIN} times`, isOf: ({ tastings }) => tastings > 0 && tastings <= THIN },
  { name: 'never tasted there', isOf: ({ tastings }) => tastings === 0 },
];

console.log(`Nominal 90 %, ${trials} trials a row, se behind ±.\n`);
const names = COLUMNS.map(({ name }) => name).join(' | ');
console.log(`| garden | ${names} | wrong discard | wrong increase | the same, thin rows |`);
console.log(`|---|${COLUMNS.map(() => '---').join('|')}|---|---|---|`);
for (const kind of COVER_KINDS.filter(({ name }) => name.includes(only))) {
  const rows = coverRows(kind, Number(trials), Number(seed));
  const covered = COLUMNS.map(({ isOf }) => percent(rows.filter(isOf)));
  const thin = rows.filter(({ tastings }) => tastings <= THIN);
  const cells = [...covered, wrong(rows, 'discard'), wrong(rows, 'increase')];
  const few = `${wrong(thin, 'discard')}, ${wrong(thin, 'increase')}`;
  console.log(`| ${[kind.name, ...cells, few].join(' | ')} |`);
}

function wrong(rows: readonly CoverRow[], verdict: 'discard' | 'increase'): string {
  const own = rows.filter((row) => row.verdict === verdict);
  const isWrong = ({ truth, marks }: CoverRow) =>
    verdict === 'discard' ? truth > marks.discard_below : truth < marks.increase_above;
  return `${own.filter(isWrong).length} of ${own.length}`;
}

/** Of rows, with the standard error between trials. */
function percent(rows: readonly CoverRow[]): string {
  if (rows.length === 0) return '-';
  const holds = ({ truth, low, high }: CoverRow) => low <= truth && truth <= high;
  const share = rows.filter(holds).length / rows.length;
  const apart = new Map<number, number>();
  for (const row of rows) {
    apart.set(row.trial, (apart.get(row.trial) ?? 0) + (holds(row) ? 1 : 0) - share);
  }
  const squares = [...apart.values()].reduce((sum, one) => sum + one * one, 0);
  const error = (100 * Math.sqrt(squares)) / rows.length;
  return `${(100 * share).toFixed(1)} ± ${error.toFixed(1)} (${rows.length})`;
}
