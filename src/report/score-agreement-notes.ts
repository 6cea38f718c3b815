import { type ScoreAgreement, scoreAgreement } from '../judge/scores/score-agreement.ts';
import type { ScoreModel } from '../judge/scores/score-models.ts';
import type { Ledger } from '../model/ledger.ts';
import { note, shown } from './common-notes.ts';
import { cropPhrase } from './crop-words.ts';
import { decimalText } from './decimal-text.ts';
import { percent } from './report-request.ts';
import type { Note } from './table.ts';
import { counted, listed, sentence } from './words.ts';

/** How much of what sets marks apart is the plate, and how much the taster. */
export function scoreAgreementNote(
  ledger: Ledger,
  models: readonly ScoreModel[],
  confidence: number,
  explain: boolean,
): Note | undefined {
  const all = scoreAgreement(models, confidence);
  const crops = all.map((one) => sentence(agreementWords(ledger, one, confidence, explain)));
  const brief = all.map(({ crop, one: { estimate } }) => {
    const tenths = Math.round(10 * Math.max(0, estimate));
    return `${cropPhrase(ledger, crop)} ${tenths} in 10`;
  });
  return crops.length === 0
    ? undefined
    : shown(
        'evidence',
        crops.join(' '),
        `How much of what sets a taster's marks apart is the fruit and not the taster: ${brief.join(', ')}.`,
      );
}

function agreementWords(
  ledger: Ledger,
  { crop, tasters, plates, one, mean, fair }: ScoreAgreement,
  confidence: number,
  explain: boolean,
): string {
  const names = listed(
    tasters.map(({ name }) => name),
    4,
  );
  const both = tasters.length === 2 ? 'both' : 'all';
  const limits =
    one.low === undefined || one.high === undefined
      ? ''
      : `, ${percent(confidence)} % ${decimalText(one.low, 2)} to ${decimalText(one.high, 2)}`;
  const rest = explain ? `; harshness set aside, ICC(3,1) ${decimalText(fair.estimate, 2)}` : '';
  const figures = `(ICC(2,1) ${decimalText(one.estimate, 2)}${limits}; ${counted(plates, 'plate')} that ${names} ${both} scored${rest})`;
  const plate = Math.round(100 * one.estimate);
  if (plate < 1) {
    return `${cropPhrase(ledger, crop)}: tasters' marks do not show that they see the same in a plate ${figures}.`;
  }
  const pooled = `the mean of ${both === 'both' ? 'the two' : `these ${tasters.length}`} is about ${decimalText(mean.estimate, 0, 2)} % the plate`;
  return `${cropPhrase(ledger, crop)}: of what sets one taster's marks apart, about ${plate} % is the plate and ${100 - plate} % the taster's own view, harshness included ${figures}; ${pooled}.`;
}

/** How it is had. */
export function scoreAgreementMethodNote(): Note {
  return note(
    'method',
    'Plate and taster: intraclass correlation, tasters taken as a sample of tasters, so that harshness counts as their own view (Shrout & Fleiss 1979, Psychological Bulletin 86:420-428), of the mean over the traits that most plates were scored for, on the most plates that the same tasters all scored.',
  );
}
