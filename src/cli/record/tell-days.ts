import { type Entered, isListing, isSeasonEntry, LISTINGS } from '../../writing/listing.ts';
import type { NewEntry } from '../../writing/new-entry.ts';
import { dateInWords } from '../../writing/shorthand/typed-date.ts';

/** What was entered, a line a day, what was listed first: for texts too long to be told back whole. */
export function dayLines(entered: readonly Entered[]): readonly string[] {
  const listed = LISTINGS.flatMap((list) => {
    const own = entered.filter((one) => isListing(one) && one.section === list);
    return own.length === 0 ? [] : [counted(own.length, NAMES[list])];
  });
  const days = new Map<string, NewEntry[]>();
  for (const one of entered.filter(isSeasonEntry)) {
    days.set(one.entry.on, [...(days.get(one.entry.on) ?? []), one]);
  }
  const told = [...days]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([on, own]) => `${dateInWords(on)}: ${ofDay(own).join(', ')}`);
  return [...(listed.length === 0 ? [] : [`New: ${listed.join(', ')}`]), ...told];
}

type Names = readonly [one: string, many: string];

const NAMES: Readonly<Record<(typeof LISTINGS)[number], Names>> = {
  settings: ['setting', 'settings'],
  tasters: ['taster', 'tasters'],
  sites: ['site', 'sites'],
  cultivars: ['cultivar', 'cultivars'],
  trees: ['tree', 'trees'],
};

function counted(number: number, [one, many]: Names): string {
  return `${number} ${number === 1 ? one : many}`;
}

function ofDay(entries: readonly NewEntry[]): readonly string[] {
  const of = (section: NewEntry['section']) =>
    entries.filter((one) => one.section === section).length;
  const picked = entries.flatMap((one) =>
    one.section === 'picks' ? [one.entry.fruit ?? one.entry.weights?.length ?? 0] : [],
  );
  const fruit = picked.reduce((sum, one) => sum + one, 0);
  const parts: readonly (readonly [number, Names])[] = [
    [of('counts'), ['count', 'counts']],
    [picked.length, [`pick of ${fruit} fruit`, `picks of ${fruit} fruit`]],
    [of('drops'), ['drop', 'drops']],
    [of('growth'), ['measuring', 'measurings']],
    [of('events'), ['event', 'events']],
  ];
  return [
    ...parts.flatMap(([number, names]) => (number === 0 ? [] : [counted(number, names)])),
    ...tasted(entries),
  ];
}

function tasted(entries: readonly NewEntry[]): readonly string[] {
  const sittings = entries.flatMap((one) => (one.section === 'tastings' ? [one.entry] : []));
  const plates = new Set(
    sittings.flatMap(({ samples }) => samples.map(({ tree, crop, as }) => `${as ?? tree} ${crop}`)),
  );
  const tasters = new Set(
    sittings.flatMap(({ scores, words, order }) =>
      [scores, words, order].flatMap((by) => Object.keys(by ?? {})),
    ),
  );
  const orders = sittings.reduce((sum, { order }) => sum + Object.keys(order ?? {}).length, 0);
  if (plates.size === 0) return [];
  return [
    `${counted(plates.size, ['plate', 'plates'])} before ${counted(tasters.size, ['taster', 'tasters'])}`,
    ...(orders === 0 ? [] : [counted(orders, ['order', 'orders'])]),
  ];
}
