import { weighedTraits } from '../judge/index/weighed-traits.ts';
import {
  type Lineup,
  type LineupRequest,
  type LineupSample,
  lineup,
  TOP,
} from '../judge/lineup/lineup.ts';
import {
  CALENDAR_SLACK,
  type LeftOut,
  RECENT_DAYS,
  type RipeSign,
} from '../judge/lineup/ripe-about.ts';
import { safeFrom } from '../measure/spray-diary.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { note, notesInOrder } from './common-notes.ts';
import { cultivarName, siteName } from './names.ts';
import type { Note, Report } from './table.ts';
import { counted, listed, yearsInWords } from './words.ts';

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

/** How many of all are right or settled: now, after this sitting, after others. */
export interface SheetOutlook {
  readonly of: 'pairs near the top' | 'verdicts';
  /** Shares of all, 0 to 1. */
  readonly now: number;
  readonly after: number;
  /** null where all that is ripe is served */
  readonly afterAny: number | null;
  readonly afterLeastTasted: number | null;
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
    title: titleOf(request, proposal),
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
    notes: [
      // What it is worth is told first.
      ...outlookNotes(request, proposal).filter((one) => one !== undefined),
      ...notesInOrder(
        proposal.samples.length === 0
          ? nothingRipe(ledger, request, proposal)
          : [
              ...methodNotes(ledger, request, proposal),
              ...(isExplained ? EXPLANATION.map((text) => note('method', text)) : []),
              ...evidence(ledger, proposal),
              ...cautions(ledger),
            ],
      ),
    ],
  };
}

function titleOf({ on, tasters }: LineupRequest, { crop, samples }: Lineup): string {
  return samples.length === 0
    ? `No tasting to propose for ${on}`
    : `Tasting of ${on}, ${crop} crop: ${counted(samples.length, 'sample')} for ${counted(tasters.length, 'taster')}`;
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
      return `picked ${sign.on}`;
    case 'calendar':
      return `as in ${yearsInWords(sign.seasons)}`;
    case 'told':
      return 'as you say';
  }
}

function sprayedFirst(leftOut: readonly LeftOut[]): readonly LeftOut[] {
  const place = ({ why }: LeftOut) => (why.kind === 'spray' ? 0 : 1);
  return leftOut.toSorted((a, b) => place(a) - place(b));
}

