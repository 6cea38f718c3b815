import { RANK_SEED } from '../../judge/index/simulation.ts';
import { type CropPool, type Pooled, poolCrops } from '../../judge/pool/pool-crops.ts';
import type { Verdict } from '../../judge/verdict/verdict.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Ledger, VerdictSettings } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { type Block, type Document, type Fact, paragraph, type Section } from '../document.ts';
import { indexInWords } from '../index-words.ts';
import { decimalText, inTenths, numberWord } from '../number-words.ts';
import { verdictBlocks } from '../post/article.ts';
import { ELSEWHERE, harms } from '../post/post-cautions.ts';
import type { PostRequest } from '../post/post-request.ts';
import type { Prose } from '../prose.ts';
import type { Note } from '../table.ts';
import { counted, listed, sentence } from '../words.ts';
import { poolFigureOf } from './pool-figure.ts';
import { agreementNotes, leftOutNotes, questionsNote, sameNote } from './pool-notes.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';
import { manyGardens } from './pool-title.ts';

/** An article on several gardens: what to plant in gardens like these, by the four words of the verdict. */
export function poolPost(
  material: PoolMaterial,
  asked: PoolReportRequest,
  { title, date, tags }: PostRequest,
): Document {
  const [home] = material.gardens;
  if (home === undefined) throw new RangeError('a pool needs a garden');
  const { same, gardens, isHomeIn } = material;
  const all = poolCrops(
    gardens,
    same,
    {
      crops: asked.selection.crops,
      confidence: asked.confidence,
      top: 1,
      seed: asked.seed ?? RANK_SEED,
    },
    isHomeIn,
  );
  const pools = all.map((pool) => ({
    ...pool,
    ranked: pool.ranked.filter(
      ({ cultivar }) => asked.rows?.has(same.cultivars.indexOf(cultivar)) ?? true,
    ),
  }));
  const article: PoolArticle = { material, asked, home: home.ledger, pools };
  const pooled = pooledGardens(article);
  return {
    report: 'post',
    title: title ?? `What to plant in gardens like ours: ${manyGardens(pooled.length)} as one`,
    ledgerTitle: home.ledger.trial.title,
    selection: { pool: pooled, ...Object.fromEntries(asked.keptTo) },
    published: {
      description: descriptionOf(article),
      date,
      tags,
      front: home.ledger.trial.front,
    },
    sections: [
      leadSection(article),
      ...pools.map((pool) => cropSection(article, pool)),
      restsOnSection(article),
      cautionsSection(article),
      ...licenceSections(article),
    ].filter(({ blocks }) => blocks.length > 0),
    notes: [],
  };
}

interface PoolArticle {
  readonly material: PoolMaterial;
  readonly asked: PoolReportRequest;
  readonly home: Ledger;
  readonly pools: readonly CropPool[];
}

function pooledGardens({ material, pools }: PoolArticle): readonly string[] {
  const pooled = new Set(pools.flatMap((pool) => pool.gardens));
  return material.gardens.filter((_, at) => pooled.has(at)).map(({ name }) => name);
}

function leadSection(article: PoolArticle): Section {
  const { material, pools, home } = article;
  const names = new Set(pooledGardens(article));
  if (names.size === 0) {
    const why = leftOutNotes(material, pools).flatMap((one) => one?.text ?? []);
    return {
      key: 'lead',
      heading: '',
      blocks: [paragraph(['Nothing can be told of these gardens together.', ...why].join(' '))],
    };
  }
  const cultivars = new Set(pools.flatMap(({ ranked }) => ranked.map((one) => one.cultivar)));
  const places = material.gardens
    .filter(({ name }) => names.has(name))
    .map(({ name, ledger }) => {
      const { climate } = ledger.trial.place;
      return climate === undefined ? name : `${name} (${climate})`;
    });
  const agree = agreementNotes(pools).map(({ text }) => text);
  return {
    key: 'lead',
    heading: '',
    blocks: [
      paragraph(
        `${sentence(numberWord(cultivars.size))} ${home.trial.fruit} cultivars in ${manyGardens(names.size)}: ${listed(places)}. Each garden has its own soil, weather and tasters; this is what they say together of gardens like them.`,
      ),
      paragraph(agree.join(' ')),
    ],
  };
}

function cropSection(article: PoolArticle, pool: CropPool): Section {
  const { home, material, asked } = article;
  const judged = pool.ranked.map((one) => ({ ...one, ...poolVerdict(one, home.trial.verdict) }));
  const figure = poolFigureOf(material, { ...asked, rows: undefined }, [pool]);
  const [best] = judged.toSorted((a, b) => b.newTopShare - a.newTopShare);
  return {
    key: pool.crop,
    heading: cropHeading(home, pool.crop),
    blocks: [
      ...verdictBlocks(judged, toldOf),
      ...(best === undefined || judged.length < 2
        ? []
        : [
            paragraph(
              `Truly the best in a garden like these: ${best.cultivar.name}, ${inTenths(best.newTopShare)}.`,
            ),
          ]),
      ...(figure === undefined ? [] : [{ kind: 'figure', figure } as const]),
    ],
  };
}

type Judged = Pooled & PoolVerdict;

