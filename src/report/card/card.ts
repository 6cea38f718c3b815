import { CATALOGUE } from '../../entries/catalogue.ts';
import { namesOf } from '../../entries/kind.ts';
import { treePhotos } from '../../judge/photos.ts';
import { type Remark, remarksOf, tellingRemarks } from '../../judge/remarks.ts';
import { coversSeen, selectRecords } from '../../measure/crop-record.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { doubtNote, note, notesInOrder } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { shortDayAndYear, soFarNote } from '../day-words.ts';
import { type Document, factsSection, type Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import { decimalText } from '../number-words.ts';
import { photoBlock } from '../photo-words.ts';
import { selectionWords } from '../report-request.ts';
import type { Note } from '../table.ts';
import { yearsInWords } from '../words.ts';
import {
  type CardRequest,
  type CardSources,
  type JudgedRequest,
  ranksSection,
  verdictSection,
} from './judged-sections.ts';
import { namesSection } from './names-section.ts';
import { seasonsSection } from './seasons-section.ts';
import { scoresSection, wordsSection } from './tasted-sections.ts';
import { standingSection, treesSection } from './trees-section.ts';

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
  const request: JudgedRequest = {
    selection,
    by: [],
    confidence: asked.confidence,
    today: asked.today,
    byCover: coversSeen(ledger, asked.selection).length > 1,
  };
  const [remarks, remarksNote] = notesSection(ledger, selection, asked.remarks);
  const sections = [
    // The answer first.
    sources.verdict && (await verdictSection(ledger, cultivar, request, sources.verdict)),
    photosSection(ledger, selection),
    namesSection(ledger, cultivar),
    treesSection(ledger, cultivar),
    standingSection(ledger, cultivar),
    seasonsSection(ledger, request),
    scoresSection(ledger, selection),
    wordsSection(ledger, selection),
    await ranksSection(ledger, cultivar, request, sources, asked.full),
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
      ...METHOD.map((text) => note('method', text)),
      request.byCover ? note('method', UNDER_EACH_COVER) : undefined,
      remarksNote,
      soFarNote(ledger, request, selectRecords(ledger, selection)),
      doubtNote(ledger, [cultivar]),
      protectionNote(cultivar),
    ]),
  };
}

const METHOD = [
  'Fruit per branch = load / branches; mean weight over all fruit weighed; sound = picked fruit without a defect; half picked = the first day by which half the fruit picked was in.',
  'Scores: plain means over all tasters of fruit tasted ripe. Rank: among all cultivars, by the entries of those seasons alone.',
];

/** Why the advice may differ. */
const UNDER_EACH_COVER =
  'Under each cover it is judged for that place, and only the seasons and tastings there count towards the least that a verdict asks for.';

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

/** What was written down beside the entries, and how much of it is shown. */
function notesSection(
  ledger: Ledger,
  selection: Selection,
  most: number,
): readonly [Section, Note | undefined] {
  const all = remarksOf(ledger, selection);
  const shown = tellingRemarks(all, most);
  const section = factsSection({
    key: 'remarks',
    heading: 'Notes of the seasons',
    facts:
      shown.length === 0
        ? [{ label: '', text: 'None.' }]
        : shown.map((remark) => ({
            label: shortDayAndYear(remark.on),
            text: remarkWords(ledger, remark),
          })),
    says: shown.map(({ on, about, tree, crop, ripeness, score, text }) => ({
      on,
      about: about === 'samples' ? 'sample' : CATALOGUE[about].one,
      tree: tree?.id ?? null,
      crop: crop ?? null,
      ripeness: ripeness ?? null,
      score: score ?? null,
      text,
    })),
  });
  const cut = `${shown.length} of ${all.length} notes of the seasons are shown: those of the best and the worst scored sitting and the latest.`;
  return [section, shown.length === all.length ? undefined : note('evidence', cut)];
}

function remarkWords(ledger: Ledger, { about, tree, crop, ripeness, score, text }: Remark): string {
  const what = [
    tree?.id,
    crop === undefined ? undefined : cropPhrase(ledger, crop),
    aboutWords(about),
    ripeness === undefined || ripeness === 'ripe' ? undefined : `${ripeness}ripe`,
    score === undefined ? undefined : `scored ${decimalText(score, 1)} that day`,
  ];
  return `${what.filter((part) => part !== undefined).join(', ')}: ${text}`;
}

/** What a remark is about, before its words; a remark of an event speaks for itself. */
function aboutWords(about: Remark['about']): string | undefined {
  if (about === 'samples') return 'on the plate';
  if (about === 'tastings') return 'the sitting';
  return about === 'events' ? undefined : namesOf(CATALOGUE[about])[0];
}

/** More than so many would push everything else off the card: the latest are shown. */
const MOST = 4;

/** What it looks like; absent without a photo. */
function photosSection(ledger: Ledger, selection: Selection): Section | undefined {
  const photos = treePhotos(ledger, selection);
  if (photos.length === 0) return undefined;
  return {
    key: 'photos',
    heading: 'Photos',
    blocks: photos.slice(-MOST).map((photo) => photoBlock(ledger, photo)),
    says: photos.map(({ path, on, tree, crop = null, what }) => ({
      ...{ path, on, crop, what },
      tree: tree.id,
    })),
  };
}
