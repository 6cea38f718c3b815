import type { Comparison, NoInterval, Pair } from '../judge/compare-cultivars.ts';
import { type TastedSelection, tastedScores } from '../judge/tasted-scores.ts';
import { selectRecords } from '../measure/crop-record.ts';
import { groupBy } from '../measure/group-by.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { note, shown } from './common-notes.ts';
import { cropPhrase } from './crop-words.ts';
import { cultivarName, siteName } from './names.ts';
import { percent, type ReportRequest } from './report-request.ts';
import type { Note } from './table.ts';
import { listed, sentence, yearsInWords } from './words.ts';

type Measured = Exclude<Comparison['part']['kind'], 'trait'>;

const AHEAD: Readonly<Record<Measured, string>> = {
  productivity: 'bears more fruit a branch',
  size: 'has the larger fruit',
  soundness: 'has more sound fruit',
  ripening: 'ripens earlier',
  preference: 'is placed first more often',
  index: 'has the higher index',
};

const NOUNS: Readonly<Record<Measured, string>> = {
  productivity: 'fruit per branch',
  size: 'fruit weight',
  soundness: 'share of sound fruit',
  ripening: 'ripening',
  preference: "tasters' orders",
  index: 'the index',
};

const REASONS: Readonly<Record<NoInterval, string>> = {
  'no figures': 'not recorded for both',
  'not ranked': 'a weighted part is missing',
  'never joined': 'never tasted together, not even by way of others',
  'few scores': 'too few scores to tell how far tasters scatter',
  'one tree': 'one tree alone says nothing of how trees differ',
  'one season': 'picked in one season together',
  'no scatter': 'no scatter to judge by, which is chance rather than precision',
};

/** What the table says, in sentences: who is ahead in what, what is open, and what cannot be told. */
export function comparedWords(
  [a, b]: readonly [string, string],
  crop: string | undefined,
  parts: readonly Comparison[],
): string {
  const open = parts.filter(({ why, ahead }) => why === undefined && ahead === undefined);
  const unknown = groupBy(
    parts.flatMap((one) => (one.why === undefined ? [] : [{ one, why: one.why }])),
    ({ why }) => why,
  );
  const ahead = (side: 'a' | 'b', name: string) => {
    const words = aheadWords(parts.filter((one) => one.ahead === side));
    return words === '' ? '' : `${name} ${words}.`;
  };
  const sentences = [
    ahead('a', a),
    ahead('b', b),
    open.length === 0 ? '' : `They cannot be told apart in ${listed(open.map(noun), 12)}.`,
    ...[...unknown].map(
      ([why, own]) =>
        `No verdict on ${listed(
          own.map(({ one }) => noun(one)),
          12,
        )}: ${REASONS[why]}.`,
    ),
  ].filter((text) => text !== '');
  return `${crop === undefined ? '' : `${sentence(crop)}: `}${sentences.join(' ')}`;
}

/** Who is ahead in what, and in how many parts nobody is, in a line or two. */
export function aheadInWords(
  [a, b]: readonly [string, string],
  crop: string | undefined,
  parts: readonly Comparison[],
): string {
  const ahead = (side: 'a' | 'b', name: string) => {
    const own = parts.filter((one) => one.ahead === side).map(noun);
    return own.length === 0 ? '' : `${name} is ahead in ${listed(own, 12)}.`;
  };
  const open = parts.filter(({ why, ahead: side }) => why === undefined && side === undefined);
  const unknown = parts.filter(({ why }) => why !== undefined).length;
  const words = [
    ahead('a', a),
    ahead('b', b),
    open.length === 0 ? '' : `Not to be told apart in ${listed(open.map(noun), 3)}.`,
    unknown === 0
      ? ''
      : unknown === parts.length
        ? 'Nothing recorded for both.'
        : `${unknown} of ${parts.length} parts without a verdict.`,
  ].filter((text) => text !== '');
  return `${crop === undefined ? '' : `${sentence(crop)}: `}${words.join(' ')}`;
}

