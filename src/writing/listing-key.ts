/** A short key of a name: small letters, without marks, with hyphens for what is between words. */
export function keyFrom(name: string): string {
  return name
    .toLowerCase()
    .normalize('NFD')
    .replaceAll(/[\p{M}'\u2019]/gu, '')
    .normalize('NFC')
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
}

/** The key of a name, with a number behind it where it is taken. */
export function freeKey(name: string, isTaken: (key: string) => boolean): string {
  const base = keyFrom(name);
  let key = base;
  for (let next = 2; isTaken(key); next++) key = `${base}-${next}`;
  return key;
}
