import type { Verdict } from '../../judge/verdict/verdict.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { VERDICT_WORDS } from '../names.ts';
import { counted, yearsInWords } from '../words.ts';
import { type ArticleMaterial, bestOf } from './article.ts';

/** What lists of posts and share previews show: what is worth planting, and on what that rests. */
export function descriptionOf(material: ArticleMaterial): string {
  const { ledger, request, seasons } = material;
  if (seasons.length === 0) return 'Nothing to report yet.';
  const trees = new Set(selectRecords(ledger, request.selection).map(({ tree }) => tree));
  const cultivars = new Set([...trees].map(({ cultivar }) => cultivar));
  const { name, climate } = ledger.trial.place;
  const where = [name, climate].filter((part) => part !== undefined).join(', ');
  const what = `${counted(cultivars.size, 'cultivar')} compared on ${counted(trees.size, 'tree')}`;
  const best = named(material, 'increase') || named(material, 'retain');
  return `${best}${what}, ${yearsInWords(seasons)}${where === '' ? '' : ` (${where})`}.`;
}

/** "Good here: Ferry Bell for the breba crop in the open. "; empty where there is none. */
function named({ ledger, places }: ArticleMaterial, verdict: Verdict): string {
  const words = bestOf(ledger, places, verdict);
  return words === '' ? '' : `${VERDICT_WORDS[verdict]}: ${words}. `;
}
