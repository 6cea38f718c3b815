import { Command, Help } from 'commander';
import { visible } from '../source/visible.ts';
import { VERSION } from '../version.ts';
import { addCardCommand } from './commands/card.ts';
import { addChangesCommand } from './commands/changes.ts';
import { addCheckCommand } from './commands/check.ts';
import { addCompareCommand } from './commands/compare.ts';
import { addCountCommand } from './commands/count.ts';
import { addCropsCommand } from './commands/crops.ts';
import { addDayCommand } from './commands/day.ts';
import { addEnterCommand } from './commands/enter.ts';
import { addExportCommand } from './commands/export.ts';
import { addFigureCommand } from './commands/figure.ts';
import { addImportCommand } from './commands/import.ts';
import { addInitCommand } from './commands/init.ts';
import { addLineupCommand } from './commands/lineup.ts';
import { addMergeCommand } from './commands/merge.ts';
import { addPickCommand } from './commands/pick.ts';
import { addPoolCommand } from './commands/pool.ts';
import { addPostCommand } from './commands/post.ts';
import { addPreferenceCommand } from './commands/preference.ts';
import { addRankCommand } from './commands/rank.ts';
import { addRipeningCommand } from './commands/ripening.ts';
import { addSchemaCommand } from './commands/schema.ts';
import { addScoresCommand } from './commands/scores.ts';
import { addSheetCommand } from './commands/sheet.ts';
import { addCompletionCommand, addManualCommand } from './commands/shell.ts';
import { addSoundnessCommand } from './commands/soundness.ts';
import { addStabilityCommand } from './commands/stability.ts';
import { addTasteCommand } from './commands/taste.ts';
import { addTidyCommand } from './commands/tidy.ts';
import { addVerdictCommand } from './commands/verdict.ts';
import { addWeightsCommand } from './commands/weights.ts';
import { addWordsCommand } from './commands/words.ts';
import { addYieldCommand } from './commands/yield.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';

/** The command line. Commands stand in their groups in the order of the work over a year. */
export function buildProgram(host: Host): Command {
  const program = new Command('pomary');
  program
    .description(
      'A ledger for trials of fruit cultivars: plain text files in, honest tables out.\n' +
        'Reads the ledger in this folder or the nearest one above it.',
    )
    .version(VERSION, '-V, --version', 'print the version')
    .option('--ledger <dir>', 'the folder of the ledger')
    .option('--no-color', 'no colour, as with NO_COLOR in the environment')
    .helpOption('-h, --help', 'show this help')
    .showSuggestionAfterError()
    .showHelpAfterError('(pomary --help lists the commands)')
    .exitOverride()
    .configureHelp({
      showGlobalOptions: true,
      // That a switch is off unless it is named goes without saying.
      optionDescription: (option) =>
        option.defaultValue === false ? option.description : new Help().optionDescription(option),
    })
    .configureOutput({
      writeOut: (text) => host.stdout.write(text),
      // What was typed wrong is quoted in the complaint, and may hold anything.
      writeErr: (text) => host.stderr.write(text.split('\n').map(visible).join('\n')),
      getOutHelpWidth: () => lookOf(host, host.stdout, true).width,
      getErrHelpWidth: () => lookOf(host, host.stderr, true).width,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    });

  program.commandsGroup('Record:');
  addInitCommand(program, host);
  addSheetCommand(program, host);
  addEnterCommand(program, host);
  addCountCommand(program, host);
  addPickCommand(program, host);
  addTasteCommand(program, host);
  addImportCommand(program, host);
  program.commandsGroup('Check:');
  addCheckCommand(program, host);
  addTidyCommand(program, host);
  addSchemaCommand(program, host);
  addMergeCommand(program, host);
  program.commandsGroup('Measure:');
  addYieldCommand(program, host);
  addWeightsCommand(program, host);
  addCropsCommand(program, host);
  addSoundnessCommand(program, host);
  addRipeningCommand(program, host);
  program.commandsGroup('Judge:');
  addScoresCommand(program, host);
  addPreferenceCommand(program, host);
  addWordsCommand(program, host);
  addRankCommand(program, host);
  addCompareCommand(program, host);
  addStabilityCommand(program, host);
  addVerdictCommand(program, host);
  addLineupCommand(program, host);
  addPoolCommand(program, host);
  program.commandsGroup('Publish:');
  addDayCommand(program, host);
  addCardCommand(program, host);
  addPostCommand(program, host);
  addFigureCommand(program, host);
  addChangesCommand(program, host);
  addExportCommand(program, host);
  program.commandsGroup('Help:');
  program.helpCommand('help [command]', 'show the help of a command');
  addCompletionCommand(program, host);
  addManualCommand(program, host);
  return program;
}
