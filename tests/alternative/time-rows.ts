import { pairedSpendings, programTimes, type Times } from '../bench/bench-spending.ts';
import { RANK, REPORTS } from './figure.ts';
import { plainCommand } from './plain-figures.ts';
import { exportCommand, reportCommand } from './pomary-figures.ts';
import type { Command } from './printed-by.ts';

export const TIME_HEAD: readonly string[] = [
  '| ledger | job | pomary CPU ms | R CPU ms | CPU, R / pomary | wall, R / pomary |',
  '|---|---|--:|--:|--:|--:|',
];

/**
 * What each report takes pomary, and the R script from tables that are exported already: medians of runs in turns.
 *
 * @param again where an export may be written
 */
export function timeRows(
  name: string,
  { ledger, tables, again }: Readonly<Record<'ledger' | 'tables' | 'again', string>>,
  runs: number,
): readonly string[] {
  const row = (job: string, pomary: Times | undefined, r: Times | undefined) => {
    if (pomary === undefined || r === undefined) return [];
    const ratios = [r.cpu / pomary.cpu, r.wall / pomary.wall].map((one) => one.toFixed(2));
    const cells = [name, job, pomary.cpu.toFixed(0), r.cpu.toFixed(0), ...ratios];
    return [`| ${cells.join(' | ')} |`];
  };
  const reports = [...REPORTS, RANK];
  const commands: readonly Command[] = [
    [process.execPath, '-e', '0'],
    ['Rscript', '-e', '0'],
    exportCommand(ledger, again),
    plainCommand(tables, REPORTS),
    ...reports.flatMap((one) => [reportCommand(ledger, one), plainCommand(tables, [one])]),
  ];
  const [node, rscript, exported, script, ...each] = pairedSpendings(commands, runs, programTimes);
  const ours = each.filter((_, at) => at % 2 === 0).slice(0, REPORTS.length);
  const sum = (of: (one: Times) => number) => ours.reduce((all, one) => all + of(one), 0);
  return [
    ...row('start alone', node, rscript),
    ...reports.flatMap((one, at) => {
      const job = one === RANK ? 'rank (in R an index by least squares)' : one.name;
      return row(job, each[2 * at], each[2 * at + 1]);
    }),
    ...row(
      `all but rank: ${REPORTS.length} commands, one script`,
      { cpu: sum(({ cpu }) => cpu), wall: sum(({ wall }) => wall) },
      script,
    ),
    `| ${name} | export, which R needs first | ${exported?.cpu.toFixed(0) ?? ''} | | | |`,
  ];
}
