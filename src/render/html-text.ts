import { visible } from '../source/visible.ts';

/** Text that is nothing but text, inside elements and inside quoted attributes. */
export function escaped(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
}

/** What a page may load: nothing, save its own style sheet. */
export const POLICY = "default-src 'none'; style-src 'unsafe-inline'";
