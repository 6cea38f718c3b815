import type { Asked, Some } from './asked.ts';

export interface AskedPost extends Asked {
  /** That of the ledger and the seasons if left out. */
  readonly title?: string;
  /** YYYY-MM-DD; today if left out. */
  readonly date?: string;
  readonly tags?: Some<string>;
  /** Whether all tables follow the article. */
  readonly full?: boolean;
  /** Whether tasters are named by first name. */
  readonly nameTasters?: boolean;
  /** What stands before the file of a figure in its link, as `/assets/figures`; `figures` if left out. */
  readonly figuresUrl?: string;
}

/** A post in the forms that a site generator takes. */
export interface PublishedPost {
  readonly title: string;
  /** Names what is worth planting. */
  readonly description: string;
  /** With YAML front matter. */
  readonly markdown: string;
  /** A page of its own, its figures inside. */
  readonly html: string;
  /** What the links of the Markdown lead to, to be written where `figuresUrl` says. */
  readonly figures: readonly { readonly file: string; readonly svg: string }[];
  /** Photos that it shows, by their path in the ledger, which is their link too. */
  readonly photos: readonly string[];
}
