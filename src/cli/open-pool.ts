import { didYouMean } from '../diagnostics/did-you-mean.ts';
import {
  type PoolGarden,
  plainName,
  type SameCultivars,
  sameCultivars,
} from '../judge/pool/same-cultivars.ts';
import { compareText } from '../model/canonical-order.ts';
import type { Cover, Ledger } from '../model/ledger.ts';
import type { PoolMaterial, PoolReportRequest } from '../report/pool/pool-request.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { UsageError } from './exit.ts';
import type { Host } from './host.ts';
import { gardenNames, type OpenedGardens, openGardens } from './open-gardens.ts';
import type { GlobalOptions } from './open-ledger.ts';

/** What is asked of several gardens, beside what is asked of one. */
export interface PoolWords {
  readonly season: readonly (readonly number[])[];
  readonly cultivar: readonly string[];
  readonly seed?: number;
  readonly climate?: string;
  readonly cover?: readonly Cover[];
  readonly parts?: readonly string[];
}

export interface OpenedPool {
  readonly material: PoolMaterial;
  readonly asked: PoolReportRequest;
}

/** Opens the gardens that were named and holds what is asked against all of them. */
export async function openPool(
  host: Host,
  home: Ledger,
  folders: readonly string[],
  request: ReportRequest,
  options: PoolWords & GlobalOptions,
): Promise<OpenedPool> {
  return askedPool(home, await openGardens(host, options, home, folders), request, options);
}

/** The same of gardens that are open already. */
export function askedPool(
  home: Ledger,
  opened: OpenedGardens,
  request: ReportRequest,
  { climate, cultivar, cover = [], parts = [], seed, ...options }: PoolWords,
): OpenedPool {
  const seasons = options.season.flat();
  const material = poolMaterial(home, opened, { seasons, climate, covers: cover, parts });
  const keptTo: PoolReportRequest['keptTo'] = [
    ['season', seasons],
    ['cultivar', cultivar],
    ['climate', climate ?? []],
    ['cover', cover],
    ['parts', parts],
  ];
  return {
    material,
    asked: {
      ...request,
      seed,
      rows: pooledRows(material.same, cultivar),
      keptTo: keptTo.filter(([, value]) => value.length > 0),
    },
  };
}

/** What of the gardens is looked at. */
interface PoolScope {
  readonly seasons: readonly number[];
  readonly climate: string | undefined;
  readonly covers: readonly Cover[];
  /** Weighted parts that count; all if empty. */
  readonly parts: readonly string[];
}

/**
 * The gardens with what of them counts, home first and the others in an order of their own, so that the order in which
 * they were named changes nothing. Throws a `UsageError` for what none of them has.
 */
function poolMaterial(
  home: Ledger,
  { others, leftOut }: OpenedGardens,
  scope: PoolScope,
): PoolMaterial {
  requireSeasons([home, ...others.map(({ ledger }) => ledger)], scope.seasons);
  const sorted = others.toSorted(
    (a, b) =>
      compareText(a.ledger.trial.title, b.ledger.trial.title) || compareText(a.folder, b.folder),
  );
  const all = [{ folder: '', ledger: withParts(home, scope.parts) }, ...sorted];
  const names = gardenNames(
    all.map(({ ledger }) => ledger),
    all.map(({ folder }) => folder || '.'),
  );
  const looked = all.map(({ folder, ledger }, at) => {
    const garden = gardenOf(names[at] ?? folder, ledger, scope);
    return { at, name: names[at] ?? folder, garden };
  });
  const [own] = looked;
  const isHomeIn = typeof own?.garden !== 'string';
  const kept = looked.flatMap(({ at, name, garden }): PoolGarden[] => {
    if (typeof garden !== 'string') return [garden];
    return at === 0 ? [{ name, ledger: all[0]?.ledger ?? home, selection: {} }] : [];
  });
  const notOfTheKind = looked.flatMap(({ name, garden }) =>
    typeof garden === 'string' ? [{ name, why: garden }] : [],
  );
  if (kept.length - (isHomeIn ? 0 : 1) < 2) {
    const why = [
      ...leftOut.map(({ folder, why }) => `${folder}: ${why}`),
      ...notOfTheKind.map(({ name, why }) => `${name}: ${why}`),
    ];
    throw new UsageError(
      `a pool takes two gardens at least${why.length === 0 ? '; name the folders of other ledgers' : ` (${why.join('; ')})`}`,
    );
  }
  return {
    gardens: kept,
    same: sameCultivars(kept),
    isHomeIn,
    leftOut: [...leftOut.map(({ folder, why }) => ({ name: folder, why })), ...notOfTheKind],
    twins: twinsOf(kept),
  };
}

