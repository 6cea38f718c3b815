import { type Command, InvalidArgumentError, Option } from 'commander';
import { SCORE_UNITS, type ScoreUnit } from '../../judge/scores/score-unit.ts';
import type { By } from '../../measure/group-records.ts';
import type { Host } from '../host.ts';
import { type ReportOptions, withOrder, withOutput, withSelection } from '../options.ts';
import { ripenessOf, type TastedOptions, traitsOf, withRipeness } from './tasted-options.ts';

interface ScoresOptions extends ReportOptions, TastedOptions {
  readonly trait: readonly string[];
  readonly unit: ScoreUnit;
}

export function addScoresCommand(program: Command, host: Host): void {
  const command = program
    .command('scores')
    .description('Mean scores with taster and sitting allowed for, and what can be told apart.');
  withSelection(command)
    .addOption(
      new Option('--trait <key>', 'a trait (repeatable)')
        .argParser((text: string, before: readonly string[]) => [...before, text])
        .default([], 'all'),
    )
    .addOption(
      new Option('--by <what>', 'what a row is: cultivar or tree')
        .argParser(parseScoredBy)
        .default([], 'cultivar'),
    )
    .addOption(
      new Option(
        '--unit <unit>',
        'what errors and letters rest on: plates, or each score for itself',
      )
        .choices(SCORE_UNITS)
        .default(SCORE_UNITS[0]),
    );
  withOutput(withOrder(withRipeness(command)))
    .addHelpText('after', '\nExample:\n  pomary scores --crop main --trait flavour')
    .action(async () => {
      const { printReport } = await import('../print-report.ts');
      const { scoresReport } = await import('../../report/scores-report.ts');
      await printReport<ScoresOptions>(host, command, (ledger, request, options) =>
        scoresReport(ledger, request, {
          traits: traitsOf(ledger, options.trait),
          ripeness: ripenessOf(options),
          unit: options.unit,
          explain: options.explain === true,
        }),
      );
    });
}

function parseScoredBy(text: string): readonly By[] {
  if (text === 'cultivar' || text === 'tree') return [text];
  throw new InvalidArgumentError('Rows are cultivar or tree.');
}
