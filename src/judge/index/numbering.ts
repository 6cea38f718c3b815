/** Numbers things from 0 in the order in which they are first asked for. */
export function numbering<Thing>(first: readonly Thing[] = []): (thing: Thing) => number {
  const places = new Map(first.map((thing, place) => [thing, place]));
  return (thing) => {
    const known = places.get(thing);
    if (known !== undefined) return known;
    places.set(thing, places.size);
    return places.size - 1;
  };
}
