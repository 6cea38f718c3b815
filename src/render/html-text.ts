import { visible } from '../source/visible.ts';

/** Text that is nothing but text, inside elements and inside quoted attributes. */
export function escaped(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
}
