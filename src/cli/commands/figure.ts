import { Argument, type Command, Option } from 'commander';
import type { FigureKind } from '../../report/build-figure.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import {
  parseCount,
  type ReportOptions,
  withConfidence,
  withFile,
  withSelection,
} from '../options.ts';
import { putOut } from '../put-out.ts';

type FigureOptions = Omit<ReportOptions, 'format' | 'sort' | 'by'> & GlobalOptions;

const KINDS: Readonly<Record<FigureKind, string>> = {
  ranks: 'indexes with their intervals, best first',
  ripening: 'calendar of picks; the last season, if none is asked for',
  weights: 'weights of single fruit by cultivar',
  cultivar: 'one cultivar over the years; needs --cultivar',
};

export function addFigureCommand(program: Command, host: Host): void {
  const command = program
    .command('figure')
    .description('A figure as SVG: for print, screens light and dark, and screen readers.')
    .addArgument(new Argument('<kind>', 'what to draw').choices(Object.keys(KINDS)));
  withFile(withConfidence(withSelection(command)))
    .addOption(new Option('--top <n>', 'draw the first rows only').argParser(parseCount))
    .addHelpText('after', `\nKinds:\n${kindLines()}\n\nExample:\n  ${EXAMPLE}`)
    .action(async (kind: FigureKind) => {
      await drawFigure(host, kind, command.optsWithGlobals<FigureOptions>());
    });
}

const EXAMPLE = 'pomary figure ranks --crop main --top 10 --output ranks.svg';

function kindLines(): string {
  return Object.entries(KINDS)
    .map(([kind, what]) => `  ${kind.padEnd(10)}${what}`)
    .join('\n');
}

async function drawFigure(host: Host, kind: FigureKind, options: FigureOptions): Promise<void> {
  const { openLedger } = await import('../open-ledger.ts');
  const { requestOf } = await import('../request.ts');
  const { buildFigure } = await import('../../report/build-figure.ts');
  const ledger = await openLedger(host, options);
  const request = requestOf(ledger, options, host.today());
  if (kind === 'cultivar' && request.selection.cultivars?.length !== 1) {
    throw new UsageError('figure cultivar draws one cultivar: name it with --cultivar');
  }
  const figure = await buildFigure(ledger, request, kind);
  if (figure === undefined) {
    throw new UsageError(`nothing to draw: the ledger has no ${kind} in what was asked for`);
  }
  const { figureSvg } = await import('../../render/figure-svg.ts');
  const svg = await figureSvg(figure, 'file');
  putOut(host, options, svg);
}
