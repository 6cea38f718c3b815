/** Kendall's tau-b of two lists; Kendall 1945, Biometrika 33:239-251. */
export function kendallTauB(a: readonly number[], b: readonly number[]): number {
  let [agree, untiedA, untiedB] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    for (let j = 0; j < i; j++) {
      const x = Math.sign((a[i] ?? 0) - (a[j] ?? 0));
      const y = Math.sign((b[i] ?? 0) - (b[j] ?? 0));
      agree += x * y;
      untiedA += x * x;
      untiedB += y * y;
    }
  }
  return agree / Math.sqrt(untiedA * untiedB);
}
