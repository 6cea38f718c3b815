import { groupBy } from '../../measure/group-by.ts';
import type { Cultivar } from '../../model/collection.ts';
import { COVER_WORDS, type Ledger } from '../../model/ledger.ts';
import { cropPhrase } from '../crop-words.ts';
import type { Fact, Section } from '../document.ts';
import { cultivarName, markedName, VERDICT_WORDS } from '../names.ts';
import { listed, sentence } from '../words.ts';
import type { ArticleMaterial } from './article.ts';
import type { ArticlePlace } from './article-places.ts';

/** Every cultivar of the article with what is said of it, as the way to its card. */
export function cardsSection({ ledger, places }: ArticleMaterial): Section {
  const facts = [...ledger.cultivars.values()].flatMap((cultivar): Fact[] => {
    const words = verdictsOf(ledger, places, cultivar);
    if (words === '') return [];
    const label = markedName(ledger, cultivarName(ledger, cultivar));
    return [{ label, text: words, cultivar: cultivar.key }];
  });
  return { key: 'cards', heading: 'Each cultivar by itself', blocks: [{ kind: 'facts', facts }] };
}

/** "Good here for the breba crop in the open; otherwise still being watched." */
function verdictsOf(ledger: Ledger, places: readonly ArticlePlace[], cultivar: Cultivar): string {
  const own = places.flatMap(({ crop, cover, judged }) =>
    judged
      .filter((one) => one.cultivar === cultivar)
      .map(({ verdict }) => ({ verdict, crop, cover })),
  );
  const words = [...groupBy(own, ({ verdict }) => verdict)].map(([verdict, all]) => {
    const crops = [...groupBy(all, ({ crop }) => crop)].map(([crop, those]) => {
      const covers = those.flatMap(({ cover }) =>
        cover === undefined ? [] : [COVER_WORDS[cover]],
      );
      return [`the ${cropPhrase(ledger, crop)}`, listed(covers)].filter((part) => part).join(' ');
    });
    return { verdict, named: VERDICT_WORDS[verdict].toLowerCase(), where: crops.join(' and ') };
  });
  const [only, another] = words;
  if (only === undefined) return '';
  if (another === undefined) {
    return `${sentence(own.length === 1 ? `${only.named} for ${only.where}` : only.named)}.`;
  }
  // What is only watched is told last, and of that there is most.
  const told = words.filter(({ verdict }) => verdict !== 'watch');
  const rest = told.length < words.length ? [`otherwise ${VERDICT_WORDS.watch.toLowerCase()}`] : [];
  return `${sentence([...told.map(({ named, where }) => `${named} for ${where}`), ...rest].join('; '))}.`;
}
