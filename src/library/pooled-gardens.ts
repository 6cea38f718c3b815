import { gardensApart } from '../cli/open-gardens.ts';
import { askedPool } from '../cli/open-pool.ts';
import type { Ledger } from '../model/ledger.ts';
import type { AskedPool } from './asked.ts';
import { checkWords, requestFor, several, yearsOf } from './request-for.ts';

/** Home and the other gardens, with what is asked of them. */
export function pooledGardens(home: Ledger, others: readonly Ledger[], asked: AskedPool) {
  checkWords(asked);
  const { season, cultivar, climate, cover, parts, seed, ...ofHome } = asked;
  const opened = gardensApart(
    home,
    others.map((garden) => ({ folder: garden.trial.title, garden })),
  );
  return askedPool(home, opened, requestFor(home, ofHome), {
    season: several(season).map(yearsOf),
    cultivar: several(cultivar),
    cover: several(cover),
    parts: several(parts),
    ...(climate === undefined ? {} : { climate }),
    ...(seed === undefined ? {} : { seed }),
  });
}
