import { treePhotos } from '../../judge/photos.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Section } from '../document.ts';
import { photoBlock } from '../photo-words.ts';

/** More than so many would push everything else off the card: the latest are shown. */
const MOST = 4;

/** What it looks like; absent without a photo. */
export function photosSection(ledger: Ledger, selection: Selection): Section | undefined {
  const photos = treePhotos(ledger, selection);
  if (photos.length === 0) return undefined;
  return {
    key: 'photos',
    heading: 'Photos',
    blocks: photos.slice(-MOST).map((photo) => photoBlock(ledger, photo)),
    says: photos.map(({ path, on, tree, crop = null, what }) => ({
      ...{ path, on, crop, what },
      tree: tree.id,
    })),
  };
}
