import { decimalText } from './decimal-text.ts';

/** "p 0.21", "p 0.034", "p below 0.001". */
export function chanceWords(p: number): string {
  return p < 0.001 ? 'p below 0.001' : `p ${decimalText(p, p < 0.1 ? 3 : 2)}`;
}
