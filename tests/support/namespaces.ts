import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';

/** Words before a command, for which the folder that it starts in is then on a disk that can only be read. */
export function onReadOnlyDisk(): readonly string[] | undefined {
  const mount = 'mount --bind . . && mount -o remount,bind,ro . && cd "$PWD" && exec "$@"';
  return ifItWorks([...inNamespace(), '--mount', 'sh', '-c', mount, 'sh']);
}

/** Words before a command, for which there is then no network, not even the machine itself. */
export function withoutNetwork(): readonly string[] | undefined {
  return ifItWorks([...inNamespace(), '--net']);
}

function inNamespace(): readonly string[] {
  return process.getuid?.() === 0 ? ['unshare'] : ['unshare', '--map-root-user'];
}

function ifItWorks(words: readonly string[]): readonly string[] | undefined {
  const [command = '', ...rest] = [...words, 'true'];
  return spawnSync(command, rest, { cwd: tmpdir() }).status === 0 ? words : undefined;
}
