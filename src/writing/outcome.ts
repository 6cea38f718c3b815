import type { Diagnostic, LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../diagnostics/order.ts';
import { located } from '../reading/yaml-locate.ts';

/** Nothing was changed, and why. */
export interface Refusal {
  readonly kind: 'refused';
  readonly diagnostics: readonly LocatedDiagnostic[];
}

export function refusal(...diagnostics: readonly Diagnostic[]): Refusal {
  return { kind: 'refused', diagnostics: sortedDiagnostics(located(diagnostics)) };
}
