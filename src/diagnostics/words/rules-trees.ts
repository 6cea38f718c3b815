import { wording } from '../diagnostic.ts';
import { dayCount, listed } from './rules-phrases.ts';

export const cropUnexpectedWords = wording<{
  tree: string;
  cultivar: string;
  crop: string;
  why: string;
}>({
  rule: 'crop-unexpected',
  severity: 'warning',
  why: 'What a fig sets without a pollinator depends on its pollination type (Condit 1955, Hilgardia 23:323-538). A ripe crop where none can be expected points to a mixed-up tree, crop or type. It may also be true, and is then worth knowing: some san-pedro figs ripen main crop in some places.',
  message: ({ tree, cultivar, crop, why }) =>
    `no ripe ${crop} crop is expected of tree ${tree} (${cultivar}): ${why}`,
  advice: () =>
    'check the tree and the crop here, `bears` in cultivars.yaml and `pollinator` in ledger.yaml; if it is what you saw, leave it',
});

export const cropMayDropWords = wording<{
  tree: string;
  cultivar: string;
  crop: string;
  why: string;
}>({
  rule: 'crop-may-drop',
  severity: 'warning',
  why: 'A crop may set and be counted although it cannot ripen without a pollinator. The drop is worth an entry too.',
  message: ({ tree, cultivar, crop, why }) =>
    `do not count on the ${crop} crop of tree ${tree} (${cultivar}): ${why}`,
  advice: () =>
    'enter what falls under `drops`, or check the crop here and `bears` in cultivars.yaml',
});

export const treeSilentWords = wording<{ tree: string; seasons: readonly number[] }>({
  rule: 'tree-silent',
  severity: 'hint',
  why: 'A tree without entries counts as not looked at, not as one that bore nothing. Leaving out the trees that bore nothing flatters their cultivar.',
  message: ({ tree, seasons }) => `tree ${tree} stood in ${listed(seasons)} but has no entry there`,
  advice: () =>
    'if it bore nothing, enter a count with `fruit: 0`; if it is gone, say when: `removed: YYYY-MM-DD`',
});

export const moveNowhereWords = wording<{ tree: string; site: string; on: string }>({
  rule: 'move-nowhere',
  severity: 'hint',
  why: 'A move to the place where a tree already stands hints at a move left out or at the wrong tree.',
  message: ({ tree, site, on }) => `tree ${tree} already stood at ${site} before ${on}`,
  advice: () => 'correct the tree or the site, enter the move that is missing, or delete this one',
});

interface Sprayed {
  readonly tree: string;
  readonly what: 'picked' | 'tasted';
  readonly on: string;
  readonly product: string;
  readonly sprayedOn: string;
  readonly waitDays: number;
  readonly safeFrom: string;
}

export const sprayWaitWords = wording<Sprayed>({
  rule: 'spray-wait',
  severity: 'error',
  why: 'Fruit must not be picked for eating or tasted within the waiting time on the label of what was sprayed. Trees are taken to stand where trees.yaml and the moves put them on the day of the spray.',
  message: ({ tree, what, on, product, sprayedOn, waitDays, safeFrom }) =>
    `tree ${tree} is ${what} on ${on}, within the ${dayCount(waitDays)} after ${product} was sprayed on ${sprayedOn}; first safe date ${safeFrom}`,
  advice: ({ what }) =>
    what === 'picked'
      ? 'do not eat this fruit; enter fruit that was thrown away under `drops`, or correct a date; the label and local rules come first'
      : 'do not taste this fruit; take the sample out, or correct a date; the label and local rules come first',
});

export const spraySameDayWords = wording<Sprayed>({
  rule: 'spray-same-day',
  severity: 'warning',
  why: 'Fruit picked in the morning is clear of what is sprayed in the evening; fruit picked after the spray is not.',
  message: ({ tree, what, on, product }) =>
    `tree ${tree} is ${what} on ${on}, the day ${product} was sprayed: which came first?`,
  advice: ({ safeFrom }) =>
    `if this fruit was picked before the spray, write after: picks into the spray; if not, do not eat it (first safe date ${safeFrom}): the label and local rules come first`,
});

export const sprayNowhereWords = wording<{ product: string }>({
  rule: 'spray-nowhere',
  severity: 'warning',
  why: 'A spray that names no tree and no site may be a slip of the keyboard. Until it says more, its waiting time is kept for every tree.',
  message: ({ product }) =>
    `the spray of ${product} names neither a tree nor a site, so it is taken for the whole trial`,
  advice: () => 'write site: all if every tree was sprayed, else the tree or the site',
});

export type OutOfSeason =
  | { readonly kind: 'after main' | 'before early'; readonly other: string }
  | {
      readonly kind: 'far from other years';
      readonly direction: 'before' | 'after';
      readonly days: number;
      readonly cultivar: string;
    }
  | { readonly kind: 'late in the year' };

export const cropOutOfSeasonWords = wording<{
  tree: string;
  /** The ledger's own words for this crop and the other one. */
  crop: string;
  other: string;
  what: 'picked' | 'counted';
  on: string;
  why: OutOfSeason;
}>({
  rule: 'crop-out-of-season',
  severity: 'warning',
  why: 'The two crops of a tree come one after the other, each at its own time, so an entry of the wrong crop or on a wrong date shows by its day. How far is far is common practice.',
  message: ({ tree, crop, other, what, on, why }) =>
    `the ${crop} crop of tree ${tree} is ${what} on ${on}, ${outOfSeason(why, other)}`,
  advice: ({ other }) => `was it the ${other} crop, or another day? If it is right, leave it`,
});

function outOfSeason(why: OutOfSeason, other: string): string {
  switch (why.kind) {
    case 'after main':
      return `when its ${other} crop has been picked since ${why.other}`;
    case 'before early':
      return `long before the last of its ${other} crop on ${why.other}`;
    case 'far from other years':
      return `${dayCount(why.days)} ${why.direction} all picks of ${why.cultivar} in other years there`;
    case 'late in the year':
      return 'late in the growing year for it';
  }
}
