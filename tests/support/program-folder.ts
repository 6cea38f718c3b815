import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The built package as another program has it: installed in a folder of its own, imported by name. */
export class ProgramFolder {
  readonly path = mkdtempSync(join(tmpdir(), 'pomary-library-'));

  constructor() {
    mkdirSync(join(this.path, 'node_modules'));
    symlinkSync(ROOT, join(this.path, 'node_modules/pomary'), 'dir');
  }

  /** Writes texts of files by their path from a folder inside. */
  lay(folder: string, files: Readonly<Record<string, string>>): void {
    for (const [path, text] of Object.entries(files)) {
      const file = join(this.path, folder, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, text);
    }
  }

  /** Runs Node there, knowing nothing of the environment. */
  node(...args: readonly string[]) {
    const env = { PATH: process.env['PATH'] ?? '' };
    return spawnSync(process.execPath, args, { cwd: this.path, env, encoding: 'utf8' });
  }

  pomary(...argv: readonly string[]) {
    return this.node(`${ROOT}/bin/pomary.js`, ...argv);
  }

  /** What a small program prints as JSON. */
  printedBy(program: string): unknown {
    this.lay('.', { 'program.mjs': program });
    const { stdout, stderr } = this.node('program.mjs');
    expect(stderr).toBe('');
    return JSON.parse(stdout);
  }

  /** What the type checker, told to be strict, says of a program. */
  typed(program: string): string {
    this.lay('.', { 'program.mts': program });
    const strict = ['--strict', '--noEmit', '--noPropertyAccessFromIndexSignature'];
    const module = ['--module', 'nodenext', '--target', 'es2023', '--types', ''];
    const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
    const { stdout, stderr } = this.node(tsc, ...strict, ...module, 'program.mts');
    return stdout + stderr;
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
