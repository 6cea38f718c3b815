import {
  type CommonShift,
  commonShifts,
  type FigureMove,
  figureMoves,
  MOVED_FIGURES,
  type MovedFigure,
} from '../../judge/figure-moves.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { CROPS, type Crop } from '../../model/ledger.ts';
import { cropWord } from '../crop-words.ts';
import type { Fact, JsonValue } from '../document.ts';
import { decimalText } from '../number-words.ts';
import { counted, listed, sentence } from '../words.ts';
import { nameOf, type TwoSides } from './figures-section.ts';
import { isApart, type RankMove } from './rank-moves.ts';

export type MovesByFigure = ReadonlyMap<MovedFigure, readonly FigureMove[]>;

/** Every figure of both sides; see `figureMoves` for `alike`. */
export function allFigureMoves({ before, after }: TwoSides, alike: boolean): MovesByFigure {
  const former = selectRecords(before.ledger, before.selection);
  const latter = selectRecords(after.ledger, after.selection);
  return new Map(
    MOVED_FIGURES.map((figure) => [figure, figureMoves(figure, former, latter, alike)]),
  );
}

/** What moved in each crop, in a sentence for the ranks and one for each figure. */
export function movedLines(
  comparison: TwoSides,
  ranks: readonly RankMove[],
  moves: MovesByFigure,
): readonly Fact[] {
  return CROPS.flatMap((crop) => [
    ...rankLines(comparison, crop, ranks),
    ...shiftLines(comparison, crop, moves),
  ]);
}

/** Who went up and who went down. */
function rankLines({ after }: TwoSides, crop: Crop, moves: readonly RankMove[]): readonly Fact[] {
  const own = moves.filter((move) => move.crop === crop && move.places !== undefined);
  if (own.length === 0) return [];
  const up = own.filter(({ places = 0 }) => places > 0);
  const down = own.filter(({ places = 0 }) => places < 0);
  const tally = tallyWords(own, up.length, down.length);
  const far = [furthest('furthest up', up), furthest('furthest down', down)].filter(
    (part) => part !== '',
  );
  const told = own.filter((move) => isApart(move) !== null);
  const sure = told.filter((move) => isApart(move) === true).map(({ name }) => name);
  if (told.length > 0 && up.length + down.length > 0) {
    far.push(
      sure.length === 0 ? 'the intervals of all overlap' : `intervals apart: ${listed(sure)}`,
    );
  }
  return [
    {
      label: `${sentence(cropWord(after.ledger, crop))}, rank`,
      text: `${[tally, ...far].join('; ')}.`,
    },
  ];
}

function tallyWords(own: readonly RankMove[], up: number, down: number): string {
  const [first, second] = own;
  if (first !== undefined && second === undefined) {
    const way = up + down === 0 ? 'kept its place' : `went ${up > 0 ? 'up' : 'down'}`;
    return `only ${first.name} was ranked both times, and ${way}`;
  }
  return up + down > 0
    ? `of ${counted(own.length, 'cultivar')} ranked both times, ${up} went up and ${down} down`
    : `all ${counted(own.length, 'cultivar')} ranked both times kept their places`;
}

/** The longest ways stand first. */
function furthest(what: string, moves: readonly RankMove[]): string {
  const [first] = moves;
  if (first === undefined) return '';
  const alike = moves.filter(({ places }) => places === first.places);
  const names = alike.map(
    ({ name, before, after }) => `${name} (${before?.['rank']} to ${after?.['rank']})`,
  );
  return `${what}: ${names.slice(0, 3).join(', ')}`;
}

const SHORT: Readonly<Record<MovedFigure, string>> = {
  fruitPerBranch: 'fruit/branch',
  meanWeight: 'weight',
  soundShare: 'sound',
};

/** What all cultivars of a crop share, which is more likely the year's doing than theirs. */
function shiftLines(comparison: TwoSides, crop: Crop, moves: MovesByFigure): readonly Fact[] {
  return MOVED_FIGURES.flatMap((figure) => {
    const own = moves.get(figure) ?? [];
    const shift = commonShifts(figure, own).find((one) => one.crop === crop);
    if (shift === undefined) return [];
    const [most] = own.filter((move) => move.crop === crop && move.change !== undefined);
    const isAlone = shift.cultivars === 1 && most !== undefined;
    const text = isAlone ? 'only one can be compared' : shiftWords(figure, shift);
    const example =
      most === undefined
        ? ''
        : `${isAlone ? ': ' : '; most: '}${mostWords(comparison, figure, most)}`;
    return [
      {
        label: `${sentence(cropWord(comparison.after.ledger, crop))}, ${SHORT[figure]}`,
        text: `${text}${example}.`,
      },
    ];
  });
}

function shiftWords(figure: MovedFigure, { cultivars, rose, fell, middle }: CommonShift): string {
  const ways = `up in ${rose} and down in ${fell} of ${counted(cultivars, 'cultivar')}`;
  if (middle === undefined) return `${ways}, half of them or more from none`;
  const percent = decimalText(middle, 0, 2);
  const signed = percent.startsWith('-') || percent === '0' ? percent : `+${percent}`;
  const unit = figure === 'soundShare' ? 'points' : '%';
  return `${ways}, median change ${signed} ${unit}`;
}

function mostWords(comparison: TwoSides, figure: MovedFigure, move: FigureMove): string {
  const { cultivar, before = 0, after = 0 } = move;
  return `${nameOf(comparison, cultivar)} (${figureText(figure, before)} to ${figureText(figure, after)})`;
}

function figureText(figure: MovedFigure, value: number): string {
  if (figure === 'soundShare') return `${decimalText(value, 0, 2)} %`;
  return figure === 'meanWeight' ? `${decimalText(value, 1)} g` : decimalText(value, 2);
}

/** The same for machines. */
export function shiftsSaid(moves: MovesByFigure): JsonValue {
  return Object.fromEntries(
    MOVED_FIGURES.map((figure) => [
      figure,
      commonShifts(figure, moves.get(figure) ?? []).map((shift) => ({
        ...shift,
        middle: shift.middle ?? null,
      })),
    ]),
  );
}
