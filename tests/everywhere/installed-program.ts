import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Packs the program as it would be published and installs it into an empty folder, without network.
 *
 * @param root the project
 * @returns the folder with `node_modules` in it
 */
export function installProgram(root: string, scratch: string): string {
  const packed = join(scratch, 'packed');
  const home = join(scratch, 'installed');
  mkdirSync(packed);
  mkdirSync(home);
  // Builds first, since the package says so (`prepack`).
  npm(root, 'pack', '--silent', '--pack-destination', packed);
  const [archive = ''] = readdirSync(packed);
  writeFileSync(join(home, 'package.json'), '{ "private": true }\n');
  npm(home, 'install', '--offline', '--silent', join(packed, archive));
  return home;
}

function npm(cwd: string, ...args: readonly string[]): void {
  execFileSync('npm', args, { cwd, stdio: ['ignore', 'ignore', 'inherit'] });
}
