import { LETTERS_ALPHA, scoreLetters, scoreLimits } from '../../judge/scores/score-letters.ts';
import {
  isShown,
  type ScoredBy,
  type ScoreModel,
  scoreModels,
} from '../../judge/scores/score-models.ts';
import type { ScoreUnit } from '../../judge/scores/score-unit.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Ripeness } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { selectedParts } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  intervalColumns,
  numberColumn,
  onAsking,
  textColumn,
} from '../columns.ts';
import { cropWordsNote, doubtNote, note, notesInOrder, shownNote } from '../common-notes.ts';
import { withCropWords } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import { percent, type ReportRequest, selectionWords } from '../report-request.ts';
import { forPeople, rowColumn } from '../row-columns.ts';
import { orderBlocks, orderRows } from '../row-order.ts';
import type { Column, Note, Report, Row } from '../table.ts';
import { sentence } from '../words.ts';
import { anovaMethodNotes, anovaNotes, differNote } from './score-anova-notes.ts';
import {
  offScaleNote,
  scoreAgreementMethodNote,
  scoreAgreementNote,
  scoreEvidenceNote,
  scoreGroupNotes,
  tastedSitesNote,
  unsureNotes,
} from './score-notes.ts';
import { mixedSittingsNote, nothingTastedNote, ripenessNote } from './tasted-notes.ts';

/** What is asked of the scores besides what every report knows. */
export interface ScoresAsked {
  /** All traits where it is empty. */
  readonly traits: readonly string[];
  readonly ripeness: readonly Ripeness[];
  readonly unit: ScoreUnit;
}

/** Means of each trait with taster and sitting allowed for, and letters for what differs. */
export function scoresReport(ledger: Ledger, request: ReportRequest, asked: ScoresAsked): Report {
  const by: ScoredBy = request.by.includes('tree') ? 'tree' : 'cultivar';
  const selection = { ...request.selection, ripeness: asked.ripeness };
  const models = scoreModels(ledger, selection, { by, traits: asked.traits, unit: asked.unit });
  const only = asked.traits.length === 1 ? asked.traits[0] : undefined;
  const columns = scoreColumns(by, request.confidence, models, only !== undefined);
  const blocks = models.flatMap((model) => modelRows(ledger, request, model));
  const each = models.some(({ groups }) => groups.length > 1)
    ? 'crop, trait and group'
    : 'crop and trait';
  const { rows, cut } = orderBlocks(columns, blocks, each, request);
  const seasons = scoresOf(models).map(({ tasting }) => tasting.season);
  const where = selectedParts(ledger, request, seasons, rows);
  const screen = traitsBeside(ledger, request, by, models, rows);
  return {
    report: 'scores',
    title: [
      `Scores${only === undefined ? '' : ` for ${only}`}${by === 'tree' ? ' by tree' : ''}`,
      ...where,
    ].join(', '),
    ledgerTitle: ledger.trial.title,
    selection: {
      ...selectionWords(request, [by]),
      ...(asked.traits.length === 0 ? {} : { trait: asked.traits }),
      ripeness: asked.ripeness,
      unit: asked.unit,
    },
    columns: withCropWords(ledger, request.selection, forPeople(columns, rows, [by]), rows),
    rows,
    ...(screen === undefined ? {} : { screen }),
    notes:
      rows.length === 0
        ? [nothingTastedNote(ledger, 'scores')]
        : notesInOrder([
            cropWordsNote(ledger),
            ...methodNotes(request, asked, by, rows),
            scoreEvidenceNote(ledger, models),
            differNote(ledger, models, by),
            ...(request.explain === true ? anovaNotes(ledger, models, by) : []),
            scoreAgreementNote(ledger, models, request.confidence, request.explain === true),
            ripenessNote(ledger, request.selection, asked.ripeness),
            mixedSittingsNote(ledger, selection),
            ...unsureNotes(ledger, models),
            offScaleNote(
              ledger,
              rows.flatMap(({ mean, low, high }) => [mean, low, high]).map(asNumber),
            ),
            rowsShownNote(request, by),
            cut === undefined ? undefined : shownNote('evidence', cut),
            ...scoreGroupNotes(ledger, models),
            reachNote(models, by, new Set(seasons).size),
            tastedSitesNote(ledger, models, by),
            doubtNote(ledger, shownCultivars(models, request)),
          ]),
  };
}

