import type { OrderSheet, OrderSource } from '../../judge/orders/order-sheets.ts';
import { type PairChance, type Preferences, pairChance } from '../../judge/orders/preferences.ts';
import { type TasterAgreement, tasterAgreement } from '../../judge/orders/taster-agreement.ts';
import { allows } from '../../measure/selection.ts';
import type { Ripeness } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { dayAndYear } from '../day-words.ts';
import { cultivarName } from '../names.ts';
import { chanceWords } from '../number-words.ts';
import { percent, type ReportRequest } from '../report-request.ts';
import type { Note } from '../table.ts';
import { counted, listed, sentence } from '../words.ts';

/** What is asked of the preferences besides what every report knows. */
export interface PreferenceAsked {
  readonly from: OrderSource;
  /** Wins and losses that each cultivar is given beforehand; 0 for none. */
  readonly prior: number;
  readonly ripeness: readonly Ripeness[];
}

export function preferenceMethodNotes(
  { confidence, explain = false }: ReportRequest,
  { from, prior }: PreferenceAsked,
): Note[] {
  const short = [
    'Before a middling one: in how many of 100 orders the cultivar is placed before one in the middle of the table; where two intervals do not overlap, tasters put one before the other. First of all (worth): in how many it would come first if all of its crop stood on one table. Log worth: the same on an even scale, 0 in the middle.',
    FROM[from],
    prior > 0
      ? `Each cultivar is first given ${prior} wins and as many losses against an imagined middling one, so that a few lucky orders do not carry it off (--prior 0: none).`
      : '',
  ];
  const long = [
    'Model: Plackett-Luce, by which an order is a row of choices of the best from what is left, each with chances in proportion to worth; ties after Davidson and Luce, orders of a part of the cultivars allowed (Turner, van Etten, Firth & Kosmidis 2020, Computational Statistics 35:1027-1057). Worths sum to 1, log worths to 0.',
    `SE: quasi standard error, so that the error of a difference is the root of the sum of two squares (Firth & de Menezes 2004, Biometrika 91:65-80); interval: ${percent(confidence)} %, normal. Orders of one sitting share the luck of its plates: variances are multiplied by how much more alike they are than the model has them (Rao & Scott 1981, J. Am. Stat. Assoc. 76:221-230).`,
    'A cultivar with several plates in one order: each plate in turn stands for it, all ways together counting as one order. Wins: pairs in which it stood before the other, a tie half.',
    'Agreement: W of Kendall (Kendall & Gibbons 1990), corrected for ties; p by the test of Friedman (ISO 8587:2006), exact where tasters and plates are few.',
  ];
  return [...short, ...(explain ? long : [])]
    .filter((text) => text !== '')
    .map((text) => note('method', text));
}

const FROM: Readonly<Record<OrderSource, string>> = {
  orders: '',
  scores:
    "Orders are read off each taster's scores at a sitting: by the mean over the traits scored of every plate, equal means being a tie.",
  both: "Where a taster gave no order at a sitting, it is read off the taster's scores: by the mean over the traits scored of every plate, equal means being a tie.",
};

/** What the worths of the first two of each crop come to, side by side. */
export function topPairNotes(
  ledger: Ledger,
  { selection, confidence }: ReportRequest,
  all: readonly Preferences[],
): Note[] {
  return all.flatMap((preference) => {
    const { crop, cultivars, groups, model } = preference;
    const [first, second] = (groups.find((group) => group.length > 1) ?? [])
      .filter((at) => allows(selection.cultivars, cultivars[at]?.key ?? ''))
      .toSorted((a, b) => (model.logWorths[b] ?? 0) - (model.logWorths[a] ?? 0));
    const [a, b] = [cultivars[first ?? -1], cultivars[second ?? -1]];
    if (first === undefined || second === undefined || !a || !b) return [];
    const chance = pairChance(preference, first, second, confidence);
    if (chance === undefined) return [];
    const names = `${cultivarName(ledger, a)} is placed before ${cultivarName(ledger, b)}`;
    const text = `${cropPhrase(ledger, crop)}: put the two side by side, and ${names} in about ${oftenWords(chance.chance)}, ties aside${isApart(chance) ? '' : '; they cannot be told apart yet'}.`;
    const brief = `${all.length > 1 ? `${cropPhrase(ledger, crop)}: ` : ''}${names} in about ${oftenWords(chance.chance)}${isApart(chance) ? '' : ', too close to tell'}.`;
    return [shownNote('evidence', sentence(text), sentence(brief))];
  });
}

/** "7 of 10 orders", "half of the orders". */
function oftenWords(chance: number): string {
  const tenths = Math.round(10 * chance);
  if (tenths === 5) return 'half of the orders';
  if (tenths > 0 && tenths < 10) return `${tenths} of 10 orders`;
  const hundredths = Math.min(99, Math.max(1, Math.round(100 * chance)));
  return `${hundredths} of 100 orders`;
}

