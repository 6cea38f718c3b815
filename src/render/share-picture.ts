import { type Document, figuresOf, photosOf } from '../report/document.ts';
import { proseText } from './format-cell.ts';
import { address, type Pictures } from './pictures.ts';

export interface SharePicture {
  /** In full where the site is known, else as the page finds it. */
  readonly url: string;
  /** What is seen on it. */
  readonly alt: string;
}

/** The picture that lists and previews of a page show: its first photo, or its first figure in a file. */
export function sharePicture(document: Document, pictures: Pictures): SharePicture | undefined {
  const { links, site } = pictures;
  const found = [
    ...photosOf(document).map(({ path, alt }) => ({ link: links.get(path), alt })),
    ...figuresOf(document).map(({ key, title, alt }) => ({
      link: links.get(key),
      alt: `${title}. ${proseText(alt)}`,
    })),
  ].find(({ link }) => link !== undefined);
  if (found?.link === undefined) return undefined;
  const url = address(found.link);
  return { url: site === undefined ? url : new URL(url, site).href, alt: found.alt };
}