function scoreColumns(
  by: ScoredBy,
  confidence: number,
  models: readonly ScoreModel[],
  isOneTrait: boolean,
): Column[] {
  const trait = textColumn('trait', { label: 'Trait', drop: 0 });
  const mean = numberColumn('mean', 1, { label: 'Mean', drop: 0 });
  const group = countColumn('group', { label: 'Group', drop: 0 });
  const apart = models.some(({ groups }) => groups.length > 1);
  return [
    ...(by === 'tree' ? [textColumn('tree', { label: 'Tree', drop: 0 })] : []),
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    isOneTrait ? { ...trait, machineOnly: true } : trait,
    apart ? group : { ...group, machineOnly: true },
    mean,
    onAsking(numberColumn('se', 2, { label: 'SE', drop: 6 })),
    ...intervalColumns(mean, ['low', 'high'], confidence, 1),
    numberColumn('raw', 1, { label: 'Raw mean', drop: 3 }),
    countColumn('samples', { label: 'Samples', drop: 4 }),
    countColumn('tasters', { label: 'Tasters', drop: 5 }),
    textColumn('letters', { label: 'Letters', drop: 2 }),
  ];
}

/**
 * A row a cultivar (or tree), its traits beside each other, each with the letters that tell it apart;
 * undefined where that would mislead: groups that must not be compared, or an order that was asked for.
 */
