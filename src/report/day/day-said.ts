import type { DayCrop, DayPlate } from '../../judge/day.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Said } from '../document.ts';
import { cultivarName } from '../names.ts';
import type { Standing, Standings } from './day-ranks.ts';
import type { TasterNaming } from './day-words.ts';

interface Told {
  readonly ledger: Ledger;
  readonly naming: TasterNaming;
  readonly now: Standings;
  readonly before: Standings | undefined;
}

/** A crop of a day for machines: weights in g, figures unrounded, null where there is none. */
export function cropSaid(told: Told, { order, plates }: DayCrop): Said {
  return {
    tasters: order?.tasters.length ?? 0,
    agreement: order?.agreement === undefined ? null : { ...order.agreement },
    plates: plates.map((plate) => plateSaid(told, plate)),
  };
}

function plateSaid({ ledger, naming, now, before }: Told, plate: DayPlate): Said {
  const { tree, crop, site, picked, usual, tasted } = plate;
  const who = (tasters: readonly { readonly name: string }[]): Said =>
    naming === 'names' ? tasters.map(({ name }) => name) : tasters.length;
  const singles = picked?.singles ?? [];
  return {
    tree: tree.id,
    cultivar: cultivarName(ledger, tree.cultivar),
    cultivarKey: tree.cultivar.key,
    site,
    place: tasted?.place?.place ?? null,
    firstFor: tasted?.place === undefined ? null : who(tasted.place.firstFor),
    picked: picked?.fruit ?? null,
    meanWeight: picked?.mean ?? null,
    lightest: singles.length === 0 ? null : Math.min(...singles),
    heaviest: singles.length === 0 ? null : Math.max(...singles),
    usualWeight: usual?.mean ?? null,
    usualFrom: usual === undefined ? null : { where: usual.where, seasons: usual.seasons },
    defects: picked === undefined ? null : { ...picked.defects },
    ripeness: tasted?.ripeness ?? null,
    brix: tasted?.brix ?? null,
    eye: tasted?.eye ?? null,
    scores: tasted === undefined ? null : Object.fromEntries(tasted.scores),
    words: (tasted?.words ?? []).map(({ word, tasters }) => ({ word, tasters: who(tasters) })),
    notes: plate.notes,
    photos: plate.photos.map(({ path }) => path),
    fruitPerBranch: plate.fruitPerBranch ?? null,
    left: plate.left ?? null,
    lastYear: standingSaid(before?.(crop, tree.cultivar)),
    now: standingSaid(now(crop, tree.cultivar)),
  };
}

function standingSaid(standing: Standing | undefined): Said {
  return standing === undefined ? null : { ...standing };
}
