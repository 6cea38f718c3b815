import { Argument, type Command, InvalidArgumentError, Option } from 'commander';
import { FIGURE_FORMATS } from '../../render/figure-style.ts';
import type { FigureSize } from '../../render/figure-svg.ts';
import type { FigureKind } from '../../report/figures/build-figure.ts';
import type { Figure } from '../../report/figures/figure.ts';
import type { FigureOptions } from '../built-figure.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import { groundOption, parseCount, withConfidence, withFile, withSelection } from '../options.ts';
import { formatOfFile, putOut } from '../put-out.ts';

type DrawnKind = FigureKind | 'pool';

const KINDS: Readonly<Record<DrawnKind, string>> = {
  ranks: 'indexes with their intervals, best first',
  ripening: 'calendar of picks; the last season, if none is asked for',
  weights: 'weights of single fruit by cultivar',
  cultivar: 'one cultivar over the years; needs --cultivar',
  day: 'marks and weights of a day, best first; the last day, if none is named',
  pool: 'gardens and their middle by cultivar; needs the folders of other gardens',
};

export function addFigureCommand(program: Command, host: Host): void {
  const command = program
    .command('figure')
    .description('A figure for print, screens light and dark, and screen readers: SVG, or PNG.')
    .addArgument(new Argument('<kind>', 'what to draw').choices(Object.keys(KINDS)))
    .addArgument(
      new Argument('[of...]', 'of figure day: the day as 2026-07-29; of figure pool: folders'),
    );
  withFile(withConfidence(withSelection(command)))
    .addOption(new Option('--top <n>', 'draw the first rows only').argParser(parseCount))
    .addOption(
      new Option('--size <size>', 'fill a screen, in pixels, as 1920x1080').argParser(parseSize),
    )
    .addOption(
      new Option('--format <form>', 'form of the picture (default: by the file, else svg)').choices(
        FIGURE_FORMATS,
      ),
    )
    .addOption(groundOption('what it stands on'))
    .addHelpText('after', `\nKinds:\n${kindLines()}\n\nExample:\n  ${EXAMPLE}`)
    .action(async (kind: DrawnKind, of: readonly string[]) => {
      const options = command.optsWithGlobals<FigureOptions>();
      const drawn =
        kind === 'pool'
          ? await poolDrawn(host, of, options)
          : await figureDrawn(host, kind, of, options);
      await putFigure(host, kind, drawn, options);
    });
}

const EXAMPLE = 'pomary figure ranks --crop main --top 10 --output ranks.svg';

function kindLines(): string {
  return Object.entries(KINDS)
    .map(([kind, what]) => `  ${kind.padEnd(10)}${what}`)
    .join('\n');
}

async function figureDrawn(
  host: Host,
  kind: FigureKind,
  of: readonly string[],
  options: FigureOptions,
): Promise<Figure | undefined> {
  const [date, another] = of;
  if (date !== undefined && (kind !== 'day' || another !== undefined)) {
    throw new UsageError(
      kind === 'day'
        ? 'figure day draws one day'
        : kind === 'cultivar'
          ? `name the cultivar with --cultivar, as in figure cultivar --cultivar "${date}"`
          : `${date}: nothing comes after figure ${kind} but options; a day goes with figure day`,
    );
  }
  const { openForReport } = await import('../open-ledger.ts');
  const { builtFigure } = await import('../built-figure.ts');
  return builtFigure(await openForReport(host, options), kind, options, host.today(), date);
}

async function poolDrawn(
  host: Host,
  folders: readonly string[],
  options: FigureOptions,
): Promise<Figure | undefined> {
  if (folders.length === 0) {
    throw new UsageError('figure pool draws several gardens: name the folders of the others');
  }
  const { openForReport } = await import('../open-ledger.ts');
  const { ofHomeAlone, requestOf } = await import('../request.ts');
  const { openPool } = await import('../open-pool.ts');
  const { poolFigure } = await import('../../report/pool/pool-figure.ts');
  const home = await openForReport(host, options);
  const request = requestOf(home, ofHomeAlone(options), host.today());
  const { material, asked } = await openPool(host, home, folders, request, options);
  return poolFigure(material, asked);
}

async function putFigure(
  host: Host,
  kind: DrawnKind,
  figure: Figure | undefined,
  options: FigureOptions,
): Promise<void> {
  const { size, ground } = options;
  const format = options.format ?? formatOfFile(options.output, FIGURE_FORMATS);
  const { requireFigure } = await import('../built-figure.ts');
  const { drawnFigure } = await import('../drawn-figure.ts');
  const drawn = await drawnFigure(host, requireFigure(figure, kind), { format, ground, size });
  putOut(host, options, drawn);
}

/** Narrower or lower than this, no label is legible; larger than this, no screen is. */
const [LEAST, MOST] = [300, 10_000];

function parseSize(text: string): FigureSize {
  const found = /^(\d{1,5})x(\d{1,5})$/i.exec(text);
  const [width, height] = [Number(found?.[1]), Number(found?.[2])];
  const isPossible = [width, height].every((length) => length >= LEAST && length <= MOST);
  const isScreen = Math.max(width, height) <= 4 * Math.min(width, height);
  if (isPossible && isScreen) return { width, height };
  throw new InvalidArgumentError(
    `Write width and height in pixels, as 1920x1080, each from ${LEAST} to ${MOST}, and no strip.`,
  );
}
