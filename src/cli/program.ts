import { Command, Help } from 'commander';
import packageFile from '../../package.json' with { type: 'json' };
import { visible } from '../source/visible.ts';
import type { AddCommand } from './asked-options.ts';
import { addCardCommand } from './commands/card.ts';
import { addChangesCommand } from './commands/changes.ts';
import { addCheckCommand } from './commands/check.ts';
import { addCountCommand } from './commands/count.ts';
import { addDayCommand } from './commands/day.ts';
import { addEnterCommand } from './commands/enter.ts';
import { addExportCommand } from './commands/export.ts';
import { addFigureCommand } from './commands/figure.ts';
import { addImportCommand } from './commands/import.ts';
import { addInitCommand } from './commands/init.ts';
import { addLineupCommand } from './commands/lineup.ts';
import { addMergeCommand } from './commands/merge.ts';
import { addPickCommand } from './commands/pick.ts';
import { addPostCommand } from './commands/post.ts';
import { addSchemaCommand } from './commands/schema.ts';
import { addSheetCommand } from './commands/sheet.ts';
import { addCompletionCommand, addManualCommand } from './commands/shell.ts';
import { addTasteCommand } from './commands/taste.ts';
import { addTidyCommand } from './commands/tidy.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { plainComplaint } from './plain-complaint.ts';
import type { ReportEntry } from './report-entry.ts';
import * as reports from './reports.ts';

/** The command line. Commands stand in their groups in the order of the work over a year. */
export function buildProgram(host: Host): Command {
  const program = new Command('pomary');
  program
    .description(
      'A ledger for trials of fruit cultivars: plain text files in, honest tables out.\n' +
        'Reads the ledger in this folder or the nearest one above it.',
    )
    .version(packageFile.version, '-V, --version', 'print the version')
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
      outputError: (text, write) => write(plainComplaint(text)),
      getOutHelpWidth: () => lookOf(host, host.stdout, true).width,
      getErrHelpWidth: () => lookOf(host, host.stderr, true).width,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    });

  const add = (group: string, ...commands: readonly Adding[]) => {
    program.commandsGroup(group);
    for (const one of commands) {
      if (typeof one === 'function') one(program, host);
      else reports.addReportCommand(program, host, one);
    }
  };
  add(
    'Record:',
    addInitCommand,
    addSheetCommand,
    addEnterCommand,
    addCountCommand,
    addPickCommand,
    addTasteCommand,
    addImportCommand,
  );
  add('Check:', addCheckCommand, addTidyCommand, addSchemaCommand, addMergeCommand);
  add(
    'Measure:',
    reports.YIELD,
    reports.WEIGHTS,
    reports.CROPS_SIDE_BY_SIDE,
    reports.SOUNDNESS,
    reports.RIPENING,
  );
  add(
    'Judge:',
    reports.SCORES,
    reports.PREFERENCE,
    reports.WORDS,
    reports.RANK,
    reports.COMPARE,
    reports.STABILITY,
    reports.VERDICT,
    addLineupCommand,
    reports.POOL,
  );
  add(
    'Publish:',
    addDayCommand,
    addCardCommand,
    addPostCommand,
    addFigureCommand,
    addChangesCommand,
    addExportCommand,
  );
  program.commandsGroup('Help:').helpCommand('help [command]', 'show the help of a command');
  add('Help:', addCompletionCommand, addManualCommand);
  for (const command of program.commands) {
    command.showHelpAfterError(`(pomary ${command.name()} --help tells how)`);
  }
  return program;
}

/** A report, or what adds a command of another kind. */
type Adding = ReportEntry<object> | AddCommand;