/** "scores higher for A and B, and ripens earlier". */
function aheadWords(parts: readonly Comparison[]): string {
  const traits = parts.flatMap(({ part }) => (part.kind === 'trait' ? [part.trait] : []));
  const others = parts.flatMap(({ part }) => (part.kind === 'trait' ? [] : [AHEAD[part.kind]]));
  if (traits.length === 0) return listed(others, 12);
  const all = [`scores higher for ${listed(traits, 12)}`, ...others];
  const last = all.at(-1) ?? '';
  return all.length === 1 ? last : `${all.slice(0, -1).join(', ')}, and ${last}`;
}

function noun({ part }: Comparison): string {
  return part.kind === 'trait' ? part.trait : NOUNS[part.kind];
}

export function compareMethodNotes({ confidence }: ReportRequest, explain: boolean): Note[] {
  const rows = Math.round(1 / (1 - confidence));
  const short = [
    'Difference: the first less the second. Ahead: the higher, for ripening the earlier; nobody where the interval holds 0.',
    'Ripening: day by which half the fruit was picked, over the seasons in which both were. Preference: share of orders that place the one before the other, ties aside.',
    `Each row is judged by itself: of ${rows} rows between two that are alike, about one comes out apart by luck.`,
  ];
  const long = [
    `Traits: least-squares means of score = cultivar + taster + sitting, t interval of ${percent(confidence)} % on the residual degrees of freedom; all cultivars tasted have their say on tasters and sittings.`,
    'Productivity and size: ratios of totals with the tree as the unit (Cochran 1977, Sampling Techniques, sec. 6.3); their difference after Welch 1947 and Satterthwaite 1946. One tree has no interval.',
    'Soundness: interval for two independent shares by Newcombe 1998, method 10. Ripening: paired t interval over seasons. Preference: Plackett-Luce with a prior of half a win and half a loss each, interval from the difference of log worths.',
  ];
  return [
    ...[...short, ...(explain ? long : [])].map((text) => note('method', text)),
    note(
      'caution',
      'Intervals of tasted parts and of soundness speak of the plates and fruit seen, not of other trees or years.',
    ),
  ];
}

/** Sites and seasons in which the two differ, so that a difference may come from there. */
export function placeNotes(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  pair: Pair,
): Note[] {
  const [a, b] = pair.map((cultivar) => {
    const asked = { ...selection, crops: [crop], cultivars: [cultivar.key] };
    const records = selectRecords(ledger, asked);
    const scores = tastedScores(ledger, asked);
    const sites = new Set([...records, ...scores].map(({ site }) => site));
    const seasons = [
      ...records.map(({ season }) => season),
      ...scores.map(({ tasting }) => tasting.season),
    ];
    return {
      name: cultivarName(ledger, cultivar),
      sites: [...ledger.trial.sites.keys()].filter((key) => sites.has(key)),
      seasons: yearsInWords(seasons),
    };
  });
  if (a === undefined || b === undefined) return [];
  const [here, there] = [a, b].map(({ sites }) =>
    listed(sites.map((key) => siteName(ledger, key))),
  );
  const notes: Note[] = [];
  if (!a.sites.some((site) => b.sites.includes(site))) {
    notes.push(
      shown(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: the two never stood at the same site (${a.name}: ${here}; ${b.name}: ${there}), so any difference may be the site's.`,
        `The two never stood at the same site: any difference may be the site's.`,
      ),
    );
  } else if (here !== there) {
    notes.push(
      shown(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: not the same sites (${a.name}: ${here}; ${b.name}: ${there}), so a difference may in part be the site's; --site narrows it.`,
        'Not quite the same sites: --site compares them at one.',
      ),
    );
  }
  if (a.seasons !== b.seasons) {
    notes.push(
      note(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: not the same seasons (${a.name}: ${a.seasons}; ${b.name}: ${b.seasons}), so a difference may be the year's.`,
      ),
    );
  }
  return notes;
}
