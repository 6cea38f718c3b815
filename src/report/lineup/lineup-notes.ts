import { weighedTraits } from '../../judge/index/weighed-traits.ts';
import type { Lineup, LineupRequest } from '../../judge/lineup/lineup.ts';
import { CALENDAR_SLACK, RECENT_DAYS } from '../../judge/lineup/ripe-about.ts';
import { isFig } from '../../model/bearing.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { note, notesInOrder } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { dayAndYear, dayInWords } from '../day-words.ts';
import { cultivarName, siteName } from '../names.ts';
import type { Note } from '../table.ts';
import { counted, listed } from '../words.ts';

/** What the sitting is worth, how it was proposed, and what to beware of. */
export function lineupNotes(
  ledger: Ledger,
  request: LineupRequest,
  proposal: Lineup,
  isExplained: boolean,
): readonly Note[] {
  const all =
    proposal.samples.length === 0
      ? nothingRipe(ledger, request, proposal)
      : [
          ...methodNotes(ledger, request, proposal),
          ...(isExplained ? EXPLANATION.map((text) => note('method', text)) : []),
          ...evidence(ledger, proposal),
          ...cautions(ledger),
        ];
  // What it is worth is told first.
  return [
    ...outlookNotes(request, proposal).filter((one) => one !== undefined),
    ...notesInOrder(all),
  ];
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

export function outlookOf({ aim }: LineupRequest, { outlook }: Lineup): SheetOutlook | null {
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
  // One alone has nothing to be put in order with.
  if (outlook === null || proposal.outlook?.all === 0) return [];
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
  'What to taste: those never tasted first, since without a score they have no rank; then one after another the plate that leaves the fewest pairs in the wrong order, by expectation (Raiffa and Schlaifer 1961, Applied Statistical Decision Theory, chapter 5; the function T of Owen 1956, Annals of Mathematical Statistics 27:1075-1090). All pairs of the crop count, by the greater of their two chances to be among the best three. With --for verdict: the plate that settles most verdicts.',
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
      samples.length < 2
        ? `Seed ${seed} for the code.`
        : `Serving orders from Williams squares (Williams 1949), dealt at random to ${counted(tasters.length, 'taster')}: places and neighbours shared out as evenly as ${counted(samples.length, 'sample')} allow. Seed ${seed} for orders and codes.`,
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
          `Of the ${cropPhrase(ledger, other)}, ${counted(otherCropRipe, 'cultivar')} may be ripe: --crop ${ledger.trial.cropNames[other]}.`,
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
  const isOfFigs = isFig(ledger.trial.fruit);
  return [
    note(
      'caution',
      isOfFigs
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
        ? `Whatever may be ripe about ${dayInWords(on)} is left out, with the reason above.`
        : `Nothing was picked in the ${RECENT_DAYS} days before ${dayInWords(on)}, nor about then in at least half the past seasons of any tree${pickingTimes(ledger, on)}. Give another day with --on, or name cultivars with --candidates.`,
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
  return last === undefined
    ? ''
    : ` (picks ran from ${dayAndYear(last[0] ?? '')} to ${dayAndYear(last.at(-1) ?? '')})`;
}
