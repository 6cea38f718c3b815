import { isSteadyPart, type SteadyPart } from '../../judge/stability/environment-table.ts';
import {
  type CropStability,
  FEWEST_CULTIVARS,
  FEWEST_ENVIRONMENTS,
  type SteadyRow,
  stability,
} from '../../judge/stability/stability.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import type { Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  intervalColumns,
  numberColumn,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { cultivarName, siteName } from '../names.ts';
import { percent, type ReportRequest } from '../report-request.ts';
import { rowColumn } from '../row-columns.ts';
import type { Column, Note, Report, Row } from '../table.ts';
import { counted, listed, sentence, yearsInWords } from '../words.ts';

/**
 * How the crop of each cultivar behaves over seasons and sites.
 *
 * @param of `productivity`, `size`, `soundness` or a trait
 */
export function stabilityReport(ledger: Ledger, request: ReportRequest, of: string): Report {
  const crops = stability(ledger, request.selection, of, request.confidence);
  const told = crops.flatMap(({ crop, rows }) => rows.map((row) => ({ crop, row })));
  const report = assembleReport(ledger, request, {
    report: 'stability',
    what: `Stability of ${of}`,
    by: ['cultivar'],
    records: selectRecords(ledger, request.selection),
    columns: columns(
      of,
      request.confidence,
      told.some(({ row }) => row.slope !== undefined),
    ),
    rows: told.map(({ crop, row }) => ({ crop, ...toRow(ledger, row) })),
    order: { blocks: ['crop'], key: 'mean' },
    sitesApart: '--site',
    notes: [
      ...methodNotes(ledger, of, crops, request.confidence),
      ...(request.explain === true ? EXPLANATION.map((text) => note('method', text)) : []),
      ...evidenceNotes(ledger, crops, request.confidence),
      ...cautions(of, crops),
    ],
  });
  return { ...report, selection: { of, ...report.selection } };
}

const EXPLANATION: readonly string[] = [
  "Slope: least squares of a cultivar's figures on the effects of the environments, which come from an additive fit of cultivar and environment, so that gaps do no harm (Finlay and Wilkinson 1963, Australian Journal of Agricultural Research 14:742-754). Its standard error is that of the line; an exact fit has none.",
  'Ecovalence: sum over environments of (figure - cultivar mean - environment mean + grand mean) squared (Wricke 1962, Zeitschrift für Pflanzenzüchtung 47:92-96). Variance: (g (g - 1) W - sum W) / ((e - 1)(g - 1)(g - 2)) with g cultivars and e environments (Shukla 1972, Heredity 29:237-245).',
  'Alternate bearing: mean over pairs of neighbouring years of a tree of |b - a| / (a + b), then over trees (Hoblyn, Grubb, Painter and Wates 1936, Journal of Pomology 14:39-76).',
];

interface Look {
  readonly label: string;
  readonly unit?: string;
  readonly digits: number;
  /** Of variances, which are in squared units. */
  readonly squareDigits: number;
}

const LOOKS: Readonly<Record<SteadyPart, Look>> = {
  productivity: { label: 'Mean fruit per branch', digits: 2, squareDigits: 3 },
  size: { label: 'Mean weight', unit: 'g', digits: 1, squareDigits: 1 },
  soundness: { label: 'Mean sound share', digits: 0, squareDigits: 4 },
};

function lookOf(of: string): Look {
  return isSteadyPart(of) ? LOOKS[of] : { label: `Mean ${of}`, digits: 1, squareDigits: 3 };
}

function columns(of: string, confidence: number, hasSlopes: boolean): Column[] {
  const { label, unit, digits, squareDigits } = lookOf(of);
  // A column that is blank in every row tells people nothing; a note says why.
  const slope = {
    ...numberColumn('slope', 2, { label: 'Slope, 1 as others', drop: 0 }),
    ...(hasSlopes ? {} : { machineOnly: true }),
  };
  const inUnit = unit === undefined ? {} : { unit };
  const squared = unit === undefined ? {} : { unit: `${unit}2` };
  return [
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    countColumn('environments', { label: 'Seasons at sites', drop: 1 }),
    of === 'soundness'
      ? shareColumn('mean', 0, { label, drop: 0 })
      : numberColumn('mean', digits, { label, ...inUnit, drop: 0 }),
    slope,
    numberColumn('slopeSe', 2, { label: 'Standard error', drop: 7 }),
    ...intervalColumns({ ...slope, digits: 1 }, ['slopeLow', 'slopeHigh'], confidence, 2),
    numberColumn('shukla', squareDigits, { label: "Shukla's variance", ...squared, drop: 5 }),
    numberColumn('wricke', squareDigits, { label: "Wricke's ecovalence", ...squared, drop: 8 }),
    numberColumn('alternation', 2, { label: 'Alternate bearing', drop: 3 }),
    countColumn('alternationPairs', { label: 'Year pairs', drop: 4 }),
    countColumn('trees', { label: 'Trees', drop: 6 }),
  ];
}

