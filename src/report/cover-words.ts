import type { Cover } from '../model/ledger.ts';

/** What is overhead, as people say it. */
export const COVER_WORDS: Readonly<Record<Cover, string>> = {
  open: 'in the open',
  tunnel: 'in a tunnel',
  glass: 'under glass',
  indoors: 'indoors',
};
