/** How a file looks from outside. */
export interface Glimpse {
  /** bytes */
  readonly size: number;
  /** Changes whenever the file is written or replaced. */
  readonly stamp: string;
  /** Since it was last written, ms; negative where clocks differ. */
  readonly age: number;
}

export interface QuietTimes {
  /** How long nobody may have written to a file that is taken to be whole, ms. */
  readonly quiet: number;
  /** The same of a file without a byte, which is what most programs begin a save with, ms. */
  readonly empty: number;
  /** How long to wait for that, ms. */
  readonly patience: number;
  /** Pause between two looks, ms. */
  readonly pause: number;
}

export const USUAL_QUIET: QuietTimes = { quiet: 2000, empty: 5000, patience: 20_000, pause: 50 };

/**
 * Waits while another program may be in the middle of saving a file: emptying it, pausing, writing
 * it piece by piece. Gives the look at which it was at rest, as a file that is not there is, or
 * `restless`. Whatever is read afterwards is whole only if the file still looks the same.
 *
 * @param isWhole whether what the file holds is known to be a whole text, so that nothing is waited for
 */
export async function untilQuiet(
  look: () => Promise<Glimpse | undefined>,
  isWhole: () => Promise<boolean>,
  times: QuietTimes = USUAL_QUIET,
): Promise<Glimpse | undefined | 'restless'> {
  const until = Date.now() + times.patience;
  let seen: Glimpse | undefined;
  let since = Date.now();
  for (;;) {
    const now = await look();
    if (now === undefined) return undefined;
    if (now.stamp !== seen?.stamp) since = Date.now();
    seen = now;
    // Where the clock of the disk is not ours, what we have watched ourselves counts.
    const still = Math.max(now.age, Date.now() - since);
    if (still >= (now.size === 0 ? times.empty : times.quiet)) return now;
    if (await isWhole()) return now;
    if (Date.now() > until) return 'restless';
    await new Promise((resolve) => {
      setTimeout(resolve, times.pause);
    });
  }
}
