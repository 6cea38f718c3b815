import type { PoolGarden, SameCultivars } from '../../judge/pool/same-cultivars.ts';
import type { ReportRequest } from '../report-request.ts';

/** Several gardens, and what is asked of them. */
export interface PoolMaterial {
  /** The first is home. */
  readonly gardens: readonly PoolGarden[];
  readonly same: SameCultivars;
  /** Whether home is one of those that are judged, and not only where they are judged for. */
  readonly isHomeIn: boolean;
  /** Gardens that were named and take no part, and why. */
  readonly leftOut: readonly { readonly name: string; readonly why: string }[];
  /** Pairs that may be one garden twice. */
  readonly twins: readonly (readonly [string, string])[];
}

export interface PoolReportRequest extends ReportRequest {
  /** Of the simulated draws; the same seed gives the same table. */
  readonly seed?: number | undefined;
  /** Places of the pooled cultivars that are asked for; all if left out. */
  readonly rows?: ReadonlySet<number> | undefined;
  /** What gardens were kept to, in words. */
  readonly keptTo: readonly (readonly [
    option: string,
    value: string | readonly (string | number)[],
  ])[];
}
