import { requestOf } from '../../src/cli/request.ts';
import type { Ledger } from '../../src/model/ledger.ts';
import { cropsReport } from '../../src/report/crops-report.ts';
import { preferenceReport } from '../../src/report/preference-report.ts';
import { rankReport } from '../../src/report/rank-report.ts';
import type { ReportRequest } from '../../src/report/report-request.ts';
import { ripeningReport } from '../../src/report/ripening-report.ts';
import { scoresReport } from '../../src/report/scores-report.ts';
import { soundnessReport } from '../../src/report/soundness-report.ts';
import { stabilityReport } from '../../src/report/stability-report.ts';
import type { Report } from '../../src/report/table.ts';
import { verdictReport } from '../../src/report/verdict-report.ts';
import { weightsReport } from '../../src/report/weights-report.ts';
import { wordsReport } from '../../src/report/words-report.ts';
import { yieldReport } from '../../src/report/yield-report.ts';

type Builder = (ledger: Ledger, request: ReportRequest) => Report;

const TASTED = { ripeness: ['ripe'], explain: false } as const;

/** Every report of the whole ledger, as its command builds it where no option is given. */
const BUILDERS: ReadonlyMap<string, Builder> = new Map<string, Builder>([
  ['yield', yieldReport],
  ['weights', weightsReport],
  ['crops', cropsReport],
  ['soundness', (ledger, request) => soundnessReport(ledger, request)],
  ['ripening', ripeningReport],
  [
    'scores',
    (ledger, request) => scoresReport(ledger, request, { ...TASTED, traits: [], unit: 'plate' }),
  ],
  [
    'preference',
    (ledger, request) =>
      preferenceReport(ledger, request, { ...TASTED, from: 'orders', prior: 0.5 }),
  ],
  ['words', (ledger, request) => wordsReport(ledger, request, ['ripe'])],
  ['rank', rankReport],
  ['stability', (ledger, request) => stabilityReport(ledger, request, 'productivity')],
  ['verdict', verdictReport],
]);

export const REPORT_NAMES: readonly string[] = [...BUILDERS.keys()];

/**
 * The report that the command of that name prints, without reading the ledger once more.
 *
 * @throws TypeError if there is no such report
 */
export function builtReport(name: string, ledger: Ledger): Report {
  const build = BUILDERS.get(name);
  if (build === undefined) throw new TypeError(`no report ${name}`);
  const everything = { season: [], crop: [], site: [], cultivar: [], tree: [] };
  return build(
    ledger,
    requestOf(ledger, { ...everything, by: [], confidence: 0.95 }, '2026-11-01'),
  );
}
