import { DEFECTS } from '../../model/entries.ts';
import { CROPS, type Crop } from '../../model/ledger.ts';
import { textColumn } from '../columns.ts';
import { cropHeading } from '../crop-words.ts';
import type { Block, Section } from '../document.ts';
import { ripeningFigureOf } from '../figures/figure-ripening.ts';
import { weightsFigure } from '../figures/figure-weights.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';
import { yearsInWords } from '../words.ts';
import type { PostMaterial } from './post-request.ts';
import { rowsOf, tableBlock, textsOf } from './post-tables.ts';

/** The calendar of the last season, and the half-picked days of all of them. */
export function ripeningSection(material: PostMaterial): Section {
  const { ledger, ripening, seasons } = material;
  const last = seasons.at(-1);
  const inLast = lastSeasonRows(material);
  const crops = CROPS.filter((crop) => inLast.some((row) => row['crop'] === crop));
  const figure = ripeningFigureOf(ledger, { ...ripening, rows: inLast });
  const isSoFar = (crop: Crop) =>
    rowsOf(ripening, crop).some((row) => inLast.includes(row) && row['soFar'] !== null);
  return {
    key: 'ripening',
    heading: 'When it ripened',
    blocks: [
      ...(figure === undefined ? [] : [{ kind: 'figure', figure } as const]),
      ...crops.map((crop) =>
        tableBlock(ledger, ripening, {
          caption: `${cropHeading(ledger, crop)}, ${last}${isSoFar(crop) ? ' so far' : ''}: when it was picked`,
          rows: inLast.filter((row) => row['crop'] === crop),
          keys: [
            'cultivar',
            'soFar',
            'first',
            'p50',
            'last',
            'daysFromStandard',
            'degreeDays',
            'shareBeforeFrost',
          ],
        }),
      ),
      ...(seasons.length < 2 ? [] : CROPS.flatMap((crop) => seasonsBlock(material, crop))),
      ...evidenceList(material, [ripening]),
    ],
  };
}

/** Rows of the ripening report for the last season. */
export function lastSeasonRows({ ripening, seasons }: PostMaterial): readonly Row[] {
  const last = String(seasons.at(-1));
  return ripening.rows.filter((row) => textIn(row, 'season') === last);
}

/** Half-picked days side by side, a column a season. */
function seasonsBlock(
  { ledger, ripening, seasons }: PostMaterial,
  crop: (typeof CROPS)[number],
): readonly Block[] {
  const own = rowsOf(ripening, crop).filter((row) => row['p50'] !== null);
  const known = seasons.filter((season) =>
    own.some((row) => textIn(row, 'season') === String(season)),
  );
  // The calendar tells one season already, if it is the last.
  if (known.length === 0 || (known.length === 1 && known[0] === seasons.at(-1))) return [];
  const names = [...new Set(own.map((row) => textIn(row, 'cultivar')))];
  if (names.length === 0) return [];
  const dayIn = (name: string, season: number) =>
    own.find((row) => row['cultivar'] === name && textIn(row, 'season') === String(season))?.[
      'p50'
    ] ?? null;
  const rows = names
    .map(
      (name): Row => ({
        cultivar: name,
        crop,
        ...Object.fromEntries(known.map((season) => [`in${season}`, dayIn(name, season)])),
      }),
    )
    .toSorted((a, b) => compareLast(a, b, known));
  const columns: Column[] = [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    ...known.map(
      (season): Column => ({
        key: `in${season}`,
        label: String(season),
        kind: 'date',
        drop: 0,
      }),
    ),
  ];
  const caption = `${cropHeading(ledger, crop)}: day by which half was picked, ${yearsInWords(known)}`;
  return [tableBlock(ledger, { ...ripening, columns }, { caption, rows })];
}

function compareLast(a: Row, b: Row, seasons: readonly number[]): number {
  for (const season of seasons.toReversed()) {
    const [one, other] = [textIn(a, `in${season}`), textIn(b, `in${season}`)];
    if (one === other) continue;
    if (one === '' || other === '') return one === '' ? 1 : -1;
    return one < other ? -1 : 1;
  }
  return 0;
}

