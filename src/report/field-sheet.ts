import { safeFrom, sprayDiary } from '../measure/spray-diary.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import { seasonOf } from '../model/dates.ts';
import { DEFECTS } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { bareUnit } from '../model/quantity.ts';
import { siteOn } from '../model/standing.ts';
import { mayStandOn } from '../model/tree-life.ts';
import { note } from './common-notes.ts';
import {
  BLANK,
  type Document,
  type Fact,
  type FormBlock,
  type FormBox,
  type FormRecord,
  paragraph,
  type Said,
  type Section,
} from './document.ts';
import { cultivarName } from './names.ts';
import { knownOf } from './sheet-known.ts';
import { sheetLines } from './sheet-lines.ts';
import type { Note } from './table.ts';

export interface SheetRequest {
  readonly on: IsoDate;
  /** Keys; empty asks for all. */
  readonly sites: readonly string[];
}

/** A sheet to print, carry out and fill in: the trees that stand on a day, by site, with what is due. */
export function fieldSheet(ledger: Ledger, { on, sites }: SheetRequest): Document {
  const season = seasonOf(on, ledger.trial.place.latitude);
  const standing = ledger.walk.filter((tree) => mayStandOn(tree, on));
  const toRecord = recordsOf(ledger, on, season);
  const { trial } = ledger;
  const title = `Field sheet for ${on}`;
  const file = `seasons/${String(season).padStart(4, '0')}.yaml`;
  const weightUnit = bareUnit(trial.units, 'weight');
  const shown = [...trial.sites.values()]
    .filter(({ key }) => sites.length === 0 || sites.includes(key))
    .map(({ key, name }) => ({
      ...{ key, name },
      trees: standing.filter((tree) => siteOn(ledger, tree, on) === key).map(toRecord),
    }))
    .filter(({ trees }) => trees.length > 0);
  const boxes = boxesOf(weightUnit);
  const notes = [...RULES.map((text) => note('method', text)), ...cautions(ledger)];
  return {
    report: 'sheet',
    title,
    ledgerTitle: trial.title,
    selection: { on, site: shown.map(({ key }) => key) },
    paper: 'landscape',
    says: {
      ...{ title, file, weightUnit },
      sites: shown.map(({ key, name, trees }) => ({ site: key, name, trees: trees.map(treeSaid) })),
      notes: notes.map(({ kind, text }) => ({ kind, text })),
    },
    sections: [
      {
        key: 'rules',
        heading: '',
        blocks: [
          { kind: 'facts', facts: WHO },
          { kind: 'notes', notes },
        ],
      },
      ...shown.map(({ key, name, trees }, at): Section => {
        const caption = `${name}, ${on}`;
        const form: FormBlock = { kind: 'form', caption, ...FORM, boxes, records: trees };
        return { key: `site ${key}`, heading: name, isNewPage: at > 0, blocks: [form] };
      }),
      {
        key: 'file',
        heading: '',
        blocks: [
          ...(shown.length === 0 ? [paragraph('No tree stands there on that day.')] : []),
          paragraph(`Afterwards it goes into ${file}.`),
        ],
      },
    ],
    notes: [],
  };
}

function recordsOf(ledger: Ledger, on: IsoDate, season: number): (tree: Tree) => FormRecord {
  const sprayOver = sprayDiary(ledger);
  const lines = sheetLines(ledger, on, season);
  const known = knownOf(ledger, on, season);
  return (tree) => {
    const spray = sprayOver(tree, on);
    const unit = known.girthDue(tree);
    return {
      id: tree.id,
      name: cultivarName(ledger, tree.cultivar),
      aside: known.container(tree),
      barred:
        spray === undefined
          ? undefined
          : `Do not pick or taste until ${safeFrom(spray)}: ${spray.product}, sprayed ${spray.on}.`,
      known: known.facts(tree),
      own: unit === undefined ? undefined : { label: 'girth', unit },
      lines: lines(tree),
    };
  };
}

/** A tree for programs; what is not known is null. */
function treeSaid({ id, name, aside, barred, known, own, lines }: FormRecord): Said {
  return {
    tree: id,
    cultivar: name,
    stands: aside ?? null,
    wait: barred ?? null,
    known,
    girthDue: own?.unit ?? null,
    due: lines.map(({ label, due }) => ({ crop: label === '' ? null : label, due })),
  };
}

const FORM = { record: 'Tree', name: 'Cultivar', line: 'Crop' } as const;

const WHO: readonly Fact[] = ['By', 'Weather'].map((label) => ({ label, text: BLANK.repeat(5) }));

function boxesOf(weightUnit: string): readonly FormBox[] {
  const hanging = { group: 'On the tree', room: 'some', isBarred: false } as const;
  const picked = { group: 'Picked', room: 'some', isBarred: true } as const;
  const each = `${weightUnit} each`;
  return [
    { ...hanging, label: 'hanging', inGroup: 'Fruit' },
    { ...hanging, label: 'branches', inGroup: 'Branches' },
    { ...picked, label: 'picked', inGroup: 'Fruit' },
    { ...picked, label: `weights, ${each}`, inGroup: `Weights, ${each}`, room: 'much' },
    ...DEFECTS.map(
      (label): FormBox => ({
        ...{ ...picked, group: 'Of the picked', room: 'few' },
        ...{ label, inGroup: label },
      }),
    ),
  ];
}

const RULES: readonly string[] = [
  'Count what hangs before you pick. Write 0 where there is nothing; a blank is not a 0.',
  'A spoiled fruit counts once, under the worst: split, bird, insect, mould or unripe.',
];

function cautions(ledger: Ledger): readonly Note[] {
  const isFig = /\bfig/i.test(ledger.trial.fruit);
  return [
    'Ladder: firm ground, both hands, and somebody within call.',
    isFig
      ? 'Fig sap burns skin in sunlight: sleeves and gloves. Keep off with an allergy to latex or fig.'
      : 'Keep off with an allergy to this fruit.',
    'Sprayed trees: wait as long as the label says. Only sprays in the ledger are known here.',
    'Taste nothing mouldy or soured.',
  ].map((text) => note('caution', text));
}
