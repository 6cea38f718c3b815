import { EQUAL_KINDS, GARDEN_KINDS } from './garden-kinds.ts';
import {
  addTally,
  CONFIDENCE,
  emptyTally,
  equalTally,
  type GardenTally,
  gardenTally,
} from './garden-tally.ts';

/** Prints what holds in gardens that are not kind, a row a kind: the whole program, from the files on. */
export async function calibrateGardens(trials: number, seed: number, only: string): Promise<void> {
  const kinds = GARDEN_KINDS.filter(({ name }) => name.includes(only));
  const equal = EQUAL_KINDS.filter(({ name }) => name.includes(only));
  console.log(
    `\nGardens that are not kind: nominal ${CONFIDENCE} %, ${trials} trials a row, se behind ±.\n`,
  );
  table(
    'garden | index holds truth % | common shift out | a new tree % | rank % | width | rmse | tau plain | tau rank | gain of tau | best third discarded | wrong discard | wrong increase',
  );
  const compared: string[] = [];
  const all = emptyTally();
  for (const kind of kinds) {
    // Gardens of its own for each row, so that what holds over all rows can be told with its error.
    const own = await gardenTally(kind, trials, seed + SEEDS_A_ROW * GARDEN_KINDS.indexOf(kind));
    const { row, parts } = rowsOf(kind.name, own);
    console.log(row);
    compared.push(parts);
    addTally(all, own);
  }
  if (kinds.length > 1) {
    const { row, parts } = rowsOf('all rows', all);
    console.log(row);
    compared.push(parts);
  }
  if (kinds.length > 0) {
    console.log(`\nDifferences of two by \`compare\` that hold the truth, %.\n`);
    table(`garden | ${PARTS.join(' | ')}`);
    for (const row of compared) console.log(row);
  }
  if (equal.length === 0) return;
  console.log('\nTables of `scores` in which truly equal cultivars are told apart.\n');
  table('garden | tables | by letters % | by F %');
  for (const kind of equal) {
    const { tables, byLetters, byF } = await equalTally(kind, trials, seed);
    console.log(
      cells([kind.name, `${tables}`, percent(byLetters / tables), percent(byF / tables)]),
    );
  }
}

/** More than anybody asks for. */
const SEEDS_A_ROW = 10_000;

const PARTS = ['flavour', 'sweetness', 'productivity', 'size', 'soundness', 'index'];

function rowsOf(name: string, tally: GardenTally) {
  const gain = tally.tau.map((tau, at) => tau - (tally.tauPlain[at] ?? 0));
  const row = cells([
    name,
    covered(tally.cover),
    covered(tally.relative),
    covered(tally.newTree),
    covered(tally.rankCover),
    mean(tally.width).toFixed(2),
    Math.sqrt(mean(tally.squares)).toFixed(2),
    mean(tally.tauPlain).toFixed(3),
    mean(tally.tau).toFixed(3),
    `${mean(gain).toFixed(3)} ± ${standardError(gain).toFixed(3)}`,
    `${tally.bestDiscarded} of ${tally.best}`,
    `${tally.wronglyDiscarded} of ${tally.discarded}`,
    `${tally.wronglyIncreased} of ${tally.increased}`,
  ]);
  return {
    row,
    parts: cells([name, ...PARTS.map((part) => covered(tally.compared.get(part) ?? []))]),
  };
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function standardError(values: readonly number[]): number {
  const middle = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
}

const percent = (share: number) => (100 * share).toFixed(1);

function covered(shares: readonly number[]): string {
  if (shares.length === 0) return '-';
  return `${percent(mean(shares))} ± ${percent(standardError(shares))}`;
}

function cells(values: readonly string[]): string {
  return `| ${values.join(' | ')} |`;
}

function table(head: string): void {
  console.log(`| ${head} |`);
  console.log(
    `|${head
      .split('|')
      .map(() => '---')
      .join('|')}|`,
  );
}
