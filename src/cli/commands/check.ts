import { type Command, Option } from 'commander';
import { EXIT, Finished } from '../exit.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { parseCount } from '../options.ts';

interface CheckOptions extends GlobalOptions {
  readonly format: 'text' | 'json';
  readonly strict: boolean;
  readonly most: number;
  readonly rules: boolean;
}

export function addCheckCommand(program: Command, host: Host): void {
  program
    .command('check')
    .description('Tell what in the ledger cannot be right, and what may not be.')
    .addOption(
      new Option('--format <form>', 'form of the list').choices(['text', 'json']).default('text'),
    )
    .option('--strict', 'end with status 1 for warnings too', false)
    .addOption(
      new Option('--most <n>', 'show so many at the most').argParser(parseCount).default(100),
    )
    .option('--rules', 'list the rules and the reason for each instead', false)
    .addHelpText('after', '\nExample:\n  pomary check --strict')
    .action(async (_options: unknown, command: Command) => {
      const options = command.optsWithGlobals<CheckOptions>();
      if (options.rules) return listRules(host, options);
      const { readAndCheck } = await import('../open-ledger.ts');
      const { diagnostics } = readAndCheck(host, options);
      if (options.format === 'json') {
        const { renderDiagnosticsJson } = await import('../../render/diagnostics-json.ts');
        host.stdout.write(renderDiagnosticsJson(diagnostics));
      } else {
        const { renderDiagnostics } = await import('../../render/diagnostics-text.ts');
        const look = lookOf(host, host.stdout, !options.color);
        host.stdout.write(renderDiagnostics(diagnostics, look, { atMost: options.most }));
      }
      const grave = options.strict ? ['error', 'warning'] : ['error'];
      if (diagnostics.some(({ severity }) => grave.includes(severity))) {
        throw new Finished(EXIT.ledgerErrors);
      }
    });
}

async function listRules(host: Host, { format, color }: CheckOptions): Promise<void> {
  const { ruleCards } = await import('../../checks/rule-cards.ts');
  if (format === 'json') {
    const { renderRulesJson } = await import('../../render/diagnostics-json.ts');
    host.stdout.write(renderRulesJson(ruleCards()));
  } else {
    const { renderRules } = await import('../../render/diagnostics-text.ts');
    host.stdout.write(renderRules(ruleCards(), lookOf(host, host.stdout, !color)));
  }
}
