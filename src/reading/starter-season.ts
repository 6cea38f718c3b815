import { EVENT_WORDS } from '../entries/event.ts';
import { listed } from '../entries/values.ts';
import { growingYear } from '../model/dates.ts';
import { editorLine } from './schema-files.ts';
import type { Starter } from './starter.ts';

/** `seasons/YEAR.yaml` of a new ledger. */
export function starterSeason({ season, latitude, fruit = 'fig' }: Starter): string {
  const south = latitude !== undefined && latitude < 0;
  // Half a year apart, and all in the calendar year that the season is named by.
  const [march, july, september] = south ? ['01', '02', '04'] : ['03', '07', '09'];
  const on = (month: string | undefined, day: string) => `${season}-${month}-${day}`;
  const crop = fruit.toLowerCase() === 'fig' ? 'early' : 'main';
  const { first, last } = growingYear(season, latitude);
  return `${editorLine('season')}
# What was seen from ${first} to ${last}: one line an entry, oldest first in its section.
# Any entry may have  note: ...  and  photo: photos/t1.jpg  (a path inside this folder).

season: ${season}

# What hangs on a tree that day, before anything is picked that day. Count branches once a year.
counts:
  # - { on: ${on(july, '02')}, tree: T1, crop: ${crop}, fruit: 21, branches: 8 }
  # - { on: ${on(july, '02')}, tree: T2, crop: ${crop}, fruit: 0, branches: 5 }

# Fruit weighed one by one, or a number and the weight of all. A spoiled fruit counts once, under
# the worst that is wrong with it: split, bird, insect, mould or unripe.
picks:
  # - { on: ${on(july, '24')}, tree: T1, crop: ${crop}, weights: [52.4, 47, 61.3], split: 1 }
  # - { on: ${on(july, '28')}, tree: T1, crop: ${crop}, fruit: 11, weight: 580, bird: 2 }

# Fruit lost before it could be picked.
drops:
  # - { on: ${on(july, '20')}, tree: T1, crop: ${crop}, fruit: 2 }

# One item a sitting. Let nobody know what is on the plate: give each sample a label of its own.
# In the order the best comes first, and a list inside it is a tie.
tastings:
  # - on: ${on(july, '24')}
  #   samples:
  #     - { tree: T1, crop: ${crop}, as: "417", ripeness: ripe, brix: 19.5 }
  #     - { tree: T2, crop: ${crop}, as: "862", ripeness: ripe }
  #   scores:
  #     mara:
  #       "417": { sweetness: 8, flavour: 9, texture: 7.5 }
  #       "862": { sweetness: 5, flavour: 6, texture: 6 }
  #   order:
  #     mara: ["417", "862"]

# Girth of the trunk, once a year and always at the same height.
growth:
  # - { on: ${on(march, '01')}, tree: T1, girth: 14.2, height: 180 }

# ${listed(EVENT_WORDS)}:
# of a tree, a site or everything. wait_days are the days on the label of a spray before fruit may be picked.
events:
  # - { on: ${on(march, '14')}, tree: T2, kind: repot, container: "30 L" }
  # - { on: ${on(july, '10')}, site: garden, kind: spray, product: soap, wait_days: 3 }
  # - { on: ${on(september, '30')}, kind: frost, low: -0.6 }
`;
}
