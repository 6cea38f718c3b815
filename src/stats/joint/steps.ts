/** Share of proposals that should be taken, where each is of one unknown (Gelman, Roberts and Gilks 1996). */
const TAKEN = 0.44;
const LONGEST = 2;
const SHORTEST = 0.01;

/** Lengths of the steps of some walks, tuned while a chain warms up. */
export class Steps {
  readonly #length: Float64Array;
  readonly #told: Int32Array;
  #tuning = true;

  constructor(walks: number, first: number) {
    this.#length = new Float64Array(walks).fill(first);
    this.#told = new Int32Array(walks);
  }

  at(walk: number): number {
    return this.#length[walk] as number;
  }

  /** Whether the proposal of a walk was taken. */
  tell(walk: number, taken: boolean): void {
    if (!this.#tuning) return;
    const told = (this.#told[walk] as number) + 1;
    this.#told[walk] = told;
    const longer =
      (this.#length[walk] as number) * Math.exp(((taken ? 1 : 0) - TAKEN) / Math.sqrt(told));
    this.#length[walk] = Math.min(LONGEST, Math.max(SHORTEST, longer));
  }

  freeze(): void {
    this.#tuning = false;
  }
}
