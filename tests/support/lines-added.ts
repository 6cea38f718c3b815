/** Lines of a text that an older one did not have, in order. Throws where a line of the older one is gone. */
export function linesAdded(older: string, newer: string): readonly string[] {
  const old = older.split('\n');
  let next = 0;
  const added = newer.split('\n').filter((line) => {
    if (line !== old[next]) return true;
    next++;
    return false;
  });
  if (next < old.length) throw new Error(`this line is gone: ${old[next]}`);
  return added;
}
