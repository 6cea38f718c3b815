/** The two limits of an interval, in the unit of what it is an interval for. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}
