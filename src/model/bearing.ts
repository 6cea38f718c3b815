import type { Bearing } from './collection.ts';
import type { Crop } from './ledger.ts';

/** Whether a crop can be expected of a cultivar, and if not, why. */
export type CropOutlook =
  | { readonly expected: true }
  | { readonly expected: false; readonly why: string };

/** Figs alone have what is said of figs. */
export function isFig(fruit: string): boolean {
  return fruit.toLowerCase() === 'fig';
}

/** What to say first of how a cultivar of a fruit bears: figs may have two crops, others mostly one. */
export function bearsAtFirst(fruit: string): Bearing {
  return isFig(fruit) ? 'unknown' : 'main';
}

const EXPECTED: CropOutlook = { expected: true };

/**
 * What sets without a pollinator: common figs both crops; san-pedro the early crop, while the main
 * crop drops; smyrna virtually no early crop, and the main crop drops before maturity
 * (Condit 1955, Hilgardia 23:323-538). For other fruit: what the cultivar is said to bear.
 * Of one that is not known nothing is ruled out.
 */
export function cropOutlook(
  bears: Bearing,
  crop: Crop,
  pollinator: 'absent' | 'present',
): CropOutlook {
  switch (bears) {
    case 'common':
    case 'both':
    case 'caprifig':
    case 'unknown':
      return EXPECTED;
    case 'early':
    case 'main':
      return bears === crop
        ? EXPECTED
        : { expected: false, why: `it is said to bear only the ${bears} crop` };
    case 'san-pedro':
      return crop === 'early' || pollinator === 'present'
        ? EXPECTED
        : {
            expected: false,
            why: 'the main crop of a san-pedro fig mostly drops without a pollinator, and the ledger says none is here',
          };
    case 'smyrna':
      return pollinator === 'present'
        ? EXPECTED
        : {
            expected: false,
            why:
              crop === 'early'
                ? 'a smyrna fig sets virtually no early crop without a pollinator, and the ledger says none is here'
                : 'the fruit of a smyrna fig drops before it is ripe without a pollinator, and the ledger says none is here',
          };
  }
}
