import { displayWidth, headOf, isWider, tailOf } from '../source/display-width.ts';

/**
 * A label for each of some names, at most `width` columns wide. A name that is too long is cut in
 * the middle, since names of one kind often begin alike, and never so that it looks like another.
 *
 * @param width at least wide enough for the ellipsis and the number of names
 */
export function distinctLabels(
  names: readonly string[],
  width: number,
  ellipsis: string,
): ReadonlyMap<string, string> {
  const labels = new Map<string, string>();
  const taken = new Set<string>();
  const give = (name: string, label: string) => {
    labels.set(name, label);
    taken.add(label);
  };
  const unique = [...new Set(names)];
  for (const name of unique) if (!isWider(name, width)) give(name, name);
  let number = 1;
  for (const name of unique) {
    if (labels.has(name)) continue;
    let label = freeCut(name, width, ellipsis, taken);
    // Names that differ only in what no cut shows. One count for all keeps a long list quick.
    while (label === undefined || taken.has(label)) {
      const end = `${ellipsis}${++number}`;
      label = headOf(name, Math.max(0, width - displayWidth(end))).trimEnd() + end;
    }
    give(name, label);
  }
  return labels;
}

/** Places of a name that are tried for the cut. */
const MOST_CUTS = 7;

/** The name cut in the middle, or near it, or undefined where other names are cut to the same. */
function freeCut(
  name: string,
  width: number,
  ellipsis: string,
  taken: ReadonlySet<string>,
): string | undefined {
  const room = Math.max(0, width - displayWidth(ellipsis));
  for (let at = 0; at < MOST_CUTS; at++) {
    // From the middle to the end and the beginning by turns.
    const aside = Math.ceil(at / 2) * (at % 2 === 0 ? 1 : -1);
    const tail = Math.floor((room / 2) * (1 + aside / Math.ceil(MOST_CUTS / 2)));
    const end = tail <= 0 ? '' : tailOf(name, tail).trimStart();
    const label = headOf(name, room - Math.max(0, tail)).trimEnd() + ellipsis + end;
    if (!taken.has(label)) return label;
  }
  return undefined;
}
