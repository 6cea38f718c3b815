import type { Ledger } from '../model/ledger.ts';
import { cardOf } from '../report/card/card.ts';
import type { CardRequest } from '../report/card/judged-sections.ts';
import type { Document } from '../report/document.ts';
import { rankReport } from '../report/judged/rank-report.ts';
import { verdictReport } from '../report/judged/verdict-report.ts';
import { cultivarOf } from './request.ts';

/** The card of a cultivar by key or name. Throws a `UsageError` where there is no such one. */
export function cultivarCard(
  ledger: Ledger,
  word: string,
  asked: Omit<CardRequest, 'cultivar'>,
): Promise<Document> {
  const request = { ...asked, cultivar: cultivarOf(ledger, word) };
  return cardOf(ledger, request, { rank: rankReport, verdict: verdictReport });
}
