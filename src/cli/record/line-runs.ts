/** Line numbers, those in a row by their first and last: `61, 64-66`. */
export function lineRuns(numbers: Iterable<number>): string {
  const runs: { from: number; to: number }[] = [];
  for (const line of [...new Set(numbers)].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last?.to === line - 1) last.to = line;
    else runs.push({ from: line, to: line });
  }
  return runs
    .flatMap(({ from, to }) =>
      to - from === 1 ? [from, to] : from === to ? from : `${from}-${to}`,
    )
    .join(', ');
}
