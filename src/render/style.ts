import { Chalk } from 'chalk';
import type { Look } from './look.ts';

export type Tone = (text: string) => string;

/** The few tones of all output; with level 0 each gives its text back unchanged. */
export interface Style {
  readonly strong: Tone;
  readonly quiet: Tone;
  readonly caution: Tone;
  readonly error: Tone;
  readonly warning: Tone;
  readonly hint: Tone;
}

export function styleFor(colorLevel: Look['colorLevel']): Style {
  const chalk = new Chalk({ level: colorLevel });
  return {
    strong: (text) => chalk.bold(text),
    quiet: (text) => chalk.dim(text),
    caution: (text) => chalk.yellow(text),
    error: (text) => chalk.red.bold(text),
    warning: (text) => chalk.yellow.bold(text),
    hint: (text) => chalk.cyan.bold(text),
  };
}
