import type { Look } from '../render/look.ts';
import type { Host, Output } from './host.ts';

const NARROWEST = 20;

/** How wide and how colourful text may be on a stream: decided once, here. */
export function lookOf(host: Host, stream: Output, noColor: boolean): Look {
  const columns = Number(host.env['COLUMNS']) || stream.columns || 80;
  return {
    width: Math.max(NARROWEST, columns),
    colorLevel: noColor ? 0 : colorLevel(host, stream),
    unicode: isUnicode(host),
  };
}

function colorLevel(host: Host, stream: Output): Look['colorLevel'] {
  // https://no-color.org: set and not empty means no colour, whatever its value.
  if (host.env['NO_COLOR']) return 0;
  const forced = host.env['FORCE_COLOR'];
  if (forced === '0' || forced === 'false') return 0;
  if (forced !== undefined) return forced === '3' ? 3 : forced === '2' ? 2 : 1;
  if (!stream.isTTY || host.env['TERM'] === 'dumb') return 0;
  if (stream.colorDepth >= 24) return 3;
  if (stream.colorDepth >= 8) return 2;
  return stream.colorDepth >= 4 ? 1 : 0;
}

/** By the locale variables in their POSIX order; where none is set, UTF-8 is taken for granted. */
function isUnicode(host: Host): boolean {
  const locale = host.env['LC_ALL'] || host.env['LC_CTYPE'] || host.env['LANG'];
  return locale === undefined || locale === '' || /utf-?8/i.test(locale);
}
