import type { Figure } from './figure.ts';
import type { Prose } from './prose.ts';
import type { Report } from './table.ts';

/** A report for readers, before anyone decides how to print it. */
export interface Post {
  readonly title: string;
  readonly ledgerTitle: string;
  /** One plain sentence for lists of posts. */
  readonly description: string;
  /** YYYY-MM-DD */
  readonly date: string;
  readonly tags: readonly string[];
  readonly sections: readonly PostSection[];
}

export interface PostSection {
  readonly heading: string;
  readonly blocks: readonly PostBlock[];
}

/** `table`: the report's title is the caption, its notes stand below it. */
export type PostBlock =
  | { readonly kind: 'subheading'; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: Prose }
  | { readonly kind: 'list'; readonly lines: readonly Prose[] }
  | { readonly kind: 'table'; readonly table: Report }
  | { readonly kind: 'figure'; readonly figure: Figure };

export function paragraph(...text: Prose): PostBlock {
  return { kind: 'paragraph', text };
}

/** Every figure of a post, in order. */
export function figuresOf(post: Post): readonly Figure[] {
  return post.sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.kind === 'figure' ? [block.figure] : [])),
  );
}
