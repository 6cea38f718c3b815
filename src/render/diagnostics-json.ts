import {
  countSeverities,
  type LocatedDiagnostic,
  type RuleCard,
} from '../diagnostics/diagnostic.ts';
import { positionAt } from '../source/position.ts';
import type { Span } from '../source/source-file.ts';
import { jsonText } from './json.ts';

/**
 * One object: `diagnostics` in the order given, each with its place, and how many there are as
 * `errors`, `warnings` and `hints`. Lines and columns count from 1; columns and lengths are in
 * UTF-16 units, as in editors.
 */
export function renderDiagnosticsJson(diagnostics: readonly LocatedDiagnostic[]): string {
  return jsonText({ diagnostics: diagnostics.map(plain), ...countSeverities(diagnostics) });
}

function plain(diagnostic: LocatedDiagnostic): Record<string, unknown> {
  const { severity, rule, message, advice, at, related } = diagnostic;
  return {
    severity,
    rule,
    message,
    advice,
    ...place(at),
    related: related.map((one) => ({ label: one.label, ...place(one.at) })),
  };
}

function place(span: Span): { file: string; line: number; column: number; length: number } {
  const { line, column } = positionAt(span.file, span.start);
  return { file: span.file.path, line, column, length: Math.max(0, span.end - span.start) };
}

/** One object: `rules`, every rule with its kind and the reason for it. */
export function renderRulesJson(cards: readonly RuleCard[]): string {
  return jsonText({ rules: cards });
}
