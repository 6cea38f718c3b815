import { mean } from '../../src/stats/describe/mean.ts';
import { sampleSd } from '../../src/stats/describe/sample-sd.ts';

/** Mean and standard deviation of the draws of each item, NaN for one without draws. */
export function drawMoments(items: readonly (Float64Array | undefined)[]): {
  readonly mean: readonly number[];
  readonly sd: readonly number[];
} {
  return {
    mean: items.map((draws) => (draws && mean(draws)) ?? Number.NaN),
    sd: items.map((draws) => (draws && sampleSd([...draws])) ?? Number.NaN),
  };
}
