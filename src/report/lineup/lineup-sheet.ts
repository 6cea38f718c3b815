import {
  type Lineup,
  type LineupRequest,
  type LineupSample,
  lineup,
} from '../../judge/lineup/lineup.ts';
import type { RipeSign, TreeLeftOut } from '../../judge/lineup/ripe-about.ts';
import { TOP } from '../../judge/top-ranks.ts';
import { safeFrom } from '../../measure/spray-diary.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { cropPhrase } from '../crop-words.ts';
import { dayAndYear, dayInWords, shortDay } from '../day-words.ts';
import { cultivarName, siteName } from '../names.ts';
import type { Note, Report } from '../table.ts';
import { counted, listed, yearsInWords } from '../words.ts';
import { lineupNotes, outlookOf, type SheetOutlook } from './lineup-notes.ts';

/** A sample as whoever serves needs to know it. */
export interface SheetSample {
  readonly code: string;
  readonly tree: string;
  readonly cultivar: string;
  readonly cultivarKey: string;
  readonly site: string;
  /** null where the fruit was not counted this season */
  readonly fruitLeft: number | null;
  /** What tells that it is ripe. */
  readonly ripe: string;
  readonly tastings: number;
  /** Seasons in which it was tasted. */
  readonly seasons: number;
  /** How it tastes by what is known, on the scale, and how far that may be off. */
  readonly mean: number;
  readonly sd: number;
  /** Chance that its index is among the best three. */
  readonly topShare: number;
  /** Key of the cultivar against which most is learnt of it, if there is one. */
  readonly against: string | null;
  /** Chance that the order of the two truly is what it seems, 0.5 to 1. */
  readonly orderRight: number | null;
  /** Why it was chosen: one line. */
  readonly why: string;
}

export interface SheetOrder {
  readonly taster: string;
  readonly name: string;
  readonly codes: readonly string[];
}

/** The sheets of one sitting and all that belongs to them; renderers turn it into text. */
export interface LineupSheet extends Pick<Report, 'title' | 'ledgerTitle' | 'selection'> {
  readonly on: IsoDate;
  readonly season: number;
  readonly crop: Crop;
  readonly scale: { readonly low: number; readonly high: number };
  readonly traits: readonly string[];
  /** By code. */
  readonly samples: readonly SheetSample[];
  /** What the sitting is expected to clear up; null where nothing is ripe. */
  readonly outlook: SheetOutlook | null;
  readonly orders: readonly SheetOrder[];
  readonly leftOut: readonly {
    readonly cultivar: string;
    readonly tree: string;
    readonly why: string;
  }[];
  /** File that the sitting goes into, and what of its frame is there already. */
  readonly file: { readonly path: string; readonly has: 'tastings' | 'season' | 'nothing' };
  readonly notes: readonly Note[];
}

/** The next tasting on paper. */
export function lineupSheet(
  ledger: Ledger,
  request: LineupRequest,
  isExplained = false,
): LineupSheet {
  const proposal = lineup(ledger, request);
  const { crop, season } = proposal;
  const { trial } = ledger;
  const tasted = ledger.seasons.find(({ year }) => year === season);
  return {
    title: titleOf(ledger, request, proposal),
    ledgerTitle: trial.title,
    selection: {
      on: request.on,
      crop,
      samples: request.samples,
      tasters: request.tasters.map(({ key }) => key),
      for: request.aim ?? 'order',
      ...(request.candidates === undefined ? {} : { candidates: request.candidates }),
      seed: request.seed,
    },
    on: request.on,
    season,
    crop,
    scale: trial.scale,
    traits: trial.traits,
    samples: proposal.samples
      .map((sample) => toSample(ledger, sample))
      .toSorted((a, b) => (a.code < b.code ? -1 : 1)),
    outlook: outlookOf(request, proposal),
    orders: proposal.orders.map(({ taster, codes }) => ({
      taster: taster.key,
      name: taster.name,
      codes,
    })),
    leftOut: sprayedFirst(proposal.leftOut).map((one) => ({
      cultivar: cultivarName(ledger, one.cultivar),
      tree: one.tree.id,
      why: leftOutWords(one),
    })),
    file: {
      path: `seasons/${season}.yaml`,
      has: tasted === undefined ? 'nothing' : tasted.tastings.length > 0 ? 'tastings' : 'season',
    },
    notes: lineupNotes(ledger, request, proposal, isExplained),
  };
}

