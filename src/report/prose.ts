/** A figure inside a sentence; the renderers round it as they round the cells of a table. */
export interface Figured {
  readonly value: number;
  readonly kind: 'number' | 'share';
  readonly digits: number;
}

/** A sentence or more: words, and figures still unrounded. */
export type Prose = readonly (string | Figured)[];

/** A figure with so many decimals. */
export function decimal(value: number, digits: number): Figured {
  return { value, kind: 'number', digits };
}

/** A share, which people read in percent. */
export function share(value: number): Figured {
  return { value, kind: 'share', digits: 0 };
}

/** Sentences behind each other, with a blank between. */
export function joined(parts: readonly Prose[], between = ' '): Prose {
  return parts.flatMap((part, at) => (at === 0 ? part : [between, ...part]));
}
