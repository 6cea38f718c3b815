import { spawnSync } from 'node:child_process';

/**
 * What to put before a command so that the permissions of files hold for it: nothing, or for root,
 * whom they do not bind, a change to another account. Undefined where there is no way.
 */
export function boundByPermissions(): readonly string[] | undefined {
  if (process.getuid?.() !== 0) return [];
  const change = ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups'];
  const [command = '', ...rest] = [...change, process.execPath, '--version'];
  return spawnSync(command, rest).status === 0 ? change : undefined;
}