function toldOf(own: readonly Judged[], verdict: Verdict): readonly Block[] {
  if (verdict !== 'watch') return [{ kind: 'facts', facts: own.map(factOf) }];
  const groups = [...groupBy(own, ({ waits }) => waits)].map(
    ([waits, those]) => `${listed(those.map(({ cultivar }) => cultivar.name))} (${waits})`,
  );
  return [paragraph(`${groups.join('; ')}.`)];
}

function factOf({ cultivar, index, newLow, newHigh, here, at }: Judged): Fact {
  const one = (value: number) => decimalText(value, 1);
  const home = here === undefined ? '' : `, ${one(here.index)} here`;
  return {
    label: cultivar.name,
    text: `${one(index)} over ${manyGardens(at.length)}${home}; expect ${one(newLow)} to ${one(newHigh)} in another.`,
  };
}

function restsOnSection({ home, material, pools }: PoolArticle): Section {
  const ranked = pools.flatMap((pool) => pool.ranked);
  const total = (of: 'trees' | 'tastings') =>
    Math.max(0, ...pools.map((pool) => pool.ranked.reduce((sum, one) => sum + one[of], 0)));
  if (ranked.length === 0) return { key: 'restsOn', heading: 'What this rests on', blocks: [] };
  const { increaseAbove, discardBelow } = home.trial.verdict;
  const said = [sameNote(material), questionsNote(material.same, pools)].flatMap(
    (one: Note | undefined) => one?.text ?? [],
  );
  return {
    key: 'restsOn',
    heading: 'What this rests on',
    blocks: [
      paragraph(
        `${counted(total('trees'), 'tree')} and ${counted(total('tastings'), 'tasting of a cultivar', 'tastings of cultivars')} in the larger crop. ${indexInWords(home)}, by the weights and bands of ${material.gardens[0]?.name}. Worth planting: surely above ${increaseAbove} in a garden like these; good here: surely above ${discardBelow}; not here: surely below. One garden alone proves nothing for another, so what only one judged is watched.`,
      ),
      ...said.map((text) => paragraph(text)),
    ],
  };
}

function cautionsSection({ home, material, pools }: PoolArticle): Section {
  const ranked = new Set(pools.flatMap((pool) => pool.ranked.map(({ cultivar }) => cultivar)));
  const guarded = [...ranked]
    .filter(({ members }) => members.some(({ cultivar }) => cultivar.protected === true))
    .map(({ name }) => name);
  const left = leftOutNotes(material, pools).flatMap((one) => one?.text ?? []);
  const lines = [
    ELSEWHERE,
    'Seasons are taken as if no two gardens shared their weather; a district with one odd year may mislead.',
    ...left,
    ...harms(home, guarded),
  ];
  return {
    key: 'cautions',
    heading: 'Before you act on this',
    blocks: [{ kind: 'list', lines: lines.map((text): Prose => [text]) }],
  };
}

/** Entries belong to those who wrote them. */
function licenceSections(article: PoolArticle): readonly Section[] {
  const pooled = new Set(pooledGardens(article));
  const gardens = article.material.gardens.filter(({ name }) => pooled.has(name));
  const [licence, ...others] = new Set(gardens.map(({ ledger }) => ledger.trial.licence));
  if (gardens.length === 0) return [];
  const said =
    licence !== undefined && others.length === 0
      ? `What was seen and measured in all ${manyGardens(gardens.length)} is under ${licence}.`
      : `What was seen and measured is under these: ${gardens
          .map(({ name, ledger }) => `${name}: ${ledger.trial.licence ?? 'none named'}`)
          .join('; ')}.`;
  return [{ key: 'licence', heading: 'Licences', blocks: [paragraph(said)] }];
}

function descriptionOf(article: PoolArticle): string {
  const { home, pools } = article;
  const named = pools.flatMap((pool) => {
    const good = pool.ranked.filter((one) =>
      ['increase', 'retain'].includes(poolVerdict(one, home.trial.verdict).verdict),
    );
    const names = listed(good.slice(0, 2).map(({ cultivar }) => cultivar.name));
    return names === '' ? [] : [`${cropHeading(home, pool.crop)}: ${names}.`];
  });
  const gardens = `${sentence(manyGardens(pooledGardens(article).length))} as one.`;
  return [...named, gardens].join(' ');
}

/** What to plant in a garden like these, and in a few words what it waits for where that is open. */
interface PoolVerdict {
  readonly verdict: Verdict;
  readonly waits: string;
}

/**
 * By home's own marks, seasons and tastings, held against what a garden that is not among them can expect: a neighbour
 * plants there, and not in the middle. What only one garden judged is watched, whatever it says.
 */
export function poolVerdict(
  { newLow, newHigh, at, seasons, tastings }: Pooled,
  { minSeasons, minTastings, increaseAbove, discardBelow }: VerdictSettings,
): PoolVerdict {
  if (at.length < 2) return { verdict: 'watch', waits: 'judged in one garden' };
  if (seasons < minSeasons) return { verdict: 'watch', waits: 'too few seasons' };
  if (tastings < minTastings) return { verdict: 'watch', waits: 'too few tastings' };
  if (newLow > increaseAbove) return { verdict: 'increase', waits: '' };
  if (newLow > discardBelow) return { verdict: 'retain', waits: '' };
  if (newHigh < discardBelow) return { verdict: 'discard', waits: '' };
  return { verdict: 'watch', waits: 'may go either way' };
}
