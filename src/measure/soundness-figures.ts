import { DEFECTS, type Defects, NO_DEFECTS } from '../model/entries.ts';
import { wilsonInterval } from '../stats/intervals/proportion-intervals.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { CropRecord } from './crop-record.ts';
import { total } from './total.ts';

/** How much of the fruit that was picked had nothing wrong. */
export interface SoundnessFigures {
  /** Fruit picked. */
  readonly fruit: number;
  readonly sound: number;
  readonly share: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly defects: Defects;
  /** Fruit lost before picking, which the share leaves out. */
  readonly dropped: number;
}

/**
 * Share of picked fruit without a defect, with Wilson's score interval (Wilson 1927, Journal of the
 * American Statistical Association 22:209-212). A fruit counts once, under its worst defect.
 *
 * @param confidence a fraction, such as 0.95
 */
export function soundnessFigures(
  records: readonly CropRecord[],
  confidence: number,
): SoundnessFigures {
  const fruit = total(records, (record) => record.picked);
  const defects = { ...NO_DEFECTS };
  for (const one of DEFECTS) defects[one] = total(records, (record) => record.defects[one]);
  const sound = fruit - sum(Object.values(defects));
  const interval = wilsonInterval(sound, fruit, confidence);
  return {
    fruit,
    sound,
    share: fruit > 0 ? sound / fruit : undefined,
    low: interval?.low,
    high: interval?.high,
    defects,
    dropped: total(records, (record) => record.dropped),
  };
}
