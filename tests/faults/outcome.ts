import type { Scene } from './scene.ts';

/** How hard to try. */
export interface Effort {
  readonly writers: number;
  readonly entriesEach: number;
  /** Writes during which processes are killed. */
  readonly killedWrites: number;
  /** Slow saves of each kind. */
  readonly saves: number;
}

export const FULL: Effort = { writers: 8, entriesEach: 50, killedWrites: 500, saves: 25 };
export const LIGHT: Effort = { writers: 3, entriesEach: 8, killedWrites: 30, saves: 2 };

/** What one fault did. `skipped` says why it could not be tried here. */
export interface Outcome {
  readonly fault: string;
  readonly counts: Readonly<Record<string, number>>;
  readonly problems: readonly string[];
  readonly skipped?: string;
}

/** Does harm, and says what became of the entries. */
export type Fault = (scene: Scene, effort: Effort) => Promise<Outcome>;
