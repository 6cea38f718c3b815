import type { SeasonSection } from '../model/ledger.ts';
import { count } from './count.ts';
import { drop } from './drop.ts';
import { event } from './event.ts';
import { growth } from './growth.ts';
import type { Kind } from './kind.ts';
import { pick } from './pick.ts';
import { tasting } from './tasting.ts';

/** Every kind of entry by its section, in the order in which a season file is written. */
export const CATALOGUE = {
  counts: count,
  picks: pick,
  drops: drop,
  tastings: tasting,
  growth,
  events: event,
} as const satisfies Readonly<Record<SeasonSection, Kind>>;

/** The sections of a season file, in the order in which they are written. */
export const SECTIONS = Object.keys(CATALOGUE) as readonly SeasonSection[];
