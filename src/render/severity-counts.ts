import type { LocatedDiagnostic } from '../diagnostics/diagnostic.ts';

export interface SeverityCounts {
  readonly errors: number;
  readonly warnings: number;
  readonly hints: number;
}

export function countSeverities(diagnostics: readonly LocatedDiagnostic[]): SeverityCounts {
  const count = (severity: LocatedDiagnostic['severity']): number =>
    diagnostics.filter((one) => one.severity === severity).length;
  return { errors: count('error'), warnings: count('warning'), hints: count('hint') };
}