/** The garden with its selection, or why it takes no part. */
function gardenOf(
  name: string,
  ledger: Ledger,
  { seasons, climate, covers }: PoolScope,
): PoolGarden | string {
  const { place, sites } = ledger.trial;
  if (climate !== undefined && !plainName(place.climate ?? '').includes(plainName(climate))) {
    return place.climate === undefined
      ? 'its ledger names no climate'
      : `its climate is ${place.climate}`;
  }
  const keys = [...sites.values()]
    .filter(({ cover }) => covers.includes(cover))
    .map(({ key }) => key);
  if (covers.length > 0 && keys.length === 0) return `nothing stands there ${covers.join(' or ')}`;
  const years = ledger.seasons.map(({ year }) => year).filter((year) => seasons.includes(year));
  if (seasons.length > 0 && years.length === 0) return 'it has no entries of those seasons';
  return { name, ledger, selection: { seasons: years, sites: covers.length > 0 ? keys : [] } };
}

function requireSeasons(ledgers: readonly Ledger[], seasons: readonly number[]): void {
  const years = new Set(ledgers.flatMap((ledger) => ledger.seasons.map(({ year }) => year)));
  if (seasons.length === 0 || seasons.some((year) => years.has(year))) return;
  const has = years.size === 0 ? 'no seasons yet' : [...years].toSorted((a, b) => a - b).join(', ');
  throw new UsageError(`no entries for --season ${seasons.join(', ')}; the gardens have ${has}`);
}

function withParts(home: Ledger, parts: readonly string[]): Ledger {
  if (parts.length === 0) return home;
  const { trial } = home;
  const unknown = parts.find((part) => !((trial.rank.weights.get(part) ?? 0) > 0));
  if (unknown !== undefined) {
    const weighed = [...trial.rank.weights].flatMap(([part, weight]) => (weight > 0 ? [part] : []));
    const nearest = didYouMean(unknown, weighed);
    throw new UsageError(
      `--parts ${unknown}: rank.weights in ledger.yaml gives it no weight${nearest === undefined ? '' : `; did you mean ${nearest}?`}`,
    );
  }
  const weights = new Map([...trial.rank.weights].filter(([part]) => parts.includes(part)));
  return { ...home, trial: { ...trial, rank: { ...trial.rank, weights } } };
}

function twinsOf(gardens: readonly PoolGarden[]): (readonly [string, string])[] {
  const title = ({ ledger }: PoolGarden) => plainName(ledger.trial.title);
  return gardens.flatMap((one, at) =>
    gardens
      .slice(at + 1)
      .filter((other) => title(one) === title(other))
      .map((other) => [one.name, other.name] as const),
  );
}

/** Places of the pooled cultivars that words ask for; throws a `UsageError` for one that no garden has. */
function pooledRows(
  { cultivars }: SameCultivars,
  words: readonly string[],
): ReadonlySet<number> | undefined {
  if (words.length === 0) return undefined;
  const namesOf = cultivars.map(({ members }) =>
    members.flatMap(({ cultivar }) => [cultivar.key, cultivar.name, ...cultivar.also]),
  );
  return new Set(
    words.flatMap((word) => {
      const found = namesOf.flatMap((names, at) =>
        names.some((name) => plainName(name) === plainName(word)) ? [at] : [],
      );
      if (found.length > 0) return found;
      const nearest = didYouMean(word, namesOf.flat());
      throw new UsageError(
        `--cultivar ${word}: no garden has such a cultivar${nearest === undefined ? '' : `; did you mean ${nearest}?`}`,
      );
    }),
  );
}
