import { CATALOGUE } from '../../entries/catalogue.ts';
import { EVENT_WORDS, type EventWord } from '../../entries/event.ts';
import { EVENTS } from '../../entries/event-kinds.ts';
import type { CellField } from '../../entries/field.ts';
import { trial } from '../../entries/trial.ts';
import { parseIsoDate } from '../../model/dates.ts';
import { RIPENESS } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import { EVENT_FIELDS } from './event-statements.ts';
import { REMARKS, type TypedField, typedFields } from './fields.ts';
import { CULTIVAR_WORDS, TREE_WORDS } from './list-statements.ts';
import { findCrop, findKey, findTree, wordsForCrops } from './names.ts';
import { STATEMENTS } from './read-line.ts';
import { COUNT_FIELDS, DROP_FIELDS, FIELD_STATEMENTS, PICK_FIELDS } from './statements.ts';
import { TASTE_FIELDS, TASTE_WORDS } from './taste-statements.ts';
import { tokensOf } from './tokens.ts';
import { readDate } from './typed-date.ts';

/** Words that may stand at the cursor in place of `[start, cursor)`. */
export interface Completions {
  readonly start: number;
  readonly words: readonly string[];
}

const ANY_DAY = parseIsoDate('2000-01-01');

/** What may be typed at the cursor, by what stands before it. */
export function completions(line: string, cursor: number, ledger: Ledger): Completions {
  const typed = line.slice(0, cursor);
  const begun = /\S*$/.exec(typed)?.[0] ?? '';
  const start = cursor - begun.length;
  const before = withoutDate(tokensOf(typed.slice(0, start)).map(({ text }) => text));
  const prefix = begun.toLowerCase();
  const words = possible(before, ledger).filter(
    (word) => word.toLowerCase().startsWith(prefix) && word !== begun,
  );
  return { start, words: [...new Set(words)] };
}

/** The words of a line without `on DATE` before them; only `on` where the date is still to come. */
function withoutDate(words: readonly string[]): readonly string[] {
  if (words[0]?.toLowerCase() !== 'on' || ANY_DAY === undefined) return words;
  const date = readDate(words.slice(1), ANY_DAY);
  return date.kind === 'none' ? words : words.slice(1 + date.used);
}

function possible(before: readonly string[], ledger: Ledger): readonly string[] {
  const [first, ...rest] = before.map((word) => word.toLowerCase());
  if (first === undefined) return [...STATEMENTS, ...trees(ledger)];
  if (first === 'on') return ['today', 'yesterday'];
  const event = EVENT_WORDS.find((word) => word === first);
  if (event !== undefined) return forEvent(event, before.slice(1), ledger);
  if (first === 'order') return forOrder(before.slice(1), ledger);
  const listing = forListing(first, before.slice(1), ledger);
  if (listing !== undefined) return listing;
  if (FIELDS_OF[first] === undefined && findTree(ledger, before[0] ?? '').kind === 'one') {
    return forEntry(PICK_FIELDS, before.slice(1), ledger, 'pick');
  }
  const fields = FIELDS_OF[first];
  if (fields === undefined) return [];
  if (rest.length === 0) return trees(ledger);
  return forEntry(fields, before.slice(2), ledger, first);
}

const FIELDS_OF: Readonly<Record<string, readonly TypedField[]>> = {
  pick: PICK_FIELDS,
  count: COUNT_FIELDS,
  drop: DROP_FIELDS,
  ...Object.fromEntries(
    [...FIELD_STATEMENTS].map(([word, section]) => [word, typedFields(CATALOGUE[section].fields)]),
  ),
  taste: TASTE_FIELDS,
};

