import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { cropWord } from '../crop-words.ts';
import { factsSection, type Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { sentence } from '../words.ts';
import type { CardSources } from './card-request.ts';

/** What is advised of each crop, and why; judged among all cultivars, as the verdict itself is. */
export async function verdictSection(
  ledger: Ledger,
  cultivar: Cultivar,
  { selection, confidence }: ReportRequest,
  verdict: NonNullable<CardSources['verdict']>,
): Promise<Section> {
  const { seasons, crops } = selection;
  const report = await verdict(ledger, { selection: { seasons, crops }, by: [], confidence });
  const rows = report.rows.filter((row) => row['cultivar'] === cultivarName(ledger, cultivar));
  const quoted = ['crop', 'verdict', 'rule', 'why', 'wanted'] as const;
  return factsSection({
    key: 'verdict',
    heading: 'Verdict',
    facts:
      rows.length === 0
        ? [{ label: '', text: 'None: nothing was counted, picked or tasted.' }]
        : rows.map(({ crop, verdict: advice, why, wanted }) => ({
            label: sentence(cropWord(ledger, String(crop))),
            text: [
              `${advice}${why === null || why === undefined ? '' : ` (${why})`}`,
              wanted === null || wanted === undefined ? '' : `would settle it: ${wanted}`,
            ]
              .filter((part) => part !== '')
              .join('; '),
          })),
    says: rows.map((row) => Object.fromEntries(quoted.map((key) => [key, row[key] ?? null]))),
  });
}
