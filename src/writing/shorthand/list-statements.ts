import { isOneSlipFrom } from '../../diagnostics/did-you-mean.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { tree } from '../../entries/tree.ts';
import { trial } from '../../entries/trial.ts';
import { isKey } from '../../entries/values.ts';
import { bearsAtFirst } from '../../model/bearing.ts';
import { freeKey, keyFrom, type Listing } from '../listing.ts';
import type { Values } from './fields.ts';
import {
  type LineReading,
  lineEndToken,
  slip,
  slipOfListed,
  take,
  takeTree,
} from './line-reading.ts';
import {
  cultivarTyped,
  listWords,
  potOf,
  type Stretch,
  spanOf,
  stretchText,
  takeListValues,
  takeStretches,
} from './list-fields.ts';
import { findCultivar, findTree } from './names.ts';
import type { Token } from './tokens.ts';

const { name: _, perhaps: __, ...ofCultivar } = cultivar.fields;
const { cultivar: ___, ...ofTree } = tree.fields;
export const CULTIVAR_WORDS = listWords({
  ...ofCultivar,
  perhaps: { ...cultivar.doubt.same_as, isOptional: true },
  why: cultivar.doubt.why,
});
export const TREE_WORDS = listWords(ofTree);

/** `cultivar "Paper Lamp" bears unknown also "Lampe"` */
export function readCultivar(reading: LineReading): readonly Listing[] {
  const [head, ...stretches] = takeStretches(reading, CULTIVAR_WORDS);
  const name = head === undefined ? '' : stretchText(head);
  if (head === undefined || name === '') {
    slip(
      reading,
      lineEndToken(reading),
      'cultivar needs a name',
      'as in cultivar "Paper Lamp" bears unknown',
    );
    return [];
  }
  const comma = head.tokens.find(({ text, isQuoted }) => !isQuoted && text.includes(','));
  if (comma !== undefined) {
    slip(reading, comma, 'one cultivar a line', 'a name with a comma in it needs quotes');
  }
  const known = findCultivar(reading.ledger, name);
  if (known.kind !== 'none') {
    const key = known.kind === 'one' ? known.thing.key : '';
    slipOfListed(
      reading,
      spanOf(head),
      `${name} is listed already`,
      key === '' ? '' : `its key is ${key}`,
    );
  }
  const alike = known.kind === 'none' ? likeIn(reading, name) : undefined;
  if (alike !== undefined) {
    reading.remarks.push(
      `the name is much like ${alike}, which is listed; back, if it is the same`,
    );
  }
  const key =
    known.kind === 'one'
      ? known.thing.key
      : freeKey(name, (one) => reading.ledger.cultivars.has(one));
  if (!isKey(key)) slip(reading, spanOf(head), `${name} has no letters to make a key of`);
  const isFig = bearsAtFirst(reading.ledger.trial.fruit) === 'unknown';
  const plain = stretches.flatMap((one) => (one.key === 'perhaps' ? doubtOf(reading, one) : one));
  const { perhaps, why, bears, ...values } = valuesOf(reading, plain, CULTIVAR_WORDS);
  if (bears === undefined)
    reading.remarks.push(
      isFig
        ? 'nothing is said of what it bears; if you know, add bears and how to this line'
        : 'nothing is said of what it bears; if it has one crop a year, add bears main to this line',
    );
  const doubt =
    perhaps === undefined
      ? {}
      : { perhaps: { same_as: perhaps, ...(why === undefined ? {} : { why }) } };
  if (why !== undefined && perhaps === undefined) {
    slip(
      reading,
      lineEndToken(reading),
      'why belongs to a doubt',
      'as in perhaps old-wall-brown why same leaf',
    );
  }
  return [
    { section: 'cultivars', key, entry: { name, bears: bears ?? 'unknown', ...values, ...doubt } },
  ];
}

/** A name listed already that differs by a slip. */
function likeIn({ ledger }: LineReading, name: string): string | undefined {
  return [...ledger.cultivars.values()]
    .flatMap((one) => [one.name, ...one.also])
    .find((other) => isOneSlipFrom(other, name));
}