function forEntry(
  fields: readonly TypedField[],
  rest: readonly string[],
  ledger: Ledger,
  statement: string,
): readonly string[] {
  const { traits, tasters } = ledger.trial;
  const last = rest.at(-1)?.toLowerCase();
  const open = [...fields, ...REMARKS].find(({ word }) => word === last);
  if (open !== undefined) return open.takes.kind === 'choice' ? open.takes.of : [];
  const tasting = statement === 'taste';
  if (tasting && last !== undefined && traits.some((trait) => trait.toLowerCase() === last))
    return [];
  if (tasting && last === TASTE_WORDS) return ledger.trial.words;
  const used = new Set(rest.map((word) => word.toLowerCase()));
  const unused = [...fields, ...REMARKS].map(({ word }) => word).filter((word) => !used.has(word));
  if (FIELD_STATEMENTS.has(statement)) return unused;
  const hasCrop = rest.some((word) => findCrop(ledger, word) !== undefined);
  const hasTaster = rest.some((word) => findKey(tasters, word).kind === 'one');
  return [
    ...(hasCrop ? [] : wordsForCrops(ledger)),
    ...(tasting && !hasTaster ? tasters.keys() : []),
    ...(tasting
      ? [...traits, ...RIPENESS, TASTE_WORDS].filter((word) => !used.has(word.toLowerCase()))
      : []),
    ...unused,
  ];
}

/** What may stand in a line that lists something; undefined where the line is none. */
function forListing(
  statement: string,
  rest: readonly string[],
  ledger: Ledger,
): readonly string[] | undefined {
  switch (statement) {
    case 'cultivar':
      return rest.length === 0 ? [] : forStretches(CULTIVAR_WORDS, rest, ledger);
    case 'tree':
      if (rest.length === 1) return [...ledger.cultivars.keys()];
      return rest.length === 0 ? [] : forStretches(TREE_WORDS, rest.slice(1), ledger);
    case 'site':
      return rest.length < 2 ? [] : choicesOf(trial.site.cover);
    case 'remove':
      return rest.length === 0 ? trees(ledger) : [];
    case 'dates':
      return choicesOf(trial.fields.dates);
    case 'taster':
      return [];
    default:
      return undefined;
  }
}

function forStretches(
  words: typeof TREE_WORDS,
  rest: readonly string[],
  ledger: Ledger,
): readonly string[] {
  const [, field] = words.get(rest.at(-1)?.toLowerCase() ?? '') ?? [];
  const unused = [...words.keys()].filter((word) => !rest.includes(word));
  if (field === undefined) return unused;
  switch (field.holds.kind) {
    case 'choice':
      return field.holds.of;
    case 'site':
      return [...ledger.trial.sites.keys()];
    case 'cultivar':
      return [...ledger.cultivars.keys()];
    case 'yes or no':
      return ['yes', 'no'];
    default:
      return [];
  }
}

function choicesOf({ holds }: CellField): readonly string[] {
  return holds.kind === 'choice' ? holds.of : [];
}

function forOrder(rest: readonly string[], ledger: Ledger): readonly string[] {
  const { tasters } = ledger.trial;
  const last = rest.at(-1);
  if (last !== undefined && findTree(ledger, last).kind === 'one') return ['>', '='];
  const hasCrop = rest.some((word) => findCrop(ledger, word) !== undefined);
  const hasTaster = rest.some((word) => findKey(tasters, word).kind === 'one');
  const used = new Set(rest);
  return [
    ...(hasCrop ? [] : wordsForCrops(ledger)),
    ...(hasTaster ? [] : tasters.keys()),
    ...[...ledger.trees.keys()].filter((id) => !used.has(id)),
  ];
}

function forEvent(event: EventWord, rest: readonly string[], ledger: Ledger): readonly string[] {
  const sites = [...ledger.trial.sites.keys()];
  const fields = [...EVENT_FIELDS[event], ...REMARKS].map(({ word }) => word);
  const onTree = !EVENTS[event].fields.tree.isOptional;
  if (rest.length === 0) {
    if (onTree) return trees(ledger);
    const alone = event === 'spray' ? [WHOLE_TRIAL] : fields;
    return [...sites, ...trees(ledger), ...alone];
  }
  if (event === 'move' && rest.length === 1) return sites;
  const last = rest.at(-1)?.toLowerCase() ?? '';
  const awaited = EVENT_FIELDS[event].find(({ word }) => word === last)?.takes;
  if (awaited?.kind === 'choice') return awaited.of;
  if (fields.includes(last)) return [];
  const unused = fields.filter((word) => !rest.includes(word));
  return event === 'repot' && rest.length === 1 ? ['ground', ...unused] : unused;
}

/** Ids of trees, and keys of cultivars that have one tree. */
function trees(ledger: Ledger): readonly string[] {
  const keys = [...ledger.cultivars.keys()].filter((key) => findTree(ledger, key).kind === 'one');
  return [...ledger.trees.keys(), ...keys];
}