function titleOf(
  ledger: Ledger,
  { on, tasters }: LineupRequest,
  { crop, samples }: Lineup,
): string {
  return samples.length === 0
    ? `No tasting to propose for ${dayAndYear(on)}`
    : `Tasting of ${dayAndYear(on)}, ${cropPhrase(ledger, crop)}: ${counted(samples.length, 'sample')} for ${counted(tasters.length, 'taster')}`;
}

function toSample(ledger: Ledger, sample: LineupSample): SheetSample {
  return {
    code: sample.code,
    tree: sample.tree.id,
    cultivar: cultivarName(ledger, sample.cultivar),
    cultivarKey: sample.cultivar.key,
    site: siteName(ledger, sample.site),
    fruitLeft: sample.fruitLeft ?? null,
    ripe: ripeWords(sample.sign),
    tastings: sample.tastings,
    seasons: sample.seasons,
    mean: sample.mean,
    sd: sample.sd,
    topShare: sample.topShare,
    against: sample.against?.cultivar.key ?? null,
    orderRight: sample.against?.right ?? null,
    why: whyWords(ledger, sample),
  };
}

/** Short, for a table: the day of a pick, or the seasons that it goes by. */
function ripeWords(sign: RipeSign): string {
  switch (sign.kind) {
    case 'picked':
      return `picked ${shortDay(sign.on)}`;
    case 'calendar':
      return `as in ${yearsInWords(sign.seasons)}`;
    case 'told':
      return 'as you say';
  }
}

function sprayedFirst(leftOut: readonly TreeLeftOut[]): readonly TreeLeftOut[] {
  const place = ({ why }: TreeLeftOut) => (why.kind === 'spray' ? 0 : 1);
  return leftOut.toSorted((a, b) => place(a) - place(b));
}

function leftOutWords({ why }: TreeLeftOut): string {
  return why.kind === 'empty'
    ? 'no fruit left by its counts and picks'
    : `sprayed with ${why.spray.product} on ${dayInWords(why.spray.on)}: not to be eaten before ${dayInWords(safeFrom(why.spray))}`;
}

/** A chance of the top that is open enough to be worth saying: 0.05 to 0.95. */
const OPEN = 0.05;

function whyWords(ledger: Ledger, sample: LineupSample): string {
  const name = cultivarName(ledger, sample.cultivar);
  return `${name}: ${[...reasons(ledger, sample), treeWords(sample)].filter((part) => part !== '').join('; ')}`;
}

function reasons(ledger: Ledger, sample: LineupSample): readonly string[] {
  const { against, tastings, seasons } = sample;
  const top = openWords(sample);
  if (tastings === 0) return ['never tasted ripe yet', top];
  const known =
    tastings === 1
      ? 'tasted once'
      : seasons === 1
        ? `tasted in one season only (${tastings} times)`
        : '';
  const close =
    against !== undefined && against.right < SETTLED
      ? `close to ${cultivarName(ledger, against.cultivar)}`
      : '';
  const all = [[top, known].filter((part) => part !== '').join(', '), close];
  return all.some((part) => part !== '') ? all : ['well known; here to make up the number'];
}

/** What is open of its index: on which side of a mark of the verdict it lies, or whether it is among the best. */
function openWords({ openMarks, topShare }: LineupSample): string {
  if (openMarks !== undefined) {
    return openMarks.length === 0 ? '' : `may be above or below ${listed(openMarks.map(String))}`;
  }
  return topShare > OPEN && topShare < 1 - OPEN
    ? `may be among the best ${TOP} (${Math.round(100 * topShare)} in 100)`
    : '';
}

/** An order that is as likely right as this is not close. */
const SETTLED = 0.9;

function treeWords({ tree, insteadOf }: LineupSample): string {
  return insteadOf === undefined ? '' : `from ${tree.id}, which is known less than ${insteadOf.id}`;
}