/** `perhaps same as Old Wall Brown` without the words of the file; a reason without `why` is a slip. */
function doubtOf(reading: LineReading, stretch: Stretch): readonly Stretch[] {
  const words = stretch.tokens.map(({ text }) => text.toLowerCase());
  const from = words[0] === 'same' && words[1] === 'as' ? 2 : 0;
  const tokens = stretch.tokens.slice(from);
  const isNamed = (end: number) => {
    const text = stretchText({ tokens: tokens.slice(0, end) }).replace(/,$/, '');
    return findCultivar(reading.ledger, text).kind === 'one';
  };
  const end = tokens.findLastIndex((_, at) => isNamed(at + 1)) + 1;
  const rest = tokens.slice(end);
  if (end === 0 || rest.length === 0) return [{ ...stretch, tokens }];
  const reason = stretchText({ tokens: rest });
  const named = stretchText({ tokens: tokens.slice(0, end) }).replace(/,$/, '');
  const advice = `perhaps ${named} why ${reason}`;
  slip(reading, spanOf({ ...stretch, tokens: rest }), 'the reason of a doubt follows why', advice);
  return [];
}

/** `tree A2 "Paper Lamp" at yard planted 2021 in 20 L as "P. lamp?"` */
export function readTree(reading: LineReading): readonly Listing[] {
  const id = take(reading);
  const example = 'as in tree A2 "Paper Lamp" at yard planted 2021 in 20 L';
  if (id === undefined) {
    slip(reading, lineEndToken(reading), 'tree needs an id and a cultivar', example);
    return [];
  }
  checkKey(reading, id);
  const known = findTree(reading.ledger, id.text);
  const isKnown = known.kind === 'one' && known.thing.id.toLowerCase() === id.text.toLowerCase();
  if (isKnown) {
    const { id: other, cultivar: its } = known.thing;
    const advice = 'give the new one another id';
    slipOfListed(reading, id, `${other} is a tree already, of ${its.name}`, advice);
  }
  const [head, ...stretches] = takeStretches(reading, TREE_WORDS);
  if (head === undefined || head.tokens.length === 0) {
    slip(reading, lineEndToken(reading), `tree ${id.text} of which cultivar?`, example);
    return [];
  }
  const key = cultivarTyped(reading, spanOf(head), stretchText(head));
  const values = valuesOf(reading, stretches, TREE_WORDS);
  // A tree that is listed already stands somewhere, and a site that came later is not asked about.
  if (isKnown && key !== undefined) {
    return [{ section: 'trees', key: id.text, entry: { cultivar: key, ...values } }];
  }
  const site = values['site'] ?? soleSite(reading, stretches, spanOf(head));
  if (key === undefined || site === undefined) return [];
  return [{ section: 'trees', key: id.text, entry: { cultivar: key, ...values, site } }];
}

/** `remove A2`, of a tree that died, was taken out or given away that day */
export function readRemoval(reading: LineReading): readonly Listing[] {
  const tree = takeTree(reading, 'remove');
  const more = take(reading);
  if (more !== undefined) {
    const advice = 'why it went belongs to its note in trees.yaml';
    slip(reading, more, `${more.text} is not understood in remove`, advice);
  }
  if (tree === undefined) return [];
  if (tree.removed !== undefined && tree.removed.text !== reading.date) {
    slip(
      reading,
      reading.tokens[reading.next - 1] ?? lineEndToken(reading),
      `${tree.id} was removed already (${tree.removed.text})`,
      'if that is wrong, change it in trees.yaml',
    );
  }
  return [{ section: 'removals', key: tree.id, entry: reading.date }];
}

/** The site where none was named: the only one of the ledger, or asked about. */
function soleSite(
  reading: LineReading,
  stretches: readonly Stretch[],
  head: Token,
): string | undefined {
  if (stretches.some(({ key }) => key === 'site')) return undefined;
  const sites = [...reading.ledger.trial.sites.values()];
  const [only, ...others] = sites;
  if (only !== undefined && others.length === 0) {
    reading.remarks.push(`${only.name} is the only site of this ledger`);
    return only.key;
  }
  reading.questions.push({
    start: head.end,
    end: head.end,
    message: 'where does it stand?',
    answers: sites.map(({ key, name }) => ({ label: name, text: ` at ${key}` })),
  });
  return undefined;
}

