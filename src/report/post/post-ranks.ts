import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import type { Block, Section } from '../document.ts';
import { overlap, ranksFigureOf } from '../figures/figure-ranks.ts';
import { markedName } from '../names.ts';
import { decimal, joined, type Prose, share } from '../prose.ts';
import { percent } from '../report-request.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Row } from '../table.ts';
import { listed } from '../words.ts';
import type { PostMaterial } from './post-request.ts';
import { rowsOf, tableBlock, textsOf } from './post-tables.ts';

/** Cultivars with a rank, best first, and those without. */
export function rankedRows(rows: readonly Row[]): readonly Row[] {
  return rows.filter((row) => numberIn(row, 'rank') !== undefined);
}

/** The rank tables and figures, the crops apart. */
export function rankTablesSection(material: PostMaterial): Section {
  const { ledger, ranks } = material;
  const crops = CROPS.filter((crop) => rowsOf(ranks, crop).length > 0);
  const evidence = textsOf(ledger, ranks, 'evidence');
  const letters: readonly Prose[] = ranks.rows.some((row) => textIn(row, 'letters') !== '')
    ? [[LETTERS_AND_INTERVALS]]
    : [];
  return {
    key: 'ranks',
    heading: 'What did best',
    blocks: [
      ...crops.flatMap((crop) => cropBlocks(material, crop)),
      ...(evidence.length === 0
        ? []
        : [
            { kind: 'subheading', text: 'How sure this is' } as const,
            {
              kind: 'list',
              lines: [...evidence.map((text): Prose => [text]), ...letters],
            } as const,
          ]),
    ],
  };
}

const LETTERS_AND_INTERVALS =
  'Letters compare pair by pair, so two cultivars may have no letter in common although their intervals overlap: the intervals are the more careful reading.';

function cropBlocks(
  { ledger, request, ranks }: PostMaterial,
  crop: (typeof CROPS)[number],
): readonly Block[] {
  const all = rankedRows(rowsOf(ranks, crop));
  const heading = cropHeading(ledger, crop);
  const subheading: Block = { kind: 'subheading', text: heading };
  if (all.length === 0) {
    const text = leadSentence({ ledger, request, ranks }, crop);
    return [subheading, { kind: 'paragraph', text }];
  }
  const isPicked = (request.selection.cultivars ?? []).length > 0;
  const rows = all.slice(0, request.top);
  const left = all.length - rows.length;
  const figure = ranksFigureOf(ledger, all, request);
  const caption =
    isPicked && left === 0
      ? 'Ranks among all cultivars'
      : left === 0
        ? rows.length === 1
          ? 'The one ranked cultivar'
          : `All ${rows.length} ranked cultivars`
        : `The first ${rows.length} of ${all.length} ranked cultivars`;
  return [
    subheading,
    tableBlock(ledger, ranks, {
      caption,
      rows,
      keys: ranks.columns
        .filter(({ key, machineOnly }) => machineOnly !== true && !['crop', 'why'].includes(key))
        .map(({ key }) => key),
    }),
    ...(figure === undefined ? [] : [{ kind: 'figure', figure } as const]),
  ];
}

const NONE_RANKED: Prose = ['No cultivar could be ranked.'];

/** Who has the highest index, and whether that means anything. Never a winner where intervals meet. */
export function leadSentence(
  { ledger, request, ranks }: Pick<PostMaterial, 'ledger' | 'request' | 'ranks'>,
  crop: (typeof CROPS)[number],
): Prose {
  const rows = rankedRows(rowsOf(ranks, crop));
  const first = rows[0];
  const own = rowsOf(ranks, crop);
  if (first === undefined) return aloneSentence(own);
  if (request.selection.cultivars?.length) return joined(rows.map(placeSentence));
  const index = first === undefined ? undefined : numberIn(first, 'index');
  if (index === undefined) return NONE_RANKED;
  const name = nameIn(first);
  const low = numberIn(first, 'low');
  const high = numberIn(first, 'high');
  const lead: Prose = [`${name} has the highest index, `, decimal(index, 1)];
  if (low === undefined || high === undefined) {
    return [...lead, '; without an interval nobody can say how sure that is.'];
  }
  const interval: Prose = [
    ` (${percent(request.confidence)} % interval `,
    decimal(low, 1),
    ' to ',
    decimal(high, 1),
    '). ',
  ];
  return [...lead, ...interval, ...rivals(first, rows), ...chance()];

  /** One that has an index and no rank. */
  function aloneSentence(all: readonly Row[]): Prose {
    const [one] = all.filter((row) => numberIn(row, 'index') !== undefined);
    const figure = one === undefined ? undefined : numberIn(one, 'index');
    if (one === undefined || figure === undefined) return NONE_RANKED;
    return [`${nameIn(one)} has an index of `, decimal(figure, 2), `, but ${textIn(one, 'why')}.`];
  }
  function placeSentence(row: Row): Prose {
    const [from, to] = [numberIn(row, 'rankLow'), numberIn(row, 'rankHigh')];
    const span = from === undefined || to === undefined ? '' : ` (${from} to ${to})`;
    const place = `${nameIn(row)} has rank ${numberIn(row, 'rank')}${span} among all cultivars, with an index of `;
    return [place, decimal(numberIn(row, 'index') ?? 0, 2), '.'];
  }
  function nameIn(row: Row): string {
    return markedName(ledger, textIn(row, 'cultivar'));
  }
  function rivals(best: Row, all: readonly Row[]): Prose {
    const close = all.filter((row) => row !== best && cannotBeParted(row, best));
    if (close.length === 0) return ['No other interval reaches it: it stands clear of the rest.'];
    const names = close.map(nameIn);
    const shown = names.length > 4 ? listed(names, 3) : listed(names);
    return [`It is not a clear winner: its interval overlaps with ${shown}.`];
  }
  function chance(): Prose {
    const column = ranks.columns.find(({ key }) => key === 'topShare');
    const top = first === undefined ? undefined : numberIn(first, 'topShare');
    if (column === undefined || top === undefined || rows.length < 2) return [];
    const place = column.label === 'First' ? 'first' : `among the ${column.label.toLowerCase()}`;
    const often: Prose = top > 0.99 ? ['over 99 %'] : [share(top)];
    return [` The chance that it is truly ${place} is `, ...often, '.'];
  }
}

/** Intervals that meet, or a letter in common. */
function cannotBeParted(one: Row, other: Row): boolean {
  const ends = (row: Row) => ({ low: numberIn(row, 'low'), high: numberIn(row, 'high') });
  const letters = textIn(other, 'letters');
  return (
    overlap(ends(one), ends(other)) ||
    [...textIn(one, 'letters')].some((letter) => letters.includes(letter))
  );
}
