/** Names in alphabetical order, and the place of each row's name among them. */
export interface Encoded {
  readonly names: readonly string[];
  readonly levels: readonly number[];
  readonly count: number;
}

export function encode(labels: readonly string[]): Encoded {
  const names = [...new Set(labels)].sort();
  return { names, levels: labels.map((label) => names.indexOf(label)), count: names.length };
}
