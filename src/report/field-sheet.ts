import { safeFrom, sprayDiary } from '../measure/spray-diary.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import { seasonOf } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { bareUnit } from '../model/quantity.ts';
import { siteOn } from '../model/standing.ts';
import { mayStandOn } from '../model/tree-life.ts';
import { cultivarName } from './names.ts';
import { knownOf } from './sheet-known.ts';
import { type SheetLine, sheetLines } from './sheet-lines.ts';

/** A sheet to print, carry out and fill in. */
export interface FieldSheet {
  readonly title: string;
  readonly ledgerTitle: string;
  readonly on: IsoDate;
  /** File that what is written on it goes into. */
  readonly file: string;
  /** Of weights written without a unit. */
  readonly weightUnit: string;
  /** By key; sites without a tree are left out. Their trees go as `trees.yaml` lists them. */
  readonly sites: readonly SheetSite[];
  /** How to fill it in. */
  readonly rules: readonly string[];
  readonly cautions: readonly string[];
}

export interface SheetSite {
  readonly key: string;
  readonly name: string;
  readonly trees: readonly SheetTree[];
}

export interface SheetTree {
  readonly id: string;
  readonly cultivar: string;
  /** What the tree stands in, where that is known. */
  readonly stands: string | undefined;
  /** Why nothing may be picked, if so. */
  readonly wait: string | undefined;
  /** The last count and girth. */
  readonly known: readonly string[];
  /** Unit of a girth to take, where one is due. */
  readonly girthDue: string | undefined;
  /** One for each crop that something is due for; else one for whatever turns up. */
  readonly lines: readonly SheetLine[];
}

export interface SheetRequest {
  readonly on: IsoDate;
  /** Keys; empty asks for all. */
  readonly sites: readonly string[];
}

/** The trees that stand on a day, by site, with what is due and boxes for it. */
export function fieldSheet(ledger: Ledger, { on, sites }: SheetRequest): FieldSheet {
  const season = seasonOf(on, ledger.trial.place.latitude);
  const standing = ledger.walk.filter((tree) => mayStandOn(tree, on));
  const toTree = treeOfSheet(ledger, on, season);
  const { trial } = ledger;
  return {
    title: `Field sheet for ${on}`,
    ledgerTitle: trial.title,
    on,
    file: `seasons/${String(season).padStart(4, '0')}.yaml`,
    weightUnit: bareUnit(trial.units, 'weight'),
    sites: [...trial.sites.values()]
      .filter(({ key }) => sites.length === 0 || sites.includes(key))
      .map(({ key, name }) => ({
        key,
        name,
        trees: standing.filter((tree) => siteOn(ledger, tree, on) === key).map(toTree),
      }))
      .filter(({ trees }) => trees.length > 0),
    rules: RULES,
    cautions: cautions(ledger),
  };
}

function treeOfSheet(ledger: Ledger, on: IsoDate, season: number): (tree: Tree) => SheetTree {
  const sprayOver = sprayDiary(ledger);
  const lines = sheetLines(ledger, on, season);
  const known = knownOf(ledger, on, season);
  return (tree) => {
    const spray = sprayOver(tree, on);
    return {
      id: tree.id,
      cultivar: cultivarName(ledger, tree.cultivar),
      stands: known.container(tree),
      wait:
        spray === undefined
          ? undefined
          : `Do not pick or taste until ${safeFrom(spray)}: ${spray.product}, sprayed ${spray.on}.`,
      known: known.facts(tree),
      girthDue: known.girthDue(tree),
      lines: lines(tree),
    };
  };
}

const RULES: readonly string[] = [
  'Count what hangs before you pick. Write 0 where there is nothing; a blank is not a 0.',
  'A spoiled fruit counts once, under the worst: split, bird, insect, mould or unripe.',
];

function cautions(ledger: Ledger): readonly string[] {
  const isFig = /\bfig/i.test(ledger.trial.fruit);
  return [
    'Ladder: firm ground, both hands, and somebody within call.',
    isFig
      ? 'Fig sap burns skin in sunlight: sleeves and gloves. Keep off with an allergy to latex or fig.'
      : 'Keep off with an allergy to this fruit.',
    'Sprayed trees: wait as long as the label says. Only sprays in the ledger are known here.',
    'Taste nothing mouldy or soured.',
  ];
}
