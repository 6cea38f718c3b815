import type { Ledger } from '../../src/model/ledger.ts';
import { ledgerFrom } from './ledger-from.ts';

/** One cultivar of a made-up trial, the same in every season but for what is given here. */
export interface MadeCultivar {
  readonly key: string;
  readonly trees?: number;
  /** Scores by taster at each sitting: `scores[season][taster]`; absent where not tasted. */
  readonly scores: readonly (readonly (number | undefined)[])[];
  /** Fruit on ten branches; 20 if left out. */
  readonly fruit?: number;
  /** Weight of every fruit, g; 50 if left out. */
  readonly weight?: number;
  readonly site?: 'glass' | 'yard';
  /** Year that its trees were planted in; not written down if left out. */
  readonly planted?: number;
  /** Day that its trees were taken out; they stand if left out. */
  readonly removed?: string;
}

const TASTERS = ['ada', 'bo', 'cy', 'di'];

/** Files of a trial with one sitting a season, in 2024 and after. */
export function madeTrialFiles(cultivars: readonly MadeCultivar[]): Record<string, string> {
  const seasons = Math.max(...cultivars.map(({ scores }) => scores.length));
  const files: Record<string, string> = {
    'ledger.yaml': `title: Made trial
fruit: fig
traits: [flavour]
tasters: { ${TASTERS.map((key) => `${key}: ${key}`).join(', ')} }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: yard, cover: open } }
rank:
  weights: { flavour: 3, productivity: 1, size: 1, soundness: 1 }
  bands: { productivity: [[0, 1], [4, 10]], size: [[20, 1], [80, 10]], soundness: [[0.5, 1], [1, 10]] }
`,
    'cultivars.yaml': cultivars
      .map(({ key }) => `${key}: { name: ${key}, bears: common }\n`)
      .join(''),
    'trees.yaml': cultivars
      .flatMap((one) =>
        trees(one).map(
          (id) =>
            `${id}: { cultivar: ${one.key}, site: ${one.site ?? 'yard'}${one.planted === undefined ? '' : `, planted: ${one.planted}`}${one.removed === undefined ? '' : `, removed: ${one.removed}`} }\n`,
        ),
      )
      .join(''),
  };
  for (let season = 0; season < seasons; season++) {
    files[`seasons/${2024 + season}.yaml`] = seasonText(cultivars, season);
  }
  return files;
}

export function madeTrial(cultivars: readonly MadeCultivar[]): Ledger {
  return ledgerFrom(madeTrialFiles(cultivars));
}

function trees({ key, trees: count = 1 }: MadeCultivar): readonly string[] {
  return Array.from({ length: count }, (_, at) => `${key}-${at + 1}`);
}

function seasonText(cultivars: readonly MadeCultivar[], season: number): string {
  const year = 2024 + season;
  const lines = [`season: ${year}`, 'counts:'];
  for (const one of cultivars) {
    for (const tree of trees(one)) {
      lines.push(
        `  - { on: ${year}-08-01, tree: ${tree}, crop: main, fruit: ${one.fruit ?? 20}, branches: 10 }`,
      );
    }
  }
  lines.push('picks:');
  for (const one of cultivars) {
    for (const tree of trees(one)) {
      const weights = Array.from({ length: 10 }, (_, at) => (one.weight ?? 50) + (at % 3) - 1);
      lines.push(
        `  - { on: ${year}-09-01, tree: ${tree}, crop: main, weights: [${weights.join(', ')}], split: 1 }`,
      );
    }
  }
  const tasted = cultivars.filter(({ scores }) =>
    scores[season]?.some((score) => score !== undefined),
  );
  if (tasted.length === 0) return `${lines.join('\n')}\n`;
  lines.push('tastings:', `  - on: ${year}-09-01`, '    samples:');
  for (const { key } of tasted)
    lines.push(`      - { tree: ${key}-1, crop: main, ripeness: ripe }`);
  lines.push('    scores:');
  for (const [taster, name] of TASTERS.entries()) {
    const sheet = tasted.flatMap(({ key, scores }) => {
      const score = scores[season]?.[taster];
      return score === undefined ? [] : [`${key}-1: { flavour: ${score} }`];
    });
    if (sheet.length > 0) lines.push(`      ${name}: { ${sheet.join(', ')} }`);
  }
  return `${lines.join('\n')}\n`;
}
