// Shows the main job on the example ledger: `npm run demo`.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const COMMANDS = [
  'check',
  'yield --season 2026 --by cultivar --top 8',
  'weights --season 2026 --top 6',
  'crops --season 2026',
  'ripening --season 2026 --top 6',
  'rank --confidence 90',
  'verdict --crop main --confidence 90',
];

for (const command of COMMANDS) {
  process.stdout.write(`\n$ pomary --ledger ledger-example ${command}\n\n`);
  const { status } = spawnSync(
    process.execPath,
    ['bin/pomary.js', '--ledger', 'ledger-example', ...command.split(' ')],
    { cwd: root, stdio: 'inherit' },
  );
  if (status !== 0) {
    process.exitCode = status ?? 1;
    break;
  }
}
