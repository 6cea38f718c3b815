import { describe, expect, it } from 'vitest';
import { PLANS, type PlanName, type Remedies } from '../../judge/verdict/remedies.ts';
import { planWords, settleWords } from './settle-words.ts';

const NONE = { above: 0, below: 0 };

function remediesOf(chances: Partial<Record<PlanName, { above: number; below: number }>>) {
  const all = Object.entries(PLANS).map(([name, plan]) => [
    name,
    { ...plan, ...(chances[name as PlanName] ?? NONE) },
  ]);
  return Object.fromEntries(all) as Remedies;
}

describe('settleWords', () => {
  it('says the chance of two more seasons in tenths, with the likelier side', () => {
    expect(settleWords(remediesOf({ settled2Seasons: { above: 0.18, below: 0.03 } }))).toBe(
      '2 more seasons (2 in 10, above)',
    );
  });

  it('adds what is likelier, the least trouble of it', () => {
    const remedies = remediesOf({
      settled2Seasons: { above: 0.02, below: 0.16 },
      settled4Seasons: { above: 0.03, below: 0.28 },
      settled2SeasonsAnotherTree: { above: 0.02, below: 0.29 },
    });
    expect(settleWords(remedies)).toBe('2 more seasons (2 in 10, below); 4 more seasons (3 in 10)');
  });

  it('says the seasons once', () => {
    const remedies = remediesOf({
      settled2Seasons: { above: 0.3, below: 0 },
      settled2SeasonsAnotherTree: { above: 0.5, below: 0 },
    });
    expect(settleWords(remedies)).toBe(
      '2 more seasons (3 in 10, above); with another tree (5 in 10)',
    );
  });

  it('promises nothing below 1 in 20, and never all of ten', () => {
    expect(settleWords(remediesOf({ settled4Seasons: { above: 0.02, below: 0.02 } }))).toBe(
      'not by more of the same: it lies at the mark',
    );
    expect(settleWords(remediesOf({ settled6Tastings: { above: 0.99, below: 0 } }))).toBe(
      '6 more tastings (9 in 10, above)',
    );
  });
});

describe('planWords', () => {
  it('names every plan in its own way', () => {
    const all = Object.values(PLANS).map(planWords);
    expect(new Set(all).size).toBe(all.length);
    expect(all).toContain('another tree');
    expect(all).toContain('1 more season');
    expect(all).toContain('2 more seasons with 3 more tastings each');
  });
});
