import type { Evidence } from '../../judge/index/evidence.ts';
import { isYoung, YOUNG } from '../../judge/verdict/verdict.ts';
import { type OutrunBand, outrunBands } from '../../measure/outrun-bands.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger, MeasuredPart } from '../../model/ledger.ts';
import { shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import type { Note } from '../table.ts';
import { listed, sentence } from '../words.ts';

/** Why a cultivar that only young trees tell of is judged with care. */
export const ONLY_YOUNG = `no tree past its ${YOUNG}rd year`;

/** What is told of a cultivar by young trees alone rests on how fast trees grow up, which is hardly known. */
export function youngNote(
  ledger: Ledger,
  told: readonly (Evidence & { readonly cultivar: Cultivar })[],
): Note | undefined {
  const young = told.filter(isYoung);
  if (young.length === 0) return undefined;
  const names = [...new Set(young.map(({ cultivar }) => cultivarName(ledger, cultivar)))];
  return shownNote(
    'caution',
    `${listed(names)}: ${ONLY_YOUNG}. The index is that of a grown tree, as far as young ones can tell.`,
    `Young trees only: ${listed(names, 4)}.`,
  );
}

const MEASURES: Readonly<Record<MeasuredPart, string>> = {
  productivity: 'fruit per branch',
  size: 'g',
  soundness: 'as a share of the fruit picked',
  ripened: 'as a share of the load',
};

/** Bands that most cultivars lie beyond: their part then has weight in the index and says nothing. */
export function bandNotes(ledger: Ledger, selection: Selection): readonly Note[] {
  return outrunBands(ledger, { ...selection, cultivars: undefined }).map((band) =>
    bandNote(ledger, band),
  );
}

function bandNote(
  ledger: Ledger,
  { part, crop, side, beyond, of, end: [measure, score] }: OutrunBand,
): Note {
  const who = beyond === of ? `all ${of}` : `${beyond} of ${of}`;
  return shownNote(
    'caution',
    `${sentence(part)} tells hardly anything apart: in the ${cropPhrase(ledger, crop)} ${who} cultivars lie ${side} the end of its band (${Number(measure.toPrecision(4))} ${MEASURES[part]}) and are given ${score}. Set the band in ledger.yaml for your own fruit.`,
    `${sentence(part)} tells hardly anything apart: ${who} lie ${side} its band in ledger.yaml.`,
  );
}
