import { GARDEN_KINDS, type GardenKind } from './garden-kinds.ts';
import { SEEN_PARTS, SEEN_ROWS, type SeenRow, seenRows } from './seen-tally.ts';
import type { SeenPart } from './seen-truth.ts';

/**
 * How often intervals of `yield` and `weights` hold what is true of trees like those that were seen, in the seasons in
 * which they were: of the same age, at the same sites. Nominal 90 %.
 *
 * Usage: node .build/script.mjs tests/bench/unkind/calibrate-seen.ts [trials] [first seed] [part of a garden's name]
 */
const [trials = '100', seed = '500000', only = ''] = process.argv.slice(2);

const TWO_EACH: GardenKind = {
  name: 'two trees each',
  cultivars: 15,
  seasons: 3,
  tasters: 1,
  sites: 2,
  secondTree: 1,
};
const FEW_FRUIT = 8;

interface ShownColumn {
  readonly name: string;
  readonly isOf: (row: SeenRow) => boolean;
  readonly holds: (row: SeenRow) => boolean;
}

const COLUMNS = SEEN_PARTS.flatMap((part) => SEEN_ROWS.flatMap((by) => columnsOf(part, by)));

function columnsOf(part: SeenPart, by: SeenRow['by']): ShownColumn[] {
  const isOf = (row: SeenRow) => row.part === part && row.by === by;
  const holds = (row: SeenRow) => row.holds;
  const all = { name: `${part === 'productivity' ? 'yield' : 'weights'} by ${by}`, isOf, holds };
  if (by === 'cultivar') {
    return [all, { name: 'trees alike', isOf, holds: (row) => row.holdsEven }];
  }
  const isFew = (row: SeenRow) => isOf(row) && row.fruit < FEW_FRUIT;
  return [all, { name: `fewer than ${FEW_FRUIT} fruit`, isOf: isFew, holds }];
}

console.log(`Nominal 90 %, ${trials} trials a row, se behind ±.\n`);
console.log(`| garden | ${COLUMNS.map(({ name }) => name).join(' | ')} |`);
console.log(`|---|${COLUMNS.map(() => '---').join('|')}|`);
for (const kind of [...GARDEN_KINDS, TWO_EACH]) {
  if (!kind.name.includes(only)) continue;
  const rows = await seenRows(kind, Number(trials), Number(seed));
  const cells = COLUMNS.map(({ isOf, holds }) => percent(rows.filter(isOf), holds));
  console.log(`| ${[kind.name, ...cells].join(' | ')} |`);
}

/** Of rows, with the standard error between trials. */
function percent(rows: readonly SeenRow[], holds: (row: SeenRow) => boolean): string {
  if (rows.length === 0) return '-';
  const share = rows.filter(holds).length / rows.length;
  const apart = new Map<number, number>();
  for (const row of rows) {
    apart.set(row.trial, (apart.get(row.trial) ?? 0) + (holds(row) ? 1 : 0) - share);
  }
  const squares = [...apart.values()].reduce((sum, one) => sum + one * one, 0);
  return `${(100 * share).toFixed(1)} ± ${((100 * Math.sqrt(squares)) / rows.length).toFixed(1)}`;
}
