import {
  countSeverities,
  type LocatedDiagnostic,
  type RuleCard,
  type Severity,
} from '../diagnostics/diagnostic.ts';
import { displayWidth } from '../source/display-width.ts';
import { frameOf } from '../source/frame.ts';
import { positionAt } from '../source/position.ts';
import type { Span } from '../source/source-file.ts';
import { visible } from '../source/visible.ts';
import { type Look, lineWidth, proseWidth } from './look.ts';
import { type Style, styleFor } from './style.ts';
import { hang, wrapWords } from './text-lines.ts';

export interface DiagnosticsOptions {
  /** At most so many are shown, the gravest if not all; all if left out. */
  readonly atMost?: number;
}

/**
 * Diagnostics for people, in the order given: where, what, the line with the place marked, what to
 * type instead; then how many there are of each kind.
 */
export function renderDiagnostics(
  diagnostics: readonly LocatedDiagnostic[],
  look: Look,
  options: DiagnosticsOptions = {},
): string {
  const style = styleFor(look.colorLevel);
  const shown = gravest(diagnostics, options.atMost ?? diagnostics.length);
  const blocks = shown.map((one) => diagnosticLines(one, look, style).join('\n'));
  const hidden = diagnostics.length - shown.length;
  const more = hidden > 0 ? [`and ${hidden} more`] : [];
  const last = wrapWords([...more, summaryOf(diagnostics)].join(': '), proseWidth(look));
  return `${[...blocks, last.join('\n')].join('\n\n')}\n`;
}

/** How many there are, for example `2 errors, 1 warning`. */
export function summaryOf(diagnostics: readonly LocatedDiagnostic[]): string {
  const counts = countSeverities(diagnostics);
  const parts = [
    plural(counts.errors, 'error'),
    plural(counts.warnings, 'warning'),
    plural(counts.hints, 'hint'),
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'no errors, warnings or hints' : parts.join(', ');
}

function plural(count: number, word: string): string {
  if (count === 0) return '';
  return count === 1 ? `1 ${word}` : `${count} ${word}s`;
}

/** The gravest of them, still in the order given, so that a cap never hides an error for a hint. */
function gravest(
  diagnostics: readonly LocatedDiagnostic[],
  atMost: number,
): readonly LocatedDiagnostic[] {
  if (diagnostics.length <= atMost) return diagnostics;
  const byGravity = [...diagnostics].sort((a, b) => GRAVITY[a.severity] - GRAVITY[b.severity]);
  const chosen = new Set(byGravity.slice(0, Math.max(0, atMost)));
  return diagnostics.filter((one) => chosen.has(one));
}

const GRAVITY: Readonly<Record<Severity, number>> = { error: 0, warning: 1, hint: 2 };

function diagnosticLines(
  diagnostic: LocatedDiagnostic,
  look: Look,
  style: Style,
): readonly string[] {
  const width = proseWidth(look);
  const { severity, rule } = diagnostic;
  const where = style.strong(placeOf(diagnostic.at));
  const lines = [`${where} ${style[severity](severity)} ${style.quiet(rule)}`];
  lines.push(...hang('  ', visible(diagnostic.message), width));
  lines.push(...frameLines(diagnostic.at, look, style[severity]));
  if (diagnostic.advice !== '') lines.push(...hang('  try: ', visible(diagnostic.advice), width));
  for (const { at, label } of diagnostic.related) {
    lines.push(...hang('  see: ', `${placeOf(at)} ${visible(label)}`, width));
  }
  return lines;
}

/** `path:line:column`, which editors and terminals turn into a link. */
function placeOf(span: Span): string {
  const { line, column } = positionAt(span.file, span.start);
  return `${visible(span.file.path)}:${line}:${column}`;
}

function frameLines(span: Span, look: Look, tone: (text: string) => string): readonly string[] {
  const own = positionAt(span.file, span.start).line;
  const digits = String(own).length;
  const ellipsis = look.unicode ? '…' : '...';
  const lead = displayWidth(`  > ${own} | `);
  return frameOf(span, lineWidth(look) - lead, ellipsis).map(({ line, text }) => {
    if (line === undefined) return `    ${' '.repeat(digits)} | ${tone(text)}`;
    const arrow = line === own ? '>' : ' ';
    return `  ${arrow} ${String(line).padStart(digits)} | ${text}`.trimEnd();
  });
}

/** Every rule with its kind and the reason for it, for people. */
export function renderRules(cards: readonly RuleCard[], look: Look): string {
  const style = styleFor(look.colorLevel);
  const lines = cards.flatMap(({ rule, severity, why }) => [
    `${style.strong(rule)} ${style[severity](severity)}`,
    ...hang('  ', why, proseWidth(look)),
  ]);
  const last = 'An error stops every table until it is mended; warnings and hints do not.';
  return `${[...lines, '', ...hang('', last, proseWidth(look))].join('\n')}\n`;
}
