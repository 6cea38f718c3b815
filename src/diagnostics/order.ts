import type { LocatedDiagnostic } from './diagnostic.ts';

/** By file, then place, then rule; an exact repeat is dropped. Always the same order. */
export function sortedDiagnostics(
  diagnostics: readonly LocatedDiagnostic[],
): readonly LocatedDiagnostic[] {
  const sorted = [...diagnostics].sort(
    (a, b) =>
      byText(a.at.file.path, b.at.file.path) ||
      a.at.start - b.at.start ||
      byText(a.rule, b.rule) ||
      byText(a.message, b.message),
  );
  return sorted.filter((one, index) => {
    const before = sorted[index - 1];
    return (
      before === undefined ||
      before.rule !== one.rule ||
      before.message !== one.message ||
      before.at.start !== one.at.start ||
      before.at.file.path !== one.at.file.path
    );
  });
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
