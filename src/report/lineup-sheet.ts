import { type Lineup, type LineupRequest, type LineupSample, lineup } from '../judge/lineup.ts';
import { CALENDAR_SLACK, type LeftOut, RECENT_DAYS, type RipeSign } from '../judge/ripe-about.ts';
import { weighedTraits } from '../judge/tasted-standings.ts';
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
  readonly mean: number;
  readonly sd: number;
  /** Key of the other cultivar against which tasting it tells most, if there is one. */
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
    notes: notesInOrder(
      proposal.samples.length === 0
        ? nothingRipe(ledger, request, proposal)
        : [
            ...methodNotes(ledger, request, proposal),
            ...(isExplained ? EXPLANATION.map((text) => note('method', text)) : []),
            ...evidence(ledger, proposal),
            ...cautions(ledger),
          ],
    ),
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
    mean: sample.mean,
    sd: sample.sd,
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

function whyWords(ledger: Ledger, { cultivar, against, tastings }: LineupSample): string {
  const name = cultivarName(ledger, cultivar);
  if (tastings === 0) return `${name}: never tasted ripe yet, so it may stand anywhere`;
  if (against === undefined) return `${name}: the only one that is ripe`;
  const other = cultivarName(ledger, against.cultivar);
  const [first, second] = against.ahead ? [name, other] : [other, name];
  return `${first} and ${second}: ${orderWords(first, Math.round(100 * against.right))}`;
}

function orderWords(first: string, right: number): string {
  const odds = `(${right} to ${100 - right})`;
  if (right < 60) return `their order is a coin toss ${odds}`;
  if (right < 75) return `${first} seems better, but that is far from settled ${odds}`;
  if (right < 90) return `${first} is probably better, not settled yet ${odds}`;
  return `${first} is almost surely better ${odds}; here to make up the number`;
}

const EXPLANATION: readonly string[] = [
  'Where cultivars stand: tasters are evened out by an additive fit, then plate means are put into a mixed model by residual maximum likelihood, cultivar and sitting random (Henderson 1975, Biometrics 31:423-447; Robinson 1991, Statistical Science 6:15-51); one never tasted stands at the mean of all with the full spread.',
  'What to taste: for every pair the chance that its present order is wrong, and what it is expected to be once both have been tasted by everyone here; their difference, weighed by how near the pair is to the top, is what the set is chosen for, one by one and then by exchanges.',
  'Serving orders: Williams squares, in which each sample stands equally often in each place and follows each other equally often (Williams 1949, Australian Journal of Scientific Research A 2:149-168).',
];

function methodNotes(
  ledger: Ledger,
  { candidates, seed, tasters }: LineupRequest,
  { basis, samples }: Lineup,
): (Note | undefined)[] {
  const traits = weighedTraits(ledger).map(([trait, weight]) => `${trait} ${weight}`);
  return [
    candidates === undefined
      ? note(
          'method',
          `Ripe: picked in the last ${RECENT_DAYS} days, or else the day lies in the picking time (${CALENDAR_SLACK} days wider at both ends) of at least half the past seasons. Taken from the tree with most fruit left.`,
        )
      : undefined,
    note(
      'method',
      `Chosen so that one sitting can be expected to clear up most doubt about the order of the best, by the weighted scores (${listed(traits)}) of fruit tasted ripe; read the odds as a guide.`,
    ),
    basis === 'assumed'
      ? note(
          'evidence',
          'Too few scores yet to tell how far cultivars and plates differ: the odds rest on an assumed spread.',
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