function isApart({ low, high }: PairChance): boolean {
  return low !== undefined && high !== undefined && (low > 0.5 || high < 0.5);
}

/** On how much a table of preferences rests, crop by crop. */
export function orderEvidenceNote(ledger: Ledger, all: readonly Preferences[]): Note {
  const crops = all.map(({ crop, sheets }) => {
    const tasters = new Set(sheets.map(({ taster }) => taster.key)).size;
    const sittings = new Set(sheets.map(({ tasting }) => tasting)).size;
    const tied = sheets.filter(({ ranks }) => ranks.some((rank) => rank.length > 1)).length;
    const ties = tied === 0 ? '' : `, ${tied} of them with ties`;
    return `${cropPhrase(ledger, crop)}: ${counted(sheets.length, 'order')} by ${counted(tasters, 'taster')} at ${counted(sittings, 'sitting')}${ties}`;
  });
  return shownNote('evidence', `${sentence(crops.join('; '))}.`);
}

/** Chance below which agreement is called more than luck. */
const LUCK = 0.05;
/** Common practice, no source: W from here on is called good agreement. */
const STRONG = 0.7;
/** More sittings than this are told as a range. */
const MOST_TOLD = 5;

/** How far tasters agreed where three or more ordered the same plates. */
export function agreementNote(ledger: Ledger, sheets: readonly OrderSheet[]): Note | undefined {
  const all = tasterAgreement(sheets);
  if (all.length === 0) return undefined;
  if (all.length <= MOST_TOLD) {
    return note(
      'evidence',
      `${all.map((one) => agreementWords(ledger, one)).join(' ')} W: 0 no agreement, 1 full.`,
    );
  }
  const rising = all.toSorted((a, b) => a.w - b.w);
  const [least, most] = [rising[0]?.w ?? 0, rising.at(-1)?.w ?? 0];
  const sure = all.filter(({ chance }) => chance < LUCK).length;
  const luck = all.length - sure;
  return shownNote(
    'evidence',
    `At ${all.length} sittings three or more tasters ordered the same plates. Their agreement ran from ${least.toFixed(2)} to ${most.toFixed(2)} (Kendall's W: 0 none, 1 full), least on ${dayAndYear(rising[0]?.tasting.on ?? '')}; at ${sure} it was more than luck would bring${luck === 0 ? '' : `, at ${luck} too few plates or tasters to say so`}.`,
    `Tasters agreed by more than luck at ${sure} of ${all.length} sittings; at the others too few took part to say.`,
  );
}

function agreementWords(
  ledger: Ledger,
  { tasting, crop, tasters, samples, w, chance }: TasterAgreement,
): string {
  const how =
    chance < LUCK
      ? w >= STRONG
        ? 'agreed well'
        : 'agreed in part'
      : w >= STRONG
        ? 'agreed, but are too few to be sure of it'
        : 'did not clearly agree';
  return `On ${dayAndYear(tasting.on)} (${cropPhrase(ledger, crop)}) ${tasters} tasters of ${samples} plates ${how} (W ${w.toFixed(2)}, ${chanceWords(chance)}).`;
}

/** Which cultivars must not be compared, as no orders join them both ways. */
export function preferenceGroupNotes(
  ledger: Ledger,
  all: readonly Preferences[],
  prior: number,
): Note[] {
  return all
    .filter(({ groups }) => groups.length > 1)
    .map(({ crop, cultivars, groups }) => {
      const words = groups.map((members, place) => {
        const names = members.flatMap((at) => {
          const cultivar = cultivars[at];
          return cultivar === undefined ? [] : [cultivarName(ledger, cultivar)];
        });
        return `group ${place + 1}: ${listed(names, 12)}`;
      });
      const why =
        prior > 0
          ? 'no orders join these groups'
          : 'without a prior, how far these groups lie apart cannot be said: no chain of wins leads back from one to the other';
      return shownNote(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: ${why}, so they must not be compared: ${words.join('; ')}.`,
        `${sentence(cropPhrase(ledger, crop))}: groups that no orders join must not be compared.`,
      );
    });
}

/** Where the orders do not settle on worths, or leave one without an interval. */
export function unsettledNote(
  ledger: Ledger,
  all: readonly Preferences[],
  prior: number,
): Note | undefined {
  const loose = all
    .filter(({ errors, groups }) =>
      groups.some((group) => group.length > 1 && group.every((at) => errors[at] === undefined)),
    )
    .map(({ crop }) => cropPhrase(ledger, crop));
  if (loose.length > 0) {
    const remedy = prior > 0 ? '' : '; leave out --prior 0';
    return shownNote(
      'evidence',
      `${sentence(listed(loose))}: the orders are too few or too much of one mind to settle how sure the worths are, so some intervals are blank${remedy}.`,
    );
  }
  const isBlank = all.some(({ errors, groups }) =>
    groups.some((group) => group.length > 1 && group.some((at) => errors[at] === undefined)),
  );
  return isBlank
    ? note('evidence', 'A blank interval: no single number tells how sure that worth is.')
    : undefined;
}
