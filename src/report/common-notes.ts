import type { CropRecord } from '../measure/crop-record.ts';
import { cropRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import type { RowBy } from '../measure/group-records.ts';
import type { Selection } from '../measure/selection.ts';
import { isSelected } from '../measure/selection.ts';
import type { Cultivar } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { CROPS } from '../model/ledger.ts';
import { cultivarName, siteName } from './names.ts';
import { NOTE_KINDS, type Note, type NoteKind } from './table.ts';
import { counted, listed, namedAs, yearsInWords } from './words.ts';

export function note(kind: NoteKind, text: string): Note {
  return { kind, text };
}

/** A note that a terminal shows unasked, in a line of its own or as it stands. */
export function shownNote(kind: NoteKind, text: string, brief = text): Note {
  return { kind, text, brief };
}

/** Notes in the order in which people need them: how, on what, and what may mislead. */
export function notesInOrder(notes: readonly (Note | undefined)[]): Note[] {
  return notes
    .filter((one) => one !== undefined)
    .toSorted((a, b) => NOTE_KINDS.indexOf(a.kind) - NOTE_KINDS.indexOf(b.kind));
}

/** What this ledger calls the two crops, where it has words of its own. */
export function cropWordsNote(ledger: Ledger): Note | undefined {
  const own = CROPS.filter((crop) => ledger.trial.cropNames[crop] !== crop);
  const words = own.map((crop) => `${crop} = ${ledger.trial.cropNames[crop]}`);
  return words.length === 0 ? undefined : note('method', `Crops: ${words.join(', ')}.`);
}

/** Cultivars of a table whose identity is in doubt. */
export function doubtNote(ledger: Ledger, cultivars: Iterable<Cultivar>): Note | undefined {
  const doubtful = [...new Set(cultivars)].flatMap((cultivar) => {
    if (cultivar.perhaps === undefined) return [];
    const other = ledger.cultivars.get(cultivar.perhaps.sameAs);
    const same = other === undefined ? cultivar.perhaps.sameAs : cultivarName(ledger, other);
    return [`${cultivarName(ledger, cultivar)} (perhaps ${same})`];
  });
  return doubtful.length === 0
    ? undefined
    : shownNote(
        'caution',
        `Names in doubt: ${listed(doubtful)}.`,
        `In doubt: ${listed(doubtful, 3)}.`,
      );
}

/**
 * Where the cultivars of a table stood, which years they lack, and whose name is in doubt: long notes
 * for those who ask, and a line of all three for a terminal.
 */
export function placeNotes(
  ledger: Ledger,
  confounding: Confounding,
  cultivars: Iterable<Cultivar>,
): readonly (Note | undefined)[] {
  const inDoubt = [...new Set(cultivars)].filter(({ perhaps }) => perhaps !== undefined);
  const names = inDoubt.map((cultivar) => cultivarName(ledger, cultivar));
  const brief = [
    ...confounding.brief,
    ...(names.length === 0 ? [] : [`In doubt: ${listed(names, 3)}.`]),
  ].join(' ');
  const long = [confounding.text, doubtNote(ledger, inDoubt)?.text].filter(
    (text) => text !== undefined,
  );
  return long.map((text, at) =>
    at === 0 ? shownNote('caution', text, brief) : note('caution', text),
  );
}

export interface Confounding {
  readonly text: string | undefined;
  /** Sentences. */
  readonly brief: readonly string[];
}

/**
 * Whether the sites or the seasons of the cultivars in a table differ, so that a difference between
 * cultivars may be one between sites or years; else whether rows pool sites.
 */
export function confoundingOf(
  ledger: Ledger,
  records: readonly CropRecord[],
  by: readonly RowBy[],
  sitesApart: string,
): Confounding {
  const sites = by.includes('site')
    ? undefined
    : unevenly(ledger, records, (own) => siteWords(ledger, own));
  const seasons = by.includes('season')
    ? undefined
    : unevenly(ledger, records, (own) => yearsInWords(own.map(({ season }) => season)));
  const uneven = [
    ...(sites === undefined ? [] : [{ what: `sites (${sites})`, whose: "the site's" }]),
    ...(seasons === undefined ? [] : [{ what: `seasons (${seasons})`, whose: "the year's" }]),
  ];
  if (uneven.length > 0) {
    const what = uneven.map((one) => one.what).join(' and in ');
    const whose = uneven.map((one) => one.whose).join(' or ');
    return {
      text: `Cultivars differ in ${what}: a difference may be ${whose}.`,
      brief: [
        ...(sites === undefined ? [] : [`Sites differ: ${sitesApart}.`]),
        ...(seasons === undefined ? [] : [fewerYears(ledger, records)]),
      ],
    };
  }
  const pooled = new Set(records.map(({ site }) => site)).size > 1;
  if (!pooled || by.includes('site') || by.includes('tree')) return { text: undefined, brief: [] };
  const text = `Rows pool several sites: ${siteWords(ledger, records)}.`;
  return { text, brief: [text] };
}

/** Who lacks years that others have. */
function fewerYears(ledger: Ledger, records: readonly CropRecord[]): string {
  const all = new Set(records.map(({ season }) => season));
  const fewer = [...groupBy(records, (record) => record.tree.cultivar)].flatMap(
    ([cultivar, own]) => {
      const years = own.map(({ season }) => season);
      return new Set(years).size === all.size ? [] : [cultivarName(ledger, cultivar)];
    },
  );
  const [only, ...others] = fewer;
  return others.length === 0
    ? `Not every year: ${only}.`
    : `${fewer.length} were not there every year.`;
}

function siteWords(ledger: Ledger, records: readonly CropRecord[]): string {
  const stood = new Set(records.map((record) => record.site));
  const keys = [...ledger.trial.sites.keys()].filter((key) => stood.has(key));
  return keys.map((key) => siteName(ledger, key)).join(' and ');
}

/** "glasshouse: A, B; south wall: C", or undefined where all cultivars have the same. */
function unevenly(
  ledger: Ledger,
  records: readonly CropRecord[],
  where: (own: readonly CropRecord[]) => string,
): string | undefined {
  const byCultivar = groupBy(records, (record) => record.tree.cultivar);
  const byPlace = groupBy(byCultivar, ([, own]) => where(own));
  if (byPlace.size < 2) return undefined;
  const parts = [...byPlace].map(([place, cultivars]) => {
    const names = cultivars.map(([cultivar]) => cultivarName(ledger, cultivar));
    return `${place}: ${names.length > 2 ? counted(names.length, 'cultivar') : listed(names)}`;
  });
  return parts.join('; ');
}

/** Why a table has no rows. */
export function emptyNote(ledger: Ledger, selection: Selection): Note {
  const records = cropRecords(ledger);
  if (records.length === 0)
    return shownNote(
      'evidence',
      'The ledger has no counts, picks or drops yet: type them with pomary enter.',
    );
  const asked = selectionParts(ledger, selection);
  const absent = asked.filter(({ only }) => !records.some((record) => isSelected(only, record)));
  const [which, all] = absent.length > 0 ? [absent, false] : [asked, asked.length > 1];
  const words = which.map(({ words }) => words).join(', ');
  return shownNote('evidence', `No counts, picks or drops for ${words}${all ? ' together' : ''}.`);
}

function selectionParts(
  ledger: Ledger,
  { seasons = [], crops = [], sites = [], cultivars = [], trees = [] }: Selection,
): { readonly words: string; readonly only: Selection }[] {
  const names = cultivars.map((key) => {
    const cultivar = ledger.cultivars.get(key);
    return cultivar === undefined ? key : cultivarName(ledger, cultivar);
  });
  return [
    {
      list: seasons,
      words: `${seasons.length === 1 ? 'season' : 'seasons'} ${yearsInWords(seasons)}`,
      only: { seasons },
    },
    { list: crops, words: `the ${listed(crops)} crop`, only: { crops } },
    {
      list: sites,
      words: namedAs(
        'site',
        sites.map((key) => siteName(ledger, key)),
      ),
      only: { sites },
    },
    { list: cultivars, words: namedAs('cultivar', names), only: { cultivars } },
    { list: trees, words: namedAs('tree', trees), only: { trees } },
  ].filter(({ list }) => list.length > 0);
}
