import type { SeededRandom } from '../../src/stats/random/seeded-random.ts';

/** A made-up cultivar with what is true of it. */
export interface MadeCultivar {
  readonly lines: string;
  /** Mean fruit weight in g. */
  readonly weight: number;
  /** Chance that a fruit is spoiled by any one of the defects. */
  readonly spoils: number;
  /** Days by which it is late. */
  readonly late: number;
  /** On the tasting scale. */
  readonly worth: number;
}

export interface MadeTree {
  readonly id: string;
  readonly lines: string;
  readonly cultivar: MadeCultivar;
  /** In its first season. */
  readonly branches: number;
  /** Standard normal: how far the tree is from its like. */
  readonly quirk: number;
}

const FIRST = 'Amber Slate Harrow Nightjar Saltmarsh Ferry Gannet Kelp Lantern Rope'.split(' ');
const SECOND = 'Quay Candle Thumb Silk Bell Anchor Wicket Drift Hatch Tiller'.split(' ');

export function madeCultivars(count: number, random: SeededRandom): readonly MadeCultivar[] {
  return Array.from({ length: count }, (_, at) => {
    const round = Math.floor(at / 100);
    const again = round === 0 ? '' : ` ${SECOND[round % 10]}`;
    const name = `${FIRST[at % 10]} ${SECOND[Math.floor(at / 10) % 10]}${again}`;
    return {
      lines: `${name.toLowerCase().replaceAll(' ', '-')}: { name: ${name}, bears: common }\n`,
      weight: 50 * Math.exp(0.3 * random.normal()),
      spoils: 0.02 + 0.08 * random.uniform(),
      late: random.integer(20),
      worth: 6 + 0.9 * random.normal(),
    };
  });
}

/** Trees of the cultivars in turn, over three sites. */
export function madeTrees(
  count: number,
  cultivars: readonly MadeCultivar[],
  random: SeededRandom,
): readonly MadeTree[] {
  const trees: MadeTree[] = [];
  for (let at = 0; at < count; at++) {
    const cultivar = cultivars[at % cultivars.length];
    if (cultivar === undefined) break;
    const key = cultivar.lines.slice(0, cultivar.lines.indexOf(':'));
    const site = ['glass', 'yard', 'plot'][random.integer(3)];
    const stands = random.uniform() < 0.5 ? 'ground' : '"35 L"';
    const id = `T${at + 1}`;
    trees.push({
      id,
      lines: `${id}: { cultivar: ${key}, planted: ${2009 + random.integer(5)}, site: ${site}, container: ${stands} }\n`,
      cultivar,
      branches: 6 + random.integer(10),
      quirk: random.normal(),
    });
  }
  return trees;
}
