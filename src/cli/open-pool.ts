import type { Cover, Ledger } from '../model/ledger.ts';
import type { PoolMaterial, PoolRequest } from '../report/pool/pool-request.ts';
import type { ReportRequest } from '../report/report-request.ts';
import type { Host } from './host.ts';
import { type OpenedGardens, openGardens } from './open-gardens.ts';
import type { GlobalOptions } from './open-ledger.ts';
import { pooledRows, poolMaterial } from './pool-material.ts';

/** What is asked of several gardens, beside what is asked of one. */
export interface PoolWords {
  readonly season: readonly (readonly number[])[];
  readonly cultivar: readonly string[];
  readonly seed?: number;
  readonly climate?: string;
  readonly cover?: readonly Cover[];
  readonly parts?: readonly string[];
}

export interface AskedPool {
  readonly material: PoolMaterial;
  readonly asked: PoolRequest;
}

/** Opens the gardens that were named and holds what is asked against all of them. */
export async function openPool(
  host: Host,
  home: Ledger,
  folders: readonly string[],
  request: ReportRequest,
  options: PoolWords & GlobalOptions,
): Promise<AskedPool> {
  return askedPool(home, await openGardens(host, options, home, folders), request, options);
}

/** The same of gardens that are open already. */
export function askedPool(
  home: Ledger,
  opened: OpenedGardens,
  request: ReportRequest,
  { climate, cultivar, cover = [], parts = [], seed, ...options }: PoolWords,
): AskedPool {
  const seasons = options.season.flat();
  const material = poolMaterial(home, opened, { seasons, climate, covers: cover, parts });
  const keptTo: PoolRequest['keptTo'] = [
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
