import { selectRecords } from '../../measure/crop-record.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { cropWordsNote, doubtNote, note, notesInOrder } from '../common-notes.ts';
import type { Document } from '../document.ts';
import { cultivarName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { selectionWords } from '../report-request.ts';
import { soFarNote } from '../so-far-words.ts';
import type { Note } from '../table.ts';
import { yearsInWords } from '../words.ts';
import type { CardRequest, CardSources } from './card-request.ts';
import { namesSection } from './names-section.ts';
import { notesSection } from './notes-section.ts';
import { photosSection } from './photos-section.ts';
import { ranksSection } from './ranks-section.ts';
import { scoresSection } from './scores-section.ts';
import { seasonsSection } from './seasons-section.ts';
import { standingSection, treesSection } from './trees-section.ts';
import { verdictSection } from './verdict-section.ts';
import { wordsSection } from './words-section.ts';

/**
 * All that the ledger knows of one cultivar. Names, trees and where they stood are told whole,
 * whatever the seasons asked for.
 *
 * @throws RangeError where the ledger has no such cultivar
 */
export async function cardOf(
  ledger: Ledger,
  asked: CardRequest,
  sources: CardSources,
): Promise<Document> {
  const cultivar = ledger.cultivars.get(asked.cultivar);
  if (cultivar === undefined) throw new RangeError(`no cultivar ${asked.cultivar}`);
  const selection: Selection = { ...asked.selection, cultivars: [cultivar.key] };
  const request: ReportRequest = {
    selection,
    by: [],
    confidence: asked.confidence,
    today: asked.today,
  };
  const [remarks, remarksNote] = notesSection(ledger, selection, asked.remarks);
  const sections = [
    namesSection(ledger, cultivar),
    photosSection(ledger, selection),
    treesSection(ledger, cultivar),
    standingSection(ledger, cultivar),
    seasonsSection(ledger, request),
    scoresSection(ledger, selection),
    wordsSection(ledger, selection),
    await ranksSection(ledger, cultivar, request, sources.rank),
    sources.verdict && (await verdictSection(ledger, cultivar, request, sources.verdict)),
    remarks,
  ];
  return {
    report: 'card',
    title: [cultivarName(ledger, cultivar), yearsInWords(asked.selection.seasons ?? [])]
      .filter((part) => part !== '')
      .join(', '),
    ledgerTitle: ledger.trial.title,
    selection: selectionWords(request, []),
    sections: sections.filter((section) => section !== undefined),
    notes: notesInOrder([
      cropWordsNote(ledger),
      ...METHOD.map((text) => note('method', text)),
      remarksNote,
      soFarNote(ledger, request, selectRecords(ledger, selection)),
      doubtNote(ledger, [cultivar]),
      protectionNote(cultivar),
    ]),
  };
}

const METHOD = [
  'Fruit per branch = load / branches; mean weight over all fruit weighed; sound = picked fruit without a defect; half picked = the first day by which half the fruit picked was in.',
  'Scores: plain means over all tasters of fruit tasted ripe. Rank: among all cultivars, by the entries of those seasons alone (see rank and verdict).',
];

/** What to know before plants of it are handed on. Local law decides, so this only reminds. */
function protectionNote(cultivar: Cultivar): Note | undefined {
  if (cultivar.protected === true) {
    return note(
      'caution',
      "Breeders' rights rest on this cultivar: no cuttings or plants to others without the holder's leave, and check the plant-health rules where you live.",
    );
  }
  const unknown =
    cultivar.protected === undefined ? " and whether breeders' rights rest on it" : '';
  return note(
    'caution',
    `Before plants are given away or sold, check plant-health rules where you live${unknown}.`,
  );
}
