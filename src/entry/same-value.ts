/** Whether two plain values are the same, lists in order, maps in any order; absent is undefined. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
    return a.every((item, index) => sameValue(item, b[index]));
  }
  const left = present(a);
  const right = new Map(present(b));
  if (left.length !== right.size) return false;
  return left.every(([key, value]) => right.has(key) && sameValue(value, right.get(key)));
}

function present(value: object): [string, unknown][] {
  return Object.entries(value).filter(([, inner]) => inner !== undefined);
}
