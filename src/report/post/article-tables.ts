import { countColumn, dateColumn, numberColumn, shareColumn, textColumn } from '../columns.ts';
import { dayInWords } from '../day-words.ts';
import type { Block, Section } from '../document.ts';
import { markedName, VERDICT_WORDS } from '../names.ts';
import { percent } from '../report-request.ts';
import type { Column, Row } from '../table.ts';
import type { ArticleMaterial } from './article.ts';
import { marksParagraph, placeHeading } from './article.ts';
import type { ArticlePlace } from './article-places.ts';

/** The figures behind an article, in tables that a phone can show. */
export function figuresSection(material: ArticleMaterial): Section {
  return {
    key: 'figures',
    heading: 'The figures',
    blocks: [
      ...material.places.flatMap((place) => [
        judgedTable(material, place),
        measuredTable(material, place),
      ]),
      marksParagraph(material.ledger),
    ],
  };
}

function judgedTable({ ledger, request }: ArticleMaterial, place: ArticlePlace): Block {
  const interval = `${percent(request.confidence)} % interval`;
  const index = { label: interval, drop: 0 };
  const columns: Column[] = [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    textColumn('verdict', { label: 'Verdict', drop: 0 }),
    numberColumn('index', 1, { label: 'Index', drop: 0 }),
    { ...numberColumn('low', 1, index), upTo: 'high' },
    numberColumn('high', 1, index),
    countColumn('trees', { label: 'Trees', drop: 0 }),
    countColumn('tastings', { label: 'Tastings', drop: 0 }),
  ];
  return {
    kind: 'table',
    caption: `${placeHeading(ledger, place)}: verdict and index`,
    table: {
      columns,
      rows: place.judged.map(
        (one): Row => ({
          cultivar: markedName(ledger, one.name),
          verdict: VERDICT_WORDS[one.verdict].toLowerCase(),
          index: one.index ?? null,
          low: one.low ?? null,
          high: one.high ?? null,
          // What could not be ranked is counted over all covers, which is not said of one.
          trees: one.cover === place.cover ? one.trees : null,
          tastings: one.cover === place.cover ? one.tastings : null,
        }),
      ),
    },
    ifEmpty: 'Nothing to show.',
    notes: [],
  };
}

function measuredTable({ ledger }: ArticleMaterial, place: ArticlePlace): Block {
  const columns: Column[] = [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    { ...dateColumn('half', { label: 'Half picked by', drop: 0 }) },
    numberColumn('weight', 0, { label: 'Fruit', unit: 'g', drop: 0 }),
    shareColumn('sound', 0, { label: 'Sound', drop: 0 }),
    numberColumn('perBranch', 1, { label: 'Fruit a branch', drop: 0 }),
    numberColumn('pickedWeight', 0, { label: 'Picked', unit: 'g', drop: 0 }),
  ];
  const rows = place.judged.map(
    (one): Row => ({
      cultivar: markedName(ledger, one.name),
      half: one.half ?? null,
      weight: one.weight ?? null,
      sound: one.sound ?? null,
      perBranch: one.perBranch ?? null,
      pickedWeight: one.pickedWeight ?? null,
    }),
  );
  const words = Object.fromEntries(
    rows.flatMap(({ half }) => (typeof half === 'string' ? [[half, dayInWords(half)]] : [])),
  );
  return {
    kind: 'table',
    caption: `${placeHeading(ledger, place)}: when, how big and how much`,
    table: {
      columns: columns
        .filter(({ key }) => key === 'cultivar' || rows.some((row) => row[key] !== null))
        .map((column) => (column.key === 'half' ? { ...column, words } : column)),
      rows,
    },
    ifEmpty: 'Nothing to show.',
    notes: [],
  };
}
