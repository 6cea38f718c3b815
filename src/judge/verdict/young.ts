import type { Evidence } from '../index/evidence.ts';

/** Years up to which a tree tells little of what it will be; common practice, no source. */
export const YOUNG = 3;

/** Whether no tree of a cultivar was old enough to tell. */
export function isYoung({ oldest, trees }: Pick<Evidence, 'oldest' | 'trees'>): boolean {
  return trees > 0 && oldest !== undefined && oldest <= YOUNG;
}
