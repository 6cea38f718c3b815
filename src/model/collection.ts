import type { Spot } from '../source/source-file.ts';
import type { PartialDate } from './dates.ts';

/** Pollination types of figs (Condit 1955, Hilgardia 23:323-538). */
const FIG_TYPES = ['common', 'smyrna', 'san-pedro', 'caprifig'] as const;
export type FigType = (typeof FIG_TYPES)[number];

/** Which crops a cultivar of another fruit bears. */
const BEARING_TYPES = ['early', 'main', 'both'] as const;
export type BearingType = (typeof BEARING_TYPES)[number];

/** What a cultivar bears, as the ledger says; `unknown` expects nothing and rules nothing out. */
export type Bearing = FigType | BearingType | 'unknown';
export const BEARINGS: readonly Bearing[] = [...FIG_TYPES, ...BEARING_TYPES, 'unknown'];

export interface Cultivar {
  readonly at: Spot;
  readonly key: string;
  /** Exactly as the grower wrote it. */
  readonly name: string;
  readonly bears: Bearing;
  /** Other names of the same cultivar. */
  readonly also: readonly string[];
  /** A doubt: it may be the same as another one. */
  readonly perhaps: { readonly sameAs: string; readonly why: string | undefined } | undefined;
  /** Whether breeders' rights are known to rest on it; undefined where nobody has looked. */
  readonly protected: boolean | undefined;
  readonly note: string | undefined;
}

export type Container =
  | { readonly kind: 'ground' }
  | { readonly kind: 'pot'; readonly litres: number; readonly text: string };

export interface Tree {
  readonly at: Spot;
  readonly id: string;
  readonly cultivar: Cultivar;
  /** The name on the label it came with, exactly. */
  readonly receivedAs: string | undefined;
  readonly from: string | undefined;
  readonly received: PartialDate | undefined;
  readonly planted: PartialDate | undefined;
  /** Key of the site where it stood first. */
  readonly site: string;
  readonly container: Container | undefined;
  readonly rootstock: string | undefined;
  readonly removed: PartialDate | undefined;
  readonly note: string | undefined;
}