function leftOutWords({ why }: LeftOut): string {
  return why.kind === 'empty'
    ? 'no fruit left by its counts and picks'
    : `sprayed with ${why.spray.product} on ${why.spray.on}: not to be eaten before ${safeFrom(why.spray)}`;
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

function outlookOf({ aim }: LineupRequest, { outlook }: Lineup): SheetOutlook | null {
  if (outlook === undefined) return null;
  const share = (count: number) => (outlook.all > 0 ? count / outlook.all : 1);
  const { now, after, afterAny, afterLeastTasted } = outlook;
  return {
    of: aim === 'verdict' ? 'verdicts' : 'pairs near the top',
    now: share(now),
    after: share(after),
    afterAny: afterAny === undefined ? null : share(afterAny),
    afterLeastTasted: afterLeastTasted === undefined ? null : share(afterLeastTasted),
  };
}

/** Gains below which one set is as good as another, and below which a sitting changes little; shares of all. */
const SAME_RATIO = 1.25;
const SAME_GAIN = 0.0025;
const LITTLE = 0.01;

/** What the sitting is expected to gain, and whether another set or another way would do as well. */
function outlookNotes(request: LineupRequest, proposal: Lineup): (Note | undefined)[] {
  const outlook = outlookOf(request, proposal);
  if (outlook === null) return [];
  const { now, after, afterAny, afterLeastTasted } = outlook;
  const isLittle = after - now < LITTLE;
  const percent = (share: number) => (100 * share).toFixed(isLittle ? 1 : 0);
  const [of, are] =
    outlook.of === 'verdicts'
      ? ['100 verdicts (of each cultivar, by each mark)', 'are settled']
      : ['100 pairs near the top', 'stand right'];
  const size = proposal.samples.length;
  const others =
    afterAny === null || afterLeastTasted === null
      ? ''
      : `, after any ${size} about ${percent(afterAny)}, after the ${size} least tasted about ${percent(afterLeastTasted)}`;
  const isSame =
    afterAny !== null &&
    (after - now < SAME_RATIO * (afterAny - now) || after - afterAny < SAME_GAIN);
  return [
    note(
      'evidence',
      `Of ${of} ${percent(now)} now ${are}; after this sitting about ${percent(after)} are expected to${others}.`,
    ),
    isLittle
      ? note(
          'evidence',
          'Another tasting this season changes little. A new season, another tree or the missing weights tell more.',
        )
      : isSame
        ? note('evidence', 'Any of these tells about as much: take what is ripest.')
        : undefined,
  ];
}

const EXPLANATION: readonly string[] = [
  'Where cultivars stand: the draws of the index behind rank; one that was never tasted is drawn from the spread between cultivars. A plate from a tree or of a season that was tasted before repeats some of what is known, as far as trees and seasons differ (Henderson 1975, Biometrics 31:423-447).',
  'What to taste: one after another, the plate that leaves the fewest pairs in the wrong order, by expectation (Raiffa and Schlaifer 1961, Applied Statistical Decision Theory, chapter 5; the function T of Owen 1956, Annals of Mathematical Statistics 27:1075-1090). All pairs of the crop count, by the greater of their two chances to be among the best three. With --for verdict: the plate that settles most verdicts.',
  'Serving orders: Williams squares, in which each sample stands equally often in each place and follows each other equally often (Williams 1949, Australian Journal of Scientific Research A 2:149-168).',
];

function methodNotes(
  ledger: Ledger,
  { aim, candidates, seed, tasters }: LineupRequest,
  { basis, samples }: Lineup,
): (Note | undefined)[] {
  const traits = weighedTraits(ledger).map(([trait, weight]) => `${trait} ${weight}`);
  return [
    candidates === undefined
      ? note(
          'method',
          `Ripe: picked in the last ${RECENT_DAYS} days, or else the day lies in the picking time (${CALENDAR_SLACK} days wider at both ends) of at least half the past seasons. Taken from the tree that is known least, of those with a fruit for every taster.`,
        )
      : undefined,
    note(
      'method',
      `Chosen so that one sitting can be expected to ${aim === 'verdict' ? 'settle most verdicts' : 'put most pairs near the top in their right order'} by the index (see rank), of which this tells what is tasted (${listed(traits)}).`,
    ),
    basis === 'assumed'
      ? note(
          'evidence',
          'Nothing was tasted yet that tells how far cultivars and plates differ: the chances rest on an assumed spread.',
        )
      : undefined,
    note(
      'method',
      `Serving orders from Williams squares (Williams 1949), dealt at random to ${counted(tasters.length, 'taster')}: places and neighbours shared out as evenly as ${counted(samples.length, 'sample')} allow. Seed ${seed} for orders and codes.`,
    ),
  ];
}

/** More sweet samples than this tire the palate; common practice, no source. */
const MOST_SAMPLES = 6;

function evidence(ledger: Ledger, proposal: Lineup): (Note | undefined)[] {
  const { samples, notChosen, otherCropRipe, crop } = proposal;
  const sites = [...new Set(samples.map(({ site }) => siteName(ledger, site)))];
  const other: Crop = crop === 'main' ? 'early' : 'main';
  return [
    notChosen.length === 0
      ? undefined
      : note(
          'evidence',
          `Ripe too, but not chosen: ${listed(notChosen.map((one) => cultivarName(ledger, one)))}.`,
        ),
    otherCropRipe === 0
      ? undefined
      : note(
          'evidence',
          `Of the ${other} crop, ${counted(otherCropRipe, 'cultivar')} may be ripe: --crop ${other}.`,
        ),
    sites.length < 2
      ? undefined
      : note(
          'caution',
          `The samples come from ${listed(sites)}: what tells them apart may be the site.`,
        ),
    samples.length <= MOST_SAMPLES
      ? undefined
      : note(
          'caution',
          `More than ${MOST_SAMPLES} sweet samples tire the palate (common practice, no source): rest half-way, or take fewer.`,
        ),
    samples.some(({ fruitLeft }) => fruitLeft === undefined)
      ? note('evidence', 'Where no fruit left is given, the tree was not counted this season.')
      : undefined,
  ];
}

function cautions(ledger: Ledger): Note[] {
  const isFig = ledger.trial.fruit.toLowerCase() === 'fig';
  return [
    note(
      'caution',
      isFig
        ? 'Ask everyone first about allergies to fig, latex or other fruit. Fig sap burns skin in sunlight: cover up to pick, wash before serving.'
        : 'Ask everyone first about allergies to this fruit.',
    ),
    note(
      'caution',
      'Serve nothing mouldy or soured, and nothing within the waiting days of a spray: the label comes first, and only sprays in the ledger are known here.',
    ),
  ];
}

function nothingRipe(
  ledger: Ledger,
  { on }: LineupRequest,
  proposal: Lineup,
): (Note | undefined)[] {
  const other = proposal.otherCropRipe;
  return [
    note(
      'evidence',
      proposal.leftOut.length > 0
        ? `Whatever may be ripe about ${on} is left out, with the reason above.`
        : `Nothing was picked in the ${RECENT_DAYS} days before ${on}, nor about then in at least half the past seasons of any tree${pickingTimes(ledger, on)}. Give another day with --on, or name cultivars with --candidates.`,
    ),
    other === 0
      ? undefined
      : note('evidence', `Of the other crop, ${counted(other, 'cultivar')} may be ripe.`),
  ];
}

/** When the last season with picks began and ended, to know which day to ask for. */
function pickingTimes(ledger: Ledger, on: IsoDate): string {
  const days = ledger.seasons.map(({ picks }) =>
    picks
      .map((pick) => pick.on)
      .filter((day) => day <= on)
      .toSorted(),
  );
  const last = days.findLast((season) => season.length > 0);
  return last === undefined ? '' : ` (picks ran from ${last[0]} to ${last.at(-1)})`;
}
