import type { Ledger } from '../../model/ledger.ts';
import type { Decoded } from '../../reading/decode.ts';
import { byFile, type Entered, isListing, type Listing } from '../../writing/listing.ts';
import { placeListings } from '../../writing/place-listings.ts';
import type { Desk } from './desk.ts';

interface SoFar {
  readonly listings: readonly Listing[];
  readonly files: readonly Decoded[];
  readonly ledger: Ledger;
}

/** What was made for the lines before, which most lines only add to. */
const known = new WeakMap<Desk, SoFar>();

/**
 * The ledger with what a session has listed, so that a tree can be picked from on the line after the
 * one that lists it. It is read from the files as they will be written.
 */
export function ledgerSoFar(desk: Desk, entered: readonly Entered[]): Ledger {
  const listings = entered.filter(isListing);
  if (listings.length === 0) return desk.ledger;
  const before = known.get(desk);
  const isMore = before?.listings.every((one, at) => one === listings[at]) ?? false;
  const from =
    before !== undefined && isMore
      ? before
      : { listings: [], files: desk.files, ledger: desk.ledger };
  const fresh = listings.slice(from.listings.length);
  if (fresh.length === 0) return from.ledger;
  let { files } = from;
  for (const [path, own] of byFile(fresh, undefined)) {
    const file = files.find((one) => one.file.path === path)?.file ?? {
      path,
      text: '',
      bom: false,
    };
    const placed = placeListings(file, own, desk.readYaml);
    // What cannot be placed is refused when the whole is planned.
    if (placed.kind === 'refused') continue;
    const others = files.filter((one) => one.file.path !== path);
    files = [...others, { file: placed.file, diagnostics: [] }];
  }
  const ledger = desk.reader.readLater(files).ledger ?? desk.ledger;
  known.set(desk, { listings, files, ledger });
  return ledger;
}
