import type { Ledger } from '../model/ledger.ts';
import type { Ground } from '../render/figure-style.ts';
import type { Asked, Some } from './asked.ts';

export interface AskedPost extends Omit<Asked, 'sort'> {
  /** That of the ledger and the seasons if left out. */
  readonly title?: string;
  /** YYYY-MM-DD; today if left out. */
  readonly date?: string;
  readonly tags?: Some<string>;
  /** Whether all tables follow the article. */
  readonly full?: boolean;
  /** Whether tasters are named by first name. */
  readonly nameTasters?: boolean;
  /** What its files are: names and links are made for it; `markdown` if left out. */
  readonly format?: 'markdown' | 'html';
  /** What stands at the head of Markdown; `yaml` if left out. */
  readonly frontMatter?: 'yaml' | 'none';
  /** What stands before the file of a figure in its link, as `/assets/figures`, or `.` for beside the page; `figures` if left out. */
  readonly figuresUrl?: string;
  /** `svg` if left out. */
  readonly figuresFormat?: 'svg' | 'png';
  /** What figures and a page of HTML stand on; `auto`, by the reader's screen, if left out. */
  readonly ground?: Ground;
  /** Cards of its cultivars in its folder, or beside it for generators that make no pages there; `none` if left out. */
  readonly cards?: 'inside' | 'beside' | 'none';
  /** Ledgers of other gardens, opened as this one was: a post on several as one. */
  readonly pool?: readonly Ledger[];
}

/** A post in the forms that a site generator takes, as `pomary post --into` writes it. */
export interface PublishedPost {
  readonly title: string;
  /** Names what is worth planting. */
  readonly description: string;
  /** A name for a folder of its own. */
  readonly folder: string;
  /** With YAML front matter, unless it was asked without. */
  readonly markdown: string;
  /** A page of its own, its figures inside. */
  readonly html: string;
  /** What the links of the Markdown lead to, to be written where `figuresUrl` says: the PNG where there is one. */
  readonly figures: readonly {
    readonly file: string;
    readonly svg: string;
    readonly png?: Uint8Array;
  }[];
  /** Photos that it and its cards show, by their path in the ledger, which is that in its folder too. */
  readonly photos: readonly string[];
  /** Empty unless asked for. */
  readonly cards: readonly PublishedCard[];
  /** What the command would say on standard error. */
  readonly warnings: readonly string[];
}

export interface PublishedCard {
  /** Its key. */
  readonly cultivar: string;
  /** As the post links it. */
  readonly link: string;
  /** From the folder of the post, such as `ferry-bell/index.md`. */
  readonly file: string;
  /** Markdown or HTML, as `format` says. */
  readonly text: string;
}
