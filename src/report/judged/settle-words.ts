import {
  type MoreEvidence,
  PLANS,
  type PlanName,
  type Remedies,
} from '../../judge/verdict/remedies.ts';
import type { SettleChance } from '../../judge/verdict/settle-chance.ts';
import { counted } from '../words.ts';

export const PLAN_NAMES = Object.keys(PLANS) as PlanName[];

/** A chance below this is none to plan for. */
const HARDLY = 1 / 20;

export function chanceOf({ above, below }: SettleChance): number {
  return above + below;
}

export function likelierSide({ above, below }: SettleChance): 'above' | 'below' {
  return above >= below ? 'above' : 'below';
}

/** "2 more seasons with another tree", "3 more tastings". */
export function planWords(plan: MoreEvidence): string {
  const more = plan.seasons > 0 ? counted(plan.seasons, 'more season') : '';
  return [more, extraWords(plan)].filter((part) => part !== '').join(' with ');
}

function extraWords({ seasons, trees, tastings }: MoreEvidence): string {
  if (trees > 0) return 'another tree';
  if (tastings === 0) return '';
  return `${counted(tastings, 'more tasting')}${seasons > 0 ? ' each' : ''}`;
}

/**
 * How likely two more seasons are to settle a verdict, and what is likelier by a tenth or more, the least trouble
 * first; or that nothing of the kind will. Words for a narrow column.
 */
export function settleWords(remedies: Remedies): string {
  const likely = PLAN_NAMES.filter((name) => chanceOf(remedies[name]) >= HARDLY);
  if (likely.length === 0) return 'not by more of the same: it lies at the mark';
  const tenths = (name: PlanName) => inTenths(chanceOf(remedies[name]));
  const best = likely.reduce((one, other) => (tenths(other) > tenths(one) ? other : one));
  const first = likely.includes('settled2Seasons') ? 'settled2Seasons' : best;
  const says = `${planWords(remedies[first])} (${tenths(first)} in 10, ${likelierSide(remedies[first])})`;
  if (tenths(best) <= tenths(first)) return says;
  const [own, other] = [remedies[first], remedies[best]];
  const also = other.seasons === own.seasons ? `with ${extraWords(other)}` : planWords(other);
  return `${says}; ${also} (${tenths(best)} in 10)`;
}

/** Never all of ten: that would be a promise. */
function inTenths(chance: number): number {
  return Math.min(9, Math.round(10 * chance));
}
