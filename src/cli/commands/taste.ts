import { type Command, InvalidArgumentError, Option } from 'commander';
import { RIPENESS } from '../../model/entries.ts';
import type { Host } from '../host.ts';
import {
  type EntryOptions,
  lineWords,
  oneWord,
  parseAmount,
  valued,
  withEntryOptions,
} from '../record/entry-words.ts';
import type { RecordOptions } from '../record/record-line.ts';

interface TasteOptions extends EntryOptions, RecordOptions {
  readonly taster?: string;
  readonly score: readonly (readonly [trait: string, score: string])[];
  readonly word: readonly string[];
  readonly ripeness?: string;
  readonly brix?: string;
  readonly eye?: string;
  readonly as?: string;
}

export function addTasteCommand(program: Command, host: Host): void {
  const command = program
    .command('taste')
    .description('Write down what a taster scores, and how the fruit was.')
    .argument('<tree>', 'its id, or the key of a cultivar that has one tree')
    .argument('[crop]', 'early or main; may be left out where only one can be meant')
    .option('--taster <key>', 'who tasted')
    .addOption(
      new Option('--score <trait=n>', 'a score (repeatable), as in sweetness=8')
        .argParser((text: string, before: TasteOptions['score']) => [...before, parseScore(text)])
        .default([], 'none'),
    )
    .addOption(
      new Option('--word <text>', 'what it tastes of (repeatable), as in melon or "wild honey"')
        .argParser((text: string, before: TasteOptions['word']) => [...before, parseWord(text)])
        .default([], 'none'),
    )
    .addOption(new Option('--ripeness <how>', 'how ripe the fruit was').choices(RIPENESS))
    .addOption(new Option('--brix <n>', 'degrees Brix').argParser(parseAmount))
    .addOption(new Option('--eye <width>', 'width of the eye').argParser(parseAmount))
    .option('--as <label>', 'the label under which it was served blind');
  withEntryOptions(command)
    .addHelpText(
      'after',
      '\nExample:\n  pomary taste G3 early --on 2026-07-24 --taster mara --score sweetness=8 ' +
        '--score flavour=9 --ripeness ripe',
    )
    .action(async (tree: string, crop: string | undefined) => {
      const options = command.optsWithGlobals<TasteOptions>();
      const words = lineWords(options, [
        ['taste', oneWord('tree', tree)],
        crop === undefined ? [] : [oneWord('crop', crop)],
        options.taster === undefined ? [] : [oneWord('--taster', options.taster)],
        options.score.flat(),
        options.word.length === 0 ? [] : ['words', ...options.word],
        valued('ripeness', options.ripeness),
        valued('brix', options.brix),
        valued('eye', options.eye),
        options.as === undefined ? [] : ['as', oneWord('--as', options.as)],
      ]);
      const { recordLine } = await import('../record/record-line.ts');
      await recordLine(host, options, words, options.taster);
    });
}

/** A word or a phrase, in quotes as a typed line has it. */
function parseWord(text: string): string {
  const plain = text.trim();
  if (plain === '' || /["\n]/.test(plain)) {
    throw new InvalidArgumentError('Write a word or a short phrase without quotes in it.');
  }
  return `"${plain}"`;
}

function parseScore(text: string): readonly [trait: string, score: string] {
  const [, trait, score] = /^([^\s=#][^\s=]*)=(\d\S*)$/.exec(text) ?? [];
  if (trait === undefined || score === undefined) {
    throw new InvalidArgumentError('Write a trait and its score, as in sweetness=8.');
  }
  return [trait, score];
}
