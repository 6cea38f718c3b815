/**
 * Chance for trials that owe the program nothing: a generator of its own, and shapes that no model of the program
 * assumes. Every shape has mean 0 and standard deviation 1.
 */
export interface Chance {
  /** Evenly from 0 to 1, neither of them. */
  uniform(): number;
  /** A whole number from 0 up to, not including, the given one. */
  below(count: number): number;
  shape(of: Shape): number;
  poisson(mean: number): number;
  shuffled<Item>(items: readonly Item[]): Item[];
}

/**
 * even: flat between two ends. peaked: Laplace. leaning: gamma of shape 3, a long upper tail. bell: logistic, a bell
 * with heavier tails than the normal. wild: Student's t on 3 degrees of freedom.
 */
export type Shape = 'even' | 'peaked' | 'leaning' | 'bell' | 'wild';

/** The small fast counting generator sfc32 (Doty-Humphrey, PractRand), seeded by a number. */
export function chance(seed: number): Chance {
  let [a, b, c, count] = [seed | 0, (seed / 2 ** 32) | 0, 0x9e3779b9 | 0, 1];
  const next = (): number => {
    const sum = (((a + b) | 0) + count) | 0;
    count = (count + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return sum >>> 0;
  };
  for (let warm = 0; warm < 16; warm++) next();
  const uniform = () => (next() + 0.5) / 2 ** 32;
  const exponential = () => -Math.log(uniform());
  const shapes: Readonly<Record<Shape, () => number>> = {
    even: () => Math.sqrt(12) * (uniform() - 0.5),
    peaked: () => (exponential() - exponential()) / Math.SQRT2,
    leaning: () => (exponential() + exponential() + exponential() - 3) / Math.sqrt(3),
    bell: () => {
      const share = uniform();
      return (Math.log(share / (1 - share)) * Math.sqrt(3)) / Math.PI;
    },
    // Bailey (1994, Mathematics of Computation 62:779-781): polar form of Student's t; its variance on 3 is 3.
    wild: () => {
      const radius = Math.sqrt(3 * (uniform() ** (-2 / 3) - 1));
      return (radius * Math.cos(2 * Math.PI * uniform())) / Math.sqrt(3);
    },
  };
  return {
    uniform,
    below: (limit) => Math.floor(uniform() * limit),
    shape: (of) => shapes[of](),
    poisson: (mean) => {
      let events = -1;
      for (let time = 0; time <= mean; time += exponential()) events++;
      return events;
    },
    shuffled: (items) => {
      const order = [...items];
      for (let at = order.length - 1; at > 0; at--) {
        const other = Math.floor(uniform() * (at + 1));
        [order[at], order[other]] = [
          order[other] as (typeof order)[0],
          order[at] as (typeof order)[0],
        ];
      }
      return order;
    },
  };
}
