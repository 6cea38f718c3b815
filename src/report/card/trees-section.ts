import { EVENTS, type EventKind } from '../../entries/event-kinds.ts';
import { toldField } from '../../entries/field.ts';
import type { Container, Cultivar, Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { EventSays, FieldEvent } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { baseUnit } from '../../model/quantity.ts';
import { dayAndYear } from '../day-words.ts';
import { factsSection, type JsonValue, type Section } from '../document.ts';
import { siteName } from '../names.ts';
import { decimalText } from '../number-words.ts';
import { listed, sentence } from '../words.ts';

/** Every tree of a cultivar: where it stands, where it came from, under which label. */
export function treesSection(ledger: Ledger, cultivar: Cultivar): Section {
  const told = treesOf(ledger, cultivar).map((tree) => ({ tree, now: standingNow(ledger, tree) }));
  return factsSection({
    key: 'trees',
    heading: 'Trees',
    facts:
      told.length === 0
        ? [{ label: '', text: 'No tree of it in trees.yaml.' }]
        : told.map(({ tree, now }) => ({ label: tree.id, text: treeWords(ledger, tree, now) })),
    says: told.map(({ tree, now }) => ({
      tree: tree.id,
      receivedAs: tree.receivedAs ?? null,
      from: tree.from ?? null,
      received: tree.received?.text ?? null,
      planted: tree.planted?.text ?? null,
      site: now.site,
      container: now.container === undefined ? null : containerText(now.container),
      rootstock: tree.rootstock ?? null,
      removed: tree.removed?.text ?? null,
      note: tree.note ?? null,
    })),
  });
}

/** Where each tree stood before and what befell it; absent where nothing did. */
export function standingSection(ledger: Ledger, cultivar: Cultivar): Section | undefined {
  const told = treesOf(ledger, cultivar)
    .map((tree) => ({ tree, steps: stepsOf(ledger, tree) }))
    .filter(({ steps }) => steps.length > 0);
  if (told.length === 0) return undefined;
  return factsSection({
    key: 'moves',
    heading: sentence(listed(BEFALLS.map(([word, one]) => one.onCard ?? word).toSorted())),
    facts: told.map(({ tree, steps }) => ({
      label: tree.id,
      text: [startWords(ledger, tree), ...steps.map(({ words }) => words)].join('; '),
    })),
    says: told.flatMap(({ tree, steps }) =>
      steps.map(({ on, says }) => ({ tree: tree.id, on, ...says })),
    ),
  });
}

function treesOf(ledger: Ledger, cultivar: Cultivar): readonly Tree[] {
  return [...ledger.trees.values()].filter((tree) => tree.cultivar === cultivar);
}

interface Standing {
  /** Key. */
  readonly site: string;
  readonly container: Container | undefined;
}

function standingNow(ledger: Ledger, tree: Tree): Standing {
  let now: Standing = { site: tree.site, container: tree.container };
  for (const event of eventsOf(ledger, tree)) {
    if (event.kind === 'move') now = { ...now, site: event.site };
    if (event.kind === 'repot' && event.container) now = { ...now, container: event.container };
  }
  return now;
}

function treeWords(ledger: Ledger, tree: Tree, now: Standing): string {
  const place = [siteName(ledger, now.site), containerWords(now.container)].filter(Boolean);
  const came = [
    tree.received === undefined ? '' : `received ${dayAndYear(tree.received.text)}`,
    tree.receivedAs === undefined ? '' : `labelled "${tree.receivedAs}"`,
    tree.from === undefined ? '' : `from ${tree.from}`,
    tree.rootstock === undefined ? '' : `on ${tree.rootstock}`,
    tree.planted === undefined ? '' : `planted ${dayAndYear(tree.planted.text)}`,
  ].filter((part) => part !== '');
  const parts = [
    tree.removed === undefined
      ? place.join(', ')
      : `removed ${dayAndYear(tree.removed.text)} from ${place.join(', ')}`,
    sentence(came.join('; ')),
    tree.note ?? '',
  ];
  return parts
    .filter((part) => part !== '')
    .map((part) => (/[.!?]$/.test(part) ? part : `${part}.`))
    .join(' ');
}

function containerWords(container: Container | undefined): string {
  if (container === undefined) return '';
  return container.kind === 'ground' ? 'in the ground' : `in ${container.text}`;
}

function containerText(container: Container): string {
  return container.kind === 'ground' ? 'ground' : container.text;
}

function startWords(ledger: Ledger, tree: Tree): string {
  const place = [siteName(ledger, tree.site), containerWords(tree.container)].filter(Boolean);
  return `${place.join(', ')} at first`;
}

/** The kinds of event that befall one tree. */
const BEFALLS = Object.entries<EventKind>(EVENTS).filter(
  ([, { fields }]) => fields['tree']?.isOptional === false,
);

/** "graft, rootstock quince": an event by its word, and what it says. */
function toldEvent(word: string, { fields }: EventKind, says: EventSays): string {
  const facts = Object.entries(fields).flatMap(([key, one]) => {
    const value = says[key];
    const unit = one.holds.kind === 'amount' ? ` ${baseUnit(one.holds.dimension)}` : '';
    return value === undefined ? [] : [toldField(key, one, `${value}${unit}`)];
  });
  return [word, ...facts].join(', ');
}

/** What is not said is null in the data of a card. */
function wholly(says: EventSays): Readonly<Record<string, string | number | null>> {
  return Object.fromEntries(Object.entries(says).map(([key, value]) => [key, value ?? null]));
}

interface Step {
  readonly on: IsoDate;
  readonly words: string;
  readonly says: { readonly [key: string]: JsonValue };
}

function stepsOf(ledger: Ledger, tree: Tree): readonly Step[] {
  return eventsOf(ledger, tree).flatMap((event): Step[] => {
    const { on, note = null, kind } = event;
    const day = dayAndYear(on);
    switch (event.kind) {
      case 'move': {
        const words = `${day} to ${siteName(ledger, event.site)}`;
        return [{ on, words, says: { kind, site: event.site, note } }];
      }
      case 'repot': {
        const into = event.container === undefined ? null : containerText(event.container);
        const words = into === null ? `${day} repotted` : `${day} repotted into ${into}`;
        return [{ on, words, says: { kind, container: into, note } }];
      }
      case 'winter-damage': {
        const cm = event.dieback ?? null;
        const back = cm === null ? '' : `, ${decimalText(cm, 0)} cm died back`;
        return [{ on, words: `${day} winter damage${back}`, says: { kind, dieback: cm, note } }];
      }
      case 'told': {
        const { word, says } = event;
        const known = BEFALLS.find(([one]) => one === word)?.[1];
        if (known === undefined) return [];
        const words = `${day} ${known.befell?.(says) ?? toldEvent(word, known, says)}`;
        return [{ on, words, says: { kind: word, ...wholly(says), note } }];
      }
      default:
        return [];
    }
  });
}

/** What was done to this very tree, oldest first. */
function eventsOf(ledger: Ledger, tree: Tree): readonly FieldEvent[] {
  return ledger.seasons
    .flatMap(({ events }) => events)
    .filter(({ target }) => target.kind === 'tree' && target.tree === tree)
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}