function toRow(ledger: Ledger, row: SteadyRow): Row {
  return {
    cultivar: cultivarName(ledger, row.cultivar),
    environments: row.environments,
    mean: cell(row.mean),
    slope: cell(row.slope?.value),
    slopeSe: cell(row.slope?.se),
    slopeLow: cell(row.slope?.low),
    slopeHigh: cell(row.slope?.high),
    shukla: cell(row.shukla),
    wricke: cell(row.wricke),
    alternation: cell(row.alternation?.index),
    alternationPairs: cell(row.alternation?.pairs),
    trees: row.trees,
  };
}

const FIGURES: Readonly<Record<SteadyPart, string>> = {
  productivity: 'fruit per branch',
  size: 'mean fruit weight',
  soundness: 'share of sound fruit',
};

function methodNotes(
  ledger: Ledger,
  of: string,
  crops: readonly CropStability[],
  confidence: number,
): (Note | undefined)[] {
  const rows = crops.flatMap((one) => one.rows);
  const figure = isSteadyPart(of) ? FIGURES[of] : `mean score for ${of} of fruit tasted ripe`;
  const has = (which: (row: SteadyRow) => unknown) => rows.some((row) => which(row) !== undefined);
  return [
    note(
      'method',
      `An environment is a season at a site; the figure there is the ${figure}. The mean is plain, over the environments where it was seen.`,
    ),
    has((row) => row.slope)
      ? note(
          'method',
          `Slope above 1: gains more than others from good years and sites; near 1: moves with the rest; below 1: steady (Finlay and Wilkinson 1963, here without logarithms; ${percent(confidence)} % interval by t on environments - 2).`,
        )
      : undefined,
    has((row) => row.shukla) ? note('method', blockText(ledger, crops)) : undefined,
    has((row) => row.alternation)
      ? note(
          'method',
          "Alternate bearing, from the yearly load of each tree: 0 every year alike, 1 every other year empty (Hoblyn et al. 1936). Left out: pairs of two empty years; years before a tree's first load; its first two seasons where `planted` is known (common practice, no source). A year without an entry is unknown, not empty.",
        )
      : undefined,
  ];
}

function blockText(ledger: Ledger, crops: readonly CropStability[]): string {
  const parts = crops.flatMap(({ crop, block }) =>
    block === undefined
      ? []
      : [
          `${cropPhrase(ledger, crop)}, ${counted(block.cultivars.length, 'cultivar')} at ${environmentWords(ledger, block.environments)}`,
        ],
  );
  return `Shukla's variance (1972) and Wricke's ecovalence (1962): how far a cultivar strays from moving with the rest, 0 not at all (a negative variance reads as 0). They need the same environments for all: ${parts.join('; ')}.`;
}

function evidenceNotes(
  ledger: Ledger,
  crops: readonly CropStability[],
  confidence: number,
): (Note | undefined)[] {
  const told = crops.filter(({ rows }) => rows.length > 0);
  const perCrop = (words: (one: CropStability) => string | undefined) =>
    told.flatMap((one) => {
      const own = words(one);
      return own === undefined ? [] : [{ crop: cropPhrase(ledger, one.crop), own }];
    });
  const texts: [lead: string, parts: readonly CropWords[], isShown: boolean][] = [
    ['Environments', perCrop(({ environments }) => environmentWords(ledger, environments)), false],
    [
      `Slopes whose interval leaves out 1, as about 1 in ${Math.round(1 / (1 - confidence))} would by luck`,
      perCrop((one) => slopeWords(ledger, one)),
      false,
    ],
    ['No slope', perCrop((one) => blankWords(ledger, one)), true],
    [
      'No cultivar joins these, so their slopes do not compare',
      perCrop((one) => apart(ledger, one)),
      true,
    ],
  ];
  return [
    ...told.flatMap((one) => steadyWords(ledger, one, told.length > 1)),
    ...texts.flatMap(([lead, parts, isShown]) =>
      parts.length === 0
        ? []
        : [(isShown ? shownNote : note)('evidence', `${lead}: ${wordsOf(parts)}.`)],
    ),
  ];
}

interface CropWords {
  readonly crop: string;
  readonly own: string;
}

function wordsOf(parts: readonly CropWords[]): string {
  const [first, second] = parts;
  if (first !== undefined && first.own === second?.own) return `both crops, ${first.own}`;
  return parts.map(({ crop, own }) => `${crop}, ${own}`).join('; ');
}

