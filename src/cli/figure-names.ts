import { basename, extname, relative } from 'node:path';
import type { Ledger } from '../model/ledger.ts';
import type { FigureFormat } from '../render/figure-style.ts';
import type { PostRequest } from '../report/post/post-request.ts';

/** What tells one post from another. */
export interface PostPlace {
  /** Absolute path of the folder of figures. */
  readonly folder: string;
  /** Absolute path of the post; undefined where it goes to standard output. */
  readonly output: string | undefined;
}

/**
 * File names of a post's figures. Posts share a folder, and each must keep its pictures: the name
 * begins with that of the post and ends with a mark of its file, its ledger and all that was
 * selected. The same post made again gets the same names, so it renews its own pictures alone.
 */
export async function figureNames(
  ledger: Ledger,
  request: PostRequest,
  place: PostPlace,
): Promise<(key: string, format: FigureFormat) => string> {
  const mark = await markOf(JSON.stringify(whatIsTold(ledger, request, place)));
  const { output } = place;
  const post = output === undefined ? ledger.trial.title : basename(output, extname(output));
  return (key, format) =>
    `${[fileWord(post), key, mark].filter((part) => part !== '').join('-')}.${format}`;
}

/** The ledger by what it says of itself, not by its folder, which differs between machines. */
function whatIsTold(
  { trial, seasons: years }: Ledger,
  { selection, top, confidence }: PostRequest,
  { folder, output }: PostPlace,
) {
  const { seasons, crops, sites, cultivars, trees } = selection;
  const sorted = (list: readonly string[] = []) => list.toSorted();
  return [
    output === undefined ? null : relative(folder, output).replaceAll('\\', '/'),
    trial.title,
    trial.place.name ?? null,
    [...trial.sites.keys()],
    seasons?.length ? seasons : years.map(({ year }) => year),
    sorted(crops),
    sorted(sites),
    sorted(cultivars),
    sorted(trees),
    top,
    confidence,
  ];
}

/** Eight hexadecimal digits: enough that no two posts of a site share them. */
async function markOf(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return Array.from(new Uint8Array(digest, 0, 4), (byte) =>
    byte.toString(16).padStart(2, '0'),
  ).join('');
}

/** Letters and digits of a text, fit for a file name and for a link without escapes. */
export function fileWord(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 60)
    .replace(/^-+|-+$/g, '');
}
