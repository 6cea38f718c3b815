import type { FigureFormat, Ground } from '../render/figure-style.ts';
import { type FigureSize, figureSvg } from '../render/figure-svg.ts';
import { proseText } from '../render/format-cell.ts';
import type { Figure } from '../report/figures/figure.ts';
import { visible } from '../source/visible.ts';
import type { Host } from './host.ts';

export interface FigureWish {
  readonly format: FigureFormat;
  readonly ground?: Ground | undefined;
  /** Pixels. */
  readonly size?: FigureSize | undefined;
}

/** A figure as the text or the bytes of a file. Letters that a picture of dots lacks are told of on standard error. */
export async function drawnFigure(
  host: Pick<Host, 'own' | 'stderr'>,
  figure: Figure,
  { format, ground, size }: FigureWish,
): Promise<string | Uint8Array> {
  if (format === 'svg') return figureSvg(figure, 'file', { size, ground });
  const { pngOf } = await import('../render/figure-png.ts');
  const { lettersWithoutShape } = await import('../render/font-letters.ts');
  // A picture of dots has one ground, whatever the screen.
  const svg = await figureSvg(figure, 'file', {
    size,
    ground: ground === 'auto' ? 'light' : ground,
  });
  const regular = host.own('font-regular');
  const drawn = [...svg.matchAll(/>([^<]*)<\/text>/g)].map(([, text = '']) => text).join('');
  const lacking = lettersWithoutShape(regular, drawn);
  if (lacking.length > 0) {
    host.stderr.write(
      `pomary: a PNG cannot show ${visible(lacking.join(' '))}, which its fonts lack; an SVG can\n`,
    );
  }
  return pngOf(
    svg,
    { renderer: host.own('renderer'), fonts: [regular, host.own('font-bold')] },
    { title: figure.title, description: proseText(figure.alt) },
    // As sharp as phones and paper want it; what is made for a screen has the pixels of that screen.
    size === undefined ? 2 : 1,
  );
}
