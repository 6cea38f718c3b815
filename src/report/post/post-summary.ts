import { selectRecords } from '../../measure/crop-record.ts';
import { DEFECTS } from '../../model/entries.ts';
import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { dayInWords, soFarSentence } from '../day-words.ts';
import type { Section } from '../document.ts';
import { cultivarName, doubtfulCultivars, markedName } from '../names.ts';
import { decimal, joined, type Prose, share } from '../prose.ts';
import { textIn } from '../row-columns.ts';
import { counted, listed, yearsInWords } from '../words.ts';
import { treesBySite } from './post-growing.ts';
import { lastSeasonRows, totalOf } from './post-harvest.ts';
import { leadSentence } from './post-ranks.ts';
import type { PostMaterial } from './post-request.ts';
import { rowsOf } from './post-tables.ts';

/** What a neighbour wants to know, in a few sentences. */
export function summarySection(material: PostMaterial): Section {
  const { ranks } = material;
  const best = CROPS.filter((crop) => rowsOf(ranks, crop).length > 0).map(
    (crop): Prose => [`${cropHeading(material.ledger, crop)}: `, ...leadSentence(material, crop)],
  );
  const lines = [
    ...best,
    ripeLine(material),
    yieldLine(material),
    spoiledLine(material),
    grownLine(material),
    doubtLine(material),
  ].filter((line) => line.length > 0);
  return { key: 'inShort', heading: 'In short', blocks: [{ kind: 'list', lines }] };
}

function ripeLine(material: PostMaterial): Prose {
  const rows = lastSeasonRows(material);
  const crops = CROPS.flatMap((crop) => {
    const own = rows
      .filter((row) => row['crop'] === crop && row['p50'] !== null)
      .toSorted((a, b) => (textIn(a, 'p50') < textIn(b, 'p50') ? -1 : 1));
    const [early, late] = [own[0], own.at(-1)];
    if (early === undefined || late === undefined) return [];
    const name = (row: typeof early) => markedName(material.ledger, textIn(row, 'cultivar'));
    const by = (row: typeof early) => dayInWords(textIn(row, 'p50'));
    return own.length === 1
      ? [`half of the ${crop} crop of ${name(early)} was picked by ${by(early)}`]
      : [
          `the ${crop} crop was half picked by ${by(early)} for the earliest (${name(early)}) and by ${by(late)} for the latest (${name(late)})`,
        ];
  });
  const { ledger, request } = material;
  const records = selectRecords(ledger, request.selection);
  const soFar = soFarSentence(ledger, request, records) ?? '';
  if (crops.length === 0) return soFar === '' ? [] : [soFar];
  const last = material.seasons.at(-1);
  const frost = last === undefined ? undefined : material.ledger.trial.frost.get(last);
  const cold = frost === undefined ? '' : `; first frost on ${dayInWords(frost)}`;
  return [
    [`When ripe, in ${last}: ${crops.join('; ')}${cold}.`, soFar]
      .filter((part) => part !== '')
      .join(' '),
  ];
}

/** Grams in a kilogram. */
const KILOGRAM = 1000;

function yieldLine({ ledger, request, seasons }: PostMaterial): Prose {
  const records = selectRecords(ledger, request.selection);
  const told = CROPS.flatMap((crop): Prose[] => {
    const own = records.filter((record) => record.crop === crop);
    const picked = own.reduce((sum, record) => sum + record.picked, 0);
    if (picked === 0) return [];
    const isWhole = own.every(({ weights }) => weights.total !== undefined);
    const weight = own.reduce((sum, { weights }) => sum + (weights.total ?? weights.onScales), 0);
    const kilograms: Prose =
      weight === 0 ? [] : [isWhole ? ', ' : ', at least ', decimal(weight / KILOGRAM, 1), ' kg'];
    return [[`${counted(picked, 'fruit', 'fruit')} of the ${crop} crop`, ...kilograms]];
  });
  if (told.length === 0) return [];
  return [`How much, ${yearsInWords(seasons)}: `, ...joined(told, '; '), '.'];
}

function spoiledLine({ soundness }: PostMaterial): Prose {
  const picked = totalOf(soundness.rows, 'fruit') ?? 0;
  const sound = totalOf(soundness.rows, 'sound') ?? 0;
  if (picked === 0) return [];
  const spoiled = picked - sound;
  const causes = DEFECTS.map((defect) => ({ defect, fruit: totalOf(soundness.rows, defect) ?? 0 }))
    .filter(({ fruit }) => fruit > 0)
    .toSorted((a, b) => b.fruit - a.fruit)
    .map(({ defect, fruit }) => `${defect} ${fruit}`);
  const what = causes.length === 0 ? '' : `: ${listed(causes)}`;
  const dropped = totalOf(soundness.rows, 'dropped') ?? 0;
  const fallen = dropped === 0 ? '' : `; ${dropped} more dropped before picking`;
  return [
    `What spoiled: ${spoiled} of ${picked} fruit picked (`,
    share(spoiled / picked),
    `)${what}${fallen}.`,
  ];
}

function grownLine(material: PostMaterial): Prose {
  const { ledger, request } = material;
  const records = selectRecords(ledger, request.selection);
  const trees = new Set(records.map(({ tree }) => tree));
  if (trees.size === 0) return [];
  const cultivars = new Set([...trees].map(({ cultivar }) => cultivar));
  return [
    `How grown: ${counted(trees.size, 'tree')} of ${counted(cultivars.size, 'cultivar')}; ${treesBySite(material)}. A tree that was moved counts at each site.`,
  ];
}

function doubtLine({ ledger, ranks, crops }: PostMaterial): Prose {
  const shown = new Set([...ranks.rows, ...crops.rows].map((row) => row['cultivar']));
  const names = doubtfulCultivars(ledger)
    .map((one) => cultivarName(ledger, one))
    .filter((name) => shown.has(name))
    .map((name) => markedName(ledger, name));
  return names.length === 0 ? [] : [`Names in doubt: ${listed(names)}.`];
}
