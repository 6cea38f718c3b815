import { join } from 'node:path';
import { MERGED_FILES } from '../../reading/starter-ledger.ts';
import type { Host } from '../host.ts';
import { DRIVER_COMMAND } from '../merge-driver.ts';
import { readText } from './read-text.ts';

/** Marks the files of a ledger for git, and tells what is left to do. Other lines stay as they are. */
export function setUpMerging(host: Host, folder: string): void {
  const path = join(folder, '.gitattributes');
  const isThere = host.files.kind(path) !== 'none';
  const before = isThere ? readText(host, path, '.gitattributes').text : '';
  if (/^[^#\n]*\bmerge=pomary\b/m.test(before)) {
    host.stdout.write('.gitattributes names the files already.\n');
  } else {
    const eol = before.includes('\r\n') ? '\r\n' : '\n';
    const gap = before === '' ? '' : before.endsWith('\n') ? eol : eol + eol;
    host.files.write(path, before + gap + MERGED_FILES.replaceAll('\n', eol));
    host.stdout.write('wrote .gitattributes; commit it, so that everyone has it\n');
  }
  host.stdout.write(`Then tell git, once on each computer:\n  ${DRIVER_COMMAND}\n`);
}
