import type { Comparison, NoInterval, Pair } from '../../judge/compare/compare-cultivars.ts';
import { gatherTrial } from '../../judge/index/gather-trial.ts';
import { siteGroups } from '../../judge/index/rank.ts';
import { type TastedSelection, tastedScores } from '../../judge/scores/tasted-scores.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { cultivarName, siteName } from '../names.ts';
import { percent, type ReportRequest } from '../report-request.ts';
import type { Note } from '../table.ts';
import { listed, sentence, yearsInWords } from '../words.ts';

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
    open.length === 0 ? '' : `Too close to tell in ${listed(open.map(noun), 3)}.`,
    unknown === 0
      ? ''
      : unknown === parts.length
        ? 'Nothing is recorded for both.'
        : `Nothing can be said of ${unknown} of ${parts.length} parts.`,
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

export function compareMethodNotes({ confidence, explain = false }: ReportRequest): Note[] {
  const rows = Math.round(1 / (1 - confidence));
  const short = [
    'Difference: the first less the second. Ahead: the higher, for ripening the earlier; nobody where the interval holds 0.',
    'Ripening: day by which half the fruit was picked, over the seasons in which both were. Preference: share of orders that place the one before the other, ties aside.',
    'All other rows: figures of a grown tree, all sites alike, in the seasons seen, by the model behind rank. Tasters, evenings, years and single trees are allowed for and thin evidence is drawn towards the middle, so they are not the plain figures of yield, weights, soundness and scores.',
    `Each row is judged by itself: of ${rows} intervals about one leaves out the truth.`,
  ];
  const long = [
    `Traits, measured parts and the index: mean of the draws of a joint model of all weighted parts (rank --explain tells it), and the interval that leaves out equally many draws at either end, ${percent(confidence)} % between. What carries no weight is drawn by a model of its own. A tree of a known age counts by what it will be: branches in part, taste less what young trees lack; one without planted in trees.yaml counts as grown.`,
    'Figures are expected ones over new trees and swings, in their own unit, whatever the bands; at a site where a cultivar never stood its liking for the site is drawn anew.',
    'Ripening: paired t interval over seasons. Preference: Plackett-Luce with a prior of half a win and half a loss each, interval from the difference of log worths.',
  ];
  return [
    ...[...short, ...(explain ? long : [])].map((text) => note('method', text)),
    note(
      'caution',
      "Ripening and tasters' orders speak of the seasons and plates seen, not of other trees or years.",
    ),
  ];
}

/** Sites and seasons in which the two differ, so that a difference may come from there. */
export function unlikePlaceNotes(
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
  if (here !== there) {
    const groups = siteGroups(gatherTrial(ledger, { ...selection, cultivars: [] }, crop));
    const isJoined = groups.some((group) =>
      [...a.sites, ...b.sites].every((site) => group.includes(site)),
    );
    const apart = a.sites.some((site) => b.sites.includes(site))
      ? 'not the same sites'
      : 'the two never stood at the same site';
    const told = isJoined
      ? 'the model takes off what other cultivars show of the sites, and leaves room for how each might like the others'
      : "no cultivar joins these sites, so cultivars are taken to be alike on average at either, and a difference may be the site's";
    notes.push(
      shownNote(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: ${apart} (${a.name}: ${here}; ${b.name}: ${there}). In ripening and tasters' orders a difference may be the site's; in the other rows ${told}.`,
        isJoined
          ? "Not all at the same sites, which ripening and tasters' orders do not allow for."
          : "No cultivar joins their sites: a difference may be the site's.",
      ),
    );
  }
  if (a.seasons !== b.seasons) {
    notes.push(
      note(
        'caution',
        `${sentence(cropPhrase(ledger, crop))}: not the same seasons (${a.name}: ${a.seasons}; ${b.name}: ${b.seasons}); the model takes off what a year did to all, not what it did to one.`,
      ),
    );
  }
  return notes;
}

/** Rows in which another seed of the simulation might put someone ahead, or nobody. */
export function edgeNote(crop: Crop, parts: readonly Comparison[]): Note | undefined {
  const near = parts.filter(({ onEdge }) => onEdge);
  return near.length === 0
    ? undefined
    : note(
        'evidence',
        `On the edge of being told apart in the ${crop} crop: ${listed(near.map(noun), 12)}.`,
      );
}