function traitsBeside(
  ledger: Ledger,
  { selection, sort, top }: ReportRequest,
  by: ScoredBy,
  models: readonly ScoreModel[],
  rows: readonly Row[],
): Report['screen'] {
  const traits = ledger.trial.traits.filter((trait) => models.some((one) => one.trait === trait));
  const isApart = models.some(({ groups }) => groups.length > 1);
  if (traits.length < 2 || isApart || sort !== undefined || top !== undefined) return undefined;
  const means = rows.map(({ mean }) => (typeof mean === 'number' ? mean.toFixed(1) : ''));
  const wide = Math.max(...means.map((text) => text.length));
  const mostOf = (own: readonly Row[], key: string) =>
    Math.max(...own.map((row) => Number(row[key])));
  const beside = [...groupBy(rows, (row) => JSON.stringify([row['crop'], row[by]])).values()].map(
    (own) => ({
      ...own[0],
      ...Object.fromEntries(
        own.map((row) => [
          `trait ${row['trait']}`,
          `${Number(row['mean']).toFixed(1).padStart(wide)} ${row['letters'] ?? ''}`.trimEnd(),
        ]),
      ),
      samples: mostOf(own, 'samples'),
      tasters: mostOf(own, 'tasters'),
      all: own.length < traits.length ? null : sumOf(own.map((row) => Number(row['mean']))),
    }),
  );
  const { rows: sorted } = orderRows(
    [textColumn('crop', { label: '', drop: 0 }), numberColumn('all', 0, { label: '', drop: 0 })],
    beside,
    { blocks: ['crop'], key: 'all' },
    {},
  );
  const columns = [
    ...(by === 'tree' ? [textColumn('tree', { label: 'Tree', drop: 0 })] : []),
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    ...traits.map((trait, at) => ({
      ...textColumn(`trait ${trait}`, { label: sentence(trait), drop: 3 + at }),
      whole: true,
    })),
    countColumn('samples', { label: 'Plates', drop: 1 }),
    countColumn('tasters', { label: 'Tasters', drop: 2 }),
  ];
  return { columns: withCropWords(ledger, selection, columns, sorted), rows: sorted };
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

/** Rows of a crop and trait, a list a group that can be compared, the highest mean first in each. */
function modelRows(ledger: Ledger, request: ReportRequest, model: ScoreModel): Row[][] {
  const isIn = (at: number) => {
    const subject = model.subjects[at];
    return subject !== undefined && isShown(request.selection, subject);
  };
  const letters = scoreLetters(model);
  return model.groups.map(({ members }, group) =>
    members
      .filter(isIn)
      .toSorted((a, b) => (model.means[b] ?? 0) - (model.means[a] ?? 0))
      .map((at) => {
        const limits = scoreLimits(model, at, request.confidence);
        return {
          ...subjectCells(ledger, model, at),
          group: group + 1,
          mean: cell(model.means[at]),
          se: cell(model.errors[at]),
          // No mean of scores lies beyond the scale.
          low: cell(limits && Math.max(ledger.trial.scale.low, limits.low)),
          high: cell(limits && Math.min(ledger.trial.scale.high, limits.high)),
          raw: cell(model.rawMeans[at]),
          letters: cell(letters[at]),
        };
      }),
  );
}

function subjectCells(ledger: Ledger, { crop, trait, subjects }: ScoreModel, at: number): Row {
  const subject = subjects[at];
  if (subject === undefined) return {};
  return {
    ...(subject.tree === undefined ? {} : { tree: subject.tree.id }),
    cultivar: cultivarName(ledger, subject.cultivar),
    crop,
    trait,
    samples: subject.samples,
    tasters: subject.tasters,
  };
}

const MODEL_WORDS: Readonly<Record<ScoreUnit, (by: ScoredBy) => string>> = {
  plate: (by) =>
    `plate = ${by} + sitting, a plate being the mean of its scores with its tasters allowed for (score = plate + taster). Tasters of one plate share its luck, so the plate is the unit of errors, F and letters (Steel & Torrie 1980, Principles and Procedures of Statistics, section 7.9); plates of a tree share its luck, and those of a season that season's, and both count as far as the plates tell them. --unit score takes each score for itself`,
  score: (by) =>
    `score = ${by} + taster + sitting, each score for itself, as if tasters of one plate did not share its luck`,
};

function methodNotes(
  { confidence, explain = false }: ReportRequest,
  { traits, unit }: ScoresAsked,
  by: ScoredBy,
  rows: readonly Row[],
): Note[] {
  const short = [
    `Mean: what the ${by} would score if every taster had tasted it at every sitting, so that a harsh taster or a poor evening sinks nobody. Raw mean: all its scores, added up and divided.`,
  ];
  const isAlone = rows.every(({ letters }) => (letters ?? '') === '');
  const letters = (isAlone ? note : shownNote)(
    'method',
    'Letters: within a crop and trait, two that share a letter cannot be told apart.',
    traits.length === 1
      ? 'Two that share a letter cannot be told apart.'
      : 'Two that share a letter in a column cannot be told apart. Intervals: --trait.',
  );
  const long = [
    `Model: ${MODEL_WORDS[unit](by)}, fitted by least squares, one model a crop and trait, a sitting that has both crops counting as two. Mean: least-squares (population marginal) mean, all tasters and sittings weighing the same (Searle, Speed & Milliken 1980, The American Statistician 34:216-221).`,
    `Interval: ${percent(confidence)} %, Student's t. It takes what is left of each ${unit} as independent and equally scattered, and tasters as differing by how high they mark, not by what they like.`,
    `Letters: all pairs of a crop, trait and group by Tukey and Kramer at ${LETTERS_ALPHA} for the whole family (Kramer 1956, Biometrics 12:307-310), shown by insert and absorb (Piepho 2004, J. Comput. Graph. Stat. 13:456-466). Sharing a letter is no proof of being equal: with few plates nearly all share one.`,
    'Groups: two belong together if the layout lets their difference be estimated at all (Searle 1971, Linear Models, section 5.4).',
  ];
  const plain = (texts: readonly string[]) => texts.map((text) => note('method', text));
  const notes = [...plain(short), letters, ...plain(explain ? long : [])];
  return explain ? [...notes, ...anovaMethodNotes(by, unit), scoreAgreementMethodNote()] : notes;
}

function rowsShownNote({ selection }: ReportRequest, by: ScoredBy): Note | undefined {
  const cut =
    (selection.cultivars ?? []).length > 0 || (by === 'tree' && (selection.trees ?? []).length > 0);
  return cut
    ? note(
        'evidence',
        'Tasters and sittings are judged by everything they tasted, not only by the rows shown.',
      )
    : undefined;
}

/** What the intervals and letters speak of; on the screen where another year may well tell otherwise. */
function reachNote(models: readonly ScoreModel[], by: ScoredBy, seasons: number): Note {
  if (models.some(({ unit }) => unit === 'score')) {
    return note('caution', 'These intervals speak of the very plates that were tasted.');
  }
  if (seasons === 1) {
    const rank = by === 'cultivar' ? '; pomary rank allows for it' : '';
    const text = `One season: letters and intervals do not know how ${by}s change from year to year${rank}.`;
    return models.some(({ unsure }) => unsure === undefined)
      ? shownNote('caution', text)
      : note('caution', text);
  }
  return note(
    'caution',
    `How ${by === 'cultivar' ? 'trees and seasons' : 'seasons'} differ is in these intervals as far as the plates tell; of years unlike those tasted they say nothing.`,
  );
}

function scoresOf(models: readonly ScoreModel[]) {
  return models.flatMap(({ subjects }) => subjects).flatMap(({ scores }) => scores);
}

function shownCultivars(models: readonly ScoreModel[], { selection }: ReportRequest) {
  return models
    .flatMap(({ subjects }) => subjects)
    .filter((subject) => isShown(selection, subject))
    .map(({ cultivar }) => cultivar);
}

function asNumber(value: Row[string] | undefined): number | undefined {
  return typeof value === 'number' ? value : undefined;
}
