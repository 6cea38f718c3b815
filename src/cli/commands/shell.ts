import { Argument, type Command } from 'commander';
import type { Ledger } from '../../model/ledger.ts';
import { visible } from '../../source/visible.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import type { LedgerKind, ProgramOutline } from '../shell/outline.ts';

const SHELLS = ['bash', 'zsh', 'fish'] as const;

export function addCompletionCommand(program: Command, host: Host): void {
  program
    .command('completion')
    .description('A script that teaches your shell to complete commands, options and names.')
    .addArgument(new Argument('<shell>', 'which shell').choices(SHELLS))
    .addHelpText('after', '\nExample:\n  source <(pomary completion bash)')
    .action(async (shell: (typeof SHELLS)[number]) => {
      const { outlineOf } = await import('../shell/outline.ts');
      host.stdout.write(await scriptFor(shell, outlineOf(program)));
    });
  program
    .command('complete', { hidden: true })
    .description('Words of the ledger for the completion scripts, a line each.')
    .argument('<kind>', 'what is completed')
    .action(async (kind: string, _options: unknown, command: Command) => {
      host.stdout.write(await wordLines(host, command.optsWithGlobals<GlobalOptions>(), kind));
    });
}

async function scriptFor(shell: (typeof SHELLS)[number], outline: ProgramOutline): Promise<string> {
  switch (shell) {
    case 'bash':
      return (await import('../shell/bash-completion.ts')).bashCompletion(outline);
    case 'zsh':
      return (await import('../shell/zsh-completion.ts')).zshCompletion(outline);
    case 'fish':
      return (await import('../shell/fish-completion.ts')).fishCompletion(outline);
  }
}

/** Word and meaning with a tab between; of a ledger with errors, what can be read. */
async function wordLines(host: Host, options: GlobalOptions, kind: string): Promise<string> {
  const { LEDGER_KINDS } = await import('../shell/outline.ts');
  const known = LEDGER_KINDS.find((one): one is LedgerKind => one === kind);
  const { findLedger, readFiles } = await import('../find-ledger.ts');
  const { readLedger } = await import('../../reading/read-ledger.ts');
  const { UsageError } = await import('../exit.ts');
  if (known === undefined) throw new UsageError(`complete ${kind}: ${LEDGER_KINDS.join(', ')}`);
  const { ledger } = readLedger(readFiles(host, findLedger(host, options.ledger)));
  const words = ledger === undefined ? [] : ledgerWords(ledger, known);
  return words.map(({ word, meaning }) => `${visible(word)}\t${visible(meaning)}\n`).join('');
}

/** A word that may be typed, and what it stands for. */
interface CompletionWord {
  readonly word: string;
  readonly meaning: string;
}

/** What a ledger offers to be typed for a value. */
function ledgerWords(ledger: Ledger, kind: LedgerKind): readonly CompletionWord[] {
  const { trial, cultivars, trees, seasons } = ledger;
  switch (kind) {
    case 'cultivar':
      return [...cultivars.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'tree':
      return [...trees.values()].map(({ id, cultivar }) => ({ word: id, meaning: cultivar.name }));
    case 'site':
      return [...trial.sites.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'taster':
      return [...trial.tasters.values()].map(({ key, name }) => ({ word: key, meaning: name }));
    case 'season':
      return seasons.map(({ year }) => ({ word: String(year), meaning: '' }));
    case 'trait':
      return trial.traits.map((trait) => ({ word: trait, meaning: '' }));
    case 'crop': {
      const { early, main } = trial.cropNames;
      const words = [...new Set(['early', early, 'main', main])];
      return words.map((word) => ({ word, meaning: '' }));
    }
  }
}

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
