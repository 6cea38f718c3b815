import { basename, dirname, extname, join, relative, resolve, sep } from 'node:path';
import { photoInside } from '../model/photo-path.ts';
import { visible } from '../source/visible.ts';
import { findLedger } from './find-ledger.ts';
import type { Host } from './host.ts';
import type { Destination } from './put-out.ts';

/** What browsers and site generators show as a picture: nothing else of a ledger is passed on. */
const PICTURE = /\.(png|jpe?g|gif|webp|avif|svg)$/i;

/**
 * Makes the photos of a document reachable from the page, and tells where they are from there, by
 * their path in the ledger. With an output file they are copied beside it, under the path that they
 * have in the ledger; a copy never takes the place of another file. Without one the links lead from
 * the current folder to the ledger.
 *
 * A photo that is missing, is no picture, or lies outside the ledger by way of a link is left out,
 * and that is said on standard error.
 */
export async function placePhotos(
  host: Host,
  { ledger, output }: Destination,
  paths: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const links = new Map<string, string>();
  if (paths.length === 0) return links;
  const folder = findLedger(host, ledger);
  const from = output === undefined ? host.cwd : dirname(resolve(host.cwd, output));
  // Without a folder to write into the page cannot be written either, and that is said.
  if (host.files.kind(from) !== 'folder') return links;
  for (const path of shownPhotos(host, folder, paths)) {
    const own = join(folder, path);
    const place = output === undefined ? own : await copied(host, own, from, path);
    links.set(path, relative(from, place).replaceAll('\\', '/'));
  }
  return links;
}

/** Those of the photos that can be shown, each once; of the others it is said on standard error why not. */
export function shownPhotos(
  host: Pick<Host, 'files' | 'stderr'>,
  folder: string,
  paths: readonly string[],
): readonly string[] {
  return [...new Set(paths)].filter((path) => {
    const lack = lackOf(host, folder, path);
    if (lack !== undefined) host.stderr.write(`pomary: ${visible(lack)}\n`);
    return lack === undefined;
  });
}

/** Why a photo cannot be shown; undefined where it can. */
function lackOf({ files }: Pick<Host, 'files'>, folder: string, path: string): string | undefined {
  if (photoInside(path) !== path) return `the photo ${path} does not lie inside the ledger`;
  const own = join(folder, path);
  if (files.kind(own) !== 'file') return `there is no picture ${path} in the ledger`;
  if (!PICTURE.test(path)) return `${path} is left out: it is no picture that a page can show`;
  const isInside = files.realPath(own).startsWith(`${files.realPath(folder)}${sep}`);
  return isInside ? undefined : `the photo ${path} does not lie inside the ledger`;
}

/** Copies a photo beside the page, unless it is there already; gives the path of the copy. */
async function copied(host: Host, own: string, beside: string, path: string): Promise<string> {
  const bytes = host.files.read(own);
  const plain = join(beside, path);
  if (isSame(host, plain, bytes)) return plain;
  const ending = extname(plain);
  const marked = `${basename(plain, ending)}-${await markOf(bytes)}${ending}`;
  const copy = host.files.kind(plain) === 'none' ? plain : join(dirname(plain), marked);
  if (!isSame(host, copy, bytes)) host.files.writeAll([{ path: copy, text: bytes }]);
  return copy;
}

function isSame(host: Host, path: string, bytes: Uint8Array): boolean {
  if (host.files.kind(path) !== 'file' || host.files.size(path) !== bytes.length) return false;
  const there = host.files.read(path);
  return bytes.every((byte, at) => there[at] === byte);
}

/** Eight hexadecimal digits that tell one picture from another of the same name. */
async function markOf(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new Uint8Array(bytes));
  return [...new Uint8Array(digest, 0, 4)].map((one) => one.toString(16).padStart(2, '0')).join('');
}