/** "glasshouse 2024 to 2026, far plot 2025" */
function environmentWords(ledger: Ledger, environments: CropStability['environments']): string {
  const sites = [...new Set(environments.map(({ site }) => site))];
  const parts = sites.map((site) => {
    const seasons = environments.filter((one) => one.site === site).map(({ season }) => season);
    return `${siteName(ledger, site)} ${yearsInWords(seasons)}`;
  });
  return parts.length === 0 ? 'none' : parts.join(', ');
}

function slopeWords(ledger: Ledger, { rows }: CropStability): string | undefined {
  const known = rows.flatMap(({ cultivar, slope }) =>
    slope === undefined ? [] : [{ name: cultivarName(ledger, cultivar), slope }],
  );
  if (known.length === 0) return undefined;
  const above = known.filter(({ slope }) => (slope.low ?? 1) > 1).map(({ name }) => name);
  const below = known.filter(({ slope }) => (slope.high ?? 1) < 1).map(({ name }) => name);
  const parts = [
    ...(above.length > 0 ? [`${listed(above)} above`] : []),
    ...(below.length > 0 ? [`${listed(below)} below`] : []),
  ];
  return `${parts.length === 0 ? 'none' : parts.join(', ')} (of ${known.length})`;
}

/** Who moves more or less than the rest, as a grower would say it; nothing where nobody surely does. */
function steadyWords(
  ledger: Ledger,
  { crop, rows }: CropStability,
  isOneOfSeveral: boolean,
): Note[] {
  const names = (which: (row: SteadyRow) => boolean) =>
    listed(
      rows.filter(which).map(({ cultivar }) => cultivarName(ledger, cultivar)),
      3,
    );
  const swings = names(({ slope }) => (slope?.low ?? 1) > 1);
  const steady = names(({ slope }) => (slope?.high ?? 1) < 1);
  const parts = [
    swings === '' ? '' : `most from a good year: ${swings}`,
    steady === '' ? '' : `much the same every year: ${steady}`,
  ].filter((part) => part !== '');
  if (parts.length === 0) return [];
  const words = sentence(
    `${isOneOfSeveral ? `${cropPhrase(ledger, crop)}, ` : ''}${parts.join('; ')}.`,
  );
  return [{ kind: 'evidence', text: words, brief: words }];
}

function blankWords(ledger: Ledger, { rows }: CropStability): string | undefined {
  const names = (which: (row: SteadyRow) => boolean) =>
    listed(rows.filter(which).map(({ cultivar }) => cultivarName(ledger, cultivar)));
  if (rows.every(({ environments }) => environments < FEWEST_ENVIRONMENTS)) {
    return `that takes ${FEWEST_ENVIRONMENTS} seasons at sites`;
  }
  const few = names(({ environments }) => environments < FEWEST_ENVIRONMENTS);
  const rest = names(
    ({ environments, slope }) => environments >= FEWEST_ENVIRONMENTS && slope === undefined,
  );
  const parts = [
    ...(few === '' ? [] : [`fewer than ${FEWEST_ENVIRONMENTS} seasons at sites: ${few}`]),
    ...(rest === ''
      ? []
      : [
          `seasons and sites all alike, or fewer than ${FEWEST_ENVIRONMENTS} shared with ${FEWEST_CULTIVARS - 1} others: ${rest}`,
        ]),
  ];
  return parts.length === 0 ? undefined : parts.join(', ');
}

function apart(ledger: Ledger, { groups }: CropStability): string | undefined {
  if (groups.length < 2) return undefined;
  return groups.map((group) => environmentWords(ledger, group)).join(' and ');
}

function cautions(of: string, crops: readonly CropStability[]): (Note | undefined)[] {
  const rows = crops.flatMap((one) => one.rows);
  const sloped = rows.filter(({ slope }) => slope !== undefined);
  const thin = sloped.filter(({ slope }) => slope?.environments === FEWEST_ENVIRONMENTS);
  const thinText =
    thin.length === sloped.length
      ? `Every slope rests on ${FEWEST_ENVIRONMENTS} environments: hints only.`
      : `${thin.length} of ${sloped.length} slopes rest on ${FEWEST_ENVIRONMENTS} environments: hints only.`;
  return [
    thin.length > 0
      ? shownNote(
          'caution',
          thinText,
          `${thin.length === sloped.length ? 'Every slope rests' : `${thin.length} of ${sloped.length} slopes rest`} on only ${FEWEST_ENVIRONMENTS} seasons at sites: hints, no more.`,
        )
      : undefined,
    rows.some(({ alternation }) => alternation !== undefined)
      ? shownNote(
          'caution',
          'A young tree that bears more each year looks like an alternating one.',
        )
      : undefined,
    isSteadyPart(of)
      ? undefined
      : note(
          'caution',
          'Scores are plain means: where other people tasted, an environment may look better or worse than it was.',
        ),
  ];
}