/** `taster ann Ann`, or `taster Ann` where the key is the name in small letters */
export function readTaster(reading: LineReading): readonly Listing[] {
  const first = take(reading);
  const rest = takePlain(reading);
  if (first === undefined) {
    slip(reading, lineEndToken(reading), 'taster needs a name', 'as in taster ann Ann');
    return [];
  }
  const named = rest === undefined ? '' : stretchText(rest);
  const key = named === '' ? keyFrom(first.text) : first.text;
  checkKey(reading, { ...first, text: key });
  const known = [...reading.ledger.trial.tasters.keys()].find(
    (one) => one.toLowerCase() === key.toLowerCase(),
  );
  if (known !== undefined) {
    slipOfListed(reading, first, `${known} is a taster of this ledger already`);
  }
  return [{ section: 'tasters', key, entry: named === '' ? first.text : named }];
}

/** `site yard "south wall" open` */
export function readSite(reading: LineReading): readonly Listing[] {
  const key = take(reading);
  const rest = takePlain(reading);
  const example = 'as in site yard "south wall" open';
  if (key === undefined) {
    slip(reading, lineEndToken(reading), 'site needs a key, a name and what is overhead', example);
    return [];
  }
  checkKey(reading, key);
  if (reading.ledger.trial.sites.has(key.text)) {
    slipOfListed(reading, key, `${key.text} is a site of this ledger already`);
  }
  const tokens = rest?.tokens ?? [];
  const { holds } = trial.site.cover;
  const covers = holds.kind === 'choice' ? holds.of : [];
  const last = tokens.at(-1);
  const cover = covers.find(
    (one) => last !== undefined && !last.isQuoted && one === last.text.toLowerCase(),
  );
  if (cover === undefined) {
    const { end } = lineEndToken(reading);
    reading.questions.push({
      start: end - 1,
      end: end - 1,
      message: 'what is overhead there?',
      answers: covers.map((one) => ({ label: one, text: ` ${one}` })),
    });
    return [];
  }
  const name = stretchText({ tokens: tokens.slice(0, -1) });
  return [
    { section: 'sites', key: key.text, entry: { name: name === '' ? key.text : name, cover } },
  ];
}

/** `dates day-first`, which the answer to a question of 12/9 gives */
export function readDatesSetting(reading: LineReading, word: Token): readonly Listing[] {
  const rest = takePlain(reading);
  const { holds } = trial.fields.dates;
  const known = holds.kind === 'choice' ? holds.of : [];
  const text = rest === undefined ? '' : stretchText(rest).toLowerCase().replace(' ', '-');
  const order = known.find((one) => one === text);
  if (order === undefined) {
    slip(reading, word, `dates is one of ${known.join(', ')}`, 'as in dates day-first');
    return [];
  }
  const said = reading.ledger.trial.dates;
  if (said !== undefined && said !== order) {
    slip(reading, word, `ledger.yaml says dates: ${said}`, 'change it there');
  }
  return said === order ? [] : [{ section: 'settings', key: 'dates', entry: order }];
}

function valuesOf(
  reading: LineReading,
  stretches: readonly Stretch[],
  words: typeof TREE_WORDS,
): Values {
  const pots = stretches.filter(({ key }) => key === 'container');
  const values: Values = {};
  takeListValues(
    reading,
    stretches.filter((one) => !pots.includes(one)),
    words,
    values,
  );
  for (const pot of pots) values['container'] = potOf(reading, pot);
  return values;
}

/** The rest of a line that has no fields, and so no note. */
function takePlain(reading: LineReading): Stretch | undefined {
  const [rest] = takeStretches(reading, new Map());
  const note = rest?.tokens.find(
    ({ text, isQuoted }) => !isQuoted && text.toLowerCase() === 'note',
  );
  if (note !== undefined) slip(reading, note, 'this has no place for a note', 'leave it out');
  return rest;
}

function checkKey(reading: LineReading, token: Token): void {
  // After the word note nothing is read but the note.
  if (isKey(token.text) && token.text.toLowerCase() !== 'note') return;
  slip(
    reading,
    token,
    `${token.text} can be no key`,
    'letters, digits, "-", "_" and ".", beginning with a letter or digit',
  );
}
