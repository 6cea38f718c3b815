import type { Command } from 'commander';
import type { Host } from '../host.ts';

export function addManualCommand(program: Command, host: Host): void {
  program
    .command('manual')
    .description('The manual page, for man.')
    .addHelpText('after', '\nExample:\n  pomary manual > pomary.1 && man -l pomary.1')
    .action(async () => {
      const { outlineOf } = await import('../shell/outline.ts');
      const { manualPage } = await import('../shell/manual-page.ts');
      host.stdout.write(manualPage(outlineOf(program), program.version() ?? ''));
    });
}
