import { type Command, Option } from 'commander';
import { DEFECTS, type Defect, WEIGHED_SAMPLES } from '../../model/entries.ts';
import { looksNumeric } from '../../writing/typed-number.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import {
  againOption,
  type EntryOptions,
  lineWords,
  oneWord,
  parseAmount,
  parseAmounts,
  valued,
  wholeOption,
  withEntryOptions,
} from '../record/entry-words.ts';
import type { RecordOptions } from '../record/record-line.ts';

interface PickOptions extends EntryOptions, RecordOptions, Partial<Record<Defect, string>> {
  readonly weights?: readonly string[];
  readonly fruit?: string;
  readonly weight?: string;
  readonly sample?: string;
}

export function addPickCommand(program: Command, host: Host): void {
  const command = program
    .command('pick')
    .description('Write down picked fruit, with their weights and what was spoiled.')
    .argument('<tree>', 'its id, or the key of a cultivar that has one tree')
    .argument('[crop]', 'early or main; may be left out where only one can be meant')
    // --weights 52.4 47 without quotes leaves words over.
    .allowExcessArguments()
    .addOption(
      new Option('--weights <list>', 'fruit weighed one by one: 52.4,47 or "52.4 47"').argParser(
        parseAmounts,
      ),
    )
    .addOption(wholeOption('--fruit <n>', 'number of fruit, if not all were weighed one by one'))
    .addOption(new Option('--weight <amount>', 'weight of the whole pick').argParser(parseAmount));
  for (const defect of DEFECTS) command.addOption(wholeOption(`--${defect} <n>`, SPOILED[defect]));
  command.addOption(
    new Option('--sample <how>', 'how the weighed fruit were chosen').choices(WEIGHED_SAMPLES),
  );
  againOption(withEntryOptions(command))
    .addHelpText(
      'after',
      '\nExamples:\n  pomary pick G3 early --on 2026-07-24 --weights 52.4,47,61.3 --split 1\n' +
        '  pomary pick G3 early --on 29.7. --fruit 11 --weight 580 --bird 2 --note "wet week"',
    )
    .action(async (tree: string) => {
      const options = command.optsWithGlobals<PickOptions>();
      const { crop, more } = apart(options, command.args.slice(1));
      const words = lineWords(options, [
        ['pick', oneWord('tree', tree)],
        crop === undefined ? [] : [oneWord('crop', crop)],
        options.weights ?? [],
        more,
        valued('fruit', options.fruit),
        valued('weight', options.weight),
        ...DEFECTS.map((defect) => valued(defect, options[defect])),
        valued('sample', options.sample),
      ]);
      const { recordLine } = await import('../record/record-line.ts');
      await recordLine(host, options, words);
    });
}

/** The crop, and weights that the shell took off --weights at a blank. */
function apart(
  { weights }: PickOptions,
  [second, ...others]: readonly string[],
): { readonly crop: string | undefined; readonly more: readonly string[] } {
  const isCrop = second === undefined || !looksNumeric(second);
  const more = isCrop ? others : [second, ...others];
  const odd = more.find((one) => weights === undefined || !looksNumeric(one));
  if (odd !== undefined) {
    const advice = looksNumeric(odd)
      ? `weights follow --weights, as in --weights "${more.join(' ')}"`
      : 'after the tree and the crop come options; pomary pick --help lists them';
    throw new UsageError(`pick does not know what ${odd} is; ${advice}`);
  }
  return { crop: isCrop ? second : undefined, more: more.flatMap((one) => parseAmounts(one)) };
}

const SPOILED: Readonly<Record<Defect, string>> = {
  split: 'how many were split; a fruit counts once, under its worst defect',
  bird: 'how many birds had been at',
  insect: 'how many insects had been at',
  animal: 'how many slugs, rodents or other animals had been at',
  mould: 'how many were mouldy',
  unripe: 'how many were unripe',
};