/** Load, fruit per branch and weights, and the two crops side by side. */
export function yieldSection(material: PostMaterial): Section {
  const { ledger, request, crops, yields, weights } = material;
  const figure = weightsFigure(ledger, { ...request, top: undefined });
  return {
    key: 'yields',
    heading: 'How much, and how big',
    blocks: [
      ...(crops.rows.length === 0
        ? []
        : [
            tableBlock(ledger, crops, {
              caption: 'Trees, fruit and weight',
              rows: crops.rows,
              keys: cropKeys(crops.rows),
            }),
          ]),
      ...CROPS.flatMap((crop) => {
        const rows = withWeights(rowsOf(yields, crop), rowsOf(weights, crop));
        if (rows.length === 0) return [];
        const columns = [...yields.columns, ...weights.columns.flatMap(asWeight)];
        const report = { ...yields, columns };
        const caption = `${cropHeading(ledger, crop)}: fruit per branch and fruit weight`;
        return [tableBlock(ledger, report, { caption, rows, keys: YIELD_KEYS })];
      }),
      ...(figure === undefined ? [] : [{ kind: 'figure', figure } as const]),
      ...evidenceList(material, [yields, weights]),
    ],
  };
}

/** Columns of the crops that were seen; shares only where there are two. */
function cropKeys(rows: readonly Row[]): readonly string[] {
  const seen = CROPS.filter((crop) => rows.some((row) => (numberIn(row, `${crop}Trees`) ?? 0) > 0));
  const parts = [
    'Trees',
    'Load',
    'Picked',
    'Weight',
    'WeightAtLeast',
    ...(seen.length < 2 ? [] : ['ShareOfWeight']),
  ];
  return ['cultivar', ...seen.flatMap((crop) => parts.map((part) => `${crop}${part}`))];
}

const YIELD_KEYS = [
  'cultivar',
  'load',
  'branches',
  'fruitPerBranch',
  'fruitPerBranchLow',
  'meanWeight',
  'meanWeightLow',
  'trees',
];
const WEIGHT_KEYS: Readonly<Record<string, string>> = {
  mean: 'meanWeight',
  low: 'meanWeightLow',
  high: 'meanWeightHigh',
};

/** Columns of fruit weight as they stand beside those of yield. */
function asWeight(column: Column): readonly Column[] {
  const key = WEIGHT_KEYS[column.key];
  if (key === undefined) return [];
  const { upTo, ...rest } = column;
  const label = column.key === 'mean' ? 'Mean fruit weight' : column.label;
  const upper = upTo === undefined ? undefined : WEIGHT_KEYS[upTo];
  return [{ ...rest, key, label, ...(upper === undefined ? {} : { upTo: upper }) }];
}

function withWeights(yields: readonly Row[], weights: readonly Row[]): readonly Row[] {
  return yields.map((row) => {
    const own = weights.find((one) => one['cultivar'] === row['cultivar']);
    const cells = Object.entries(WEIGHT_KEYS).map(([from, to]) => [to, own?.[from] ?? null]);
    return { ...row, ...Object.fromEntries(cells) };
  });
}

/** What was wrong with the fruit. */
export function soundnessSection(material: PostMaterial): Section {
  const { ledger, soundness } = material;
  return {
    key: 'soundness',
    heading: 'What spoiled',
    blocks: [
      ...CROPS.flatMap((crop) => {
        const rows = rowsOf(soundness, crop);
        const caption = `${cropHeading(ledger, crop)}: sound fruit, and what spoiled the rest`;
        return rows.length === 0
          ? []
          : [tableBlock(ledger, soundness, { caption, rows, keys: SOUND_KEYS })];
      }),
      ...evidenceList(material, [soundness]),
    ],
  };
}

const SOUND_KEYS = ['cultivar', 'fruit', 'share', 'low', ...DEFECTS, 'dropped'];

/** What reports say about their evidence, once. */
function evidenceList({ ledger }: PostMaterial, reports: readonly Report[]): readonly Block[] {
  const texts = reports.flatMap((report) => textsOf(ledger, report, 'evidence'));
  const lines = [...new Set(texts)].map((text) => [text]);
  return lines.length === 0 ? [] : [{ kind: 'list', lines }];
}

/** Sum of a figure over rows; undefined where one of them is not known. */
export function totalOf(rows: readonly Row[], key: string): number | undefined {
  const values = rows.map((row) => numberIn(row, key));
  return values.includes(undefined)
    ? undefined
    : values.reduce<number>((sum, value) => sum + (value ?? 0), 0);
}
