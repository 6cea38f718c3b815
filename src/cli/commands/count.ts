import type { Command } from 'commander';
import type { Host } from '../host.ts';
import {
  againOption,
  type EntryOptions,
  lineWords,
  oneWord,
  valued,
  wholeOption,
  withEntryOptions,
} from '../record/entry-words.ts';
import type { RecordOptions } from '../record/record-line.ts';

interface CountOptions extends EntryOptions, RecordOptions {
  readonly fruit: string;
  readonly branches?: string;
}

export function addCountCommand(program: Command, host: Host): void {
  const command = program
    .command('count')
    .description('Write down what hangs on a tree, before anything is picked that day.')
    .argument('<tree>', 'its id, or the key of a cultivar that has one tree')
    .argument('[crop]', 'early or main; may be left out where only one can be meant')
    .addOption(wholeOption('--fruit <n>', 'fruit that hang').makeOptionMandatory())
    .addOption(wholeOption('--branches <n>', 'branches that they hang on'));
  againOption(withEntryOptions(command))
    .addHelpText(
      'after',
      '\nExample:\n  pomary count G3 early --on 2026-07-02 --fruit 21 --branches 8',
    )
    .action(async (tree: string, crop: string | undefined) => {
      const options = command.optsWithGlobals<CountOptions>();
      const words = lineWords(options, [
        ['count', oneWord('tree', tree)],
        crop === undefined ? [] : [oneWord('crop', crop)],
        valued('fruit', options.fruit),
        valued('branches', options.branches),
      ]);
      const { recordLine } = await import('../record/record-line.ts');
      await recordLine(host, options, words);
    });
}
