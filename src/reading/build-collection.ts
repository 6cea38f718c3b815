import { cultivarUnknown, siteUnknown } from '../diagnostics/words/naming.ts';
import type { RawCultivar } from '../entries/cultivar.ts';
import type { RawTree } from '../entries/tree.ts';
import { byKey } from '../model/canonical-order.ts';
import type { Cultivar, Tree } from '../model/collection.ts';
import type { Site } from '../model/ledger.ts';
import { type SourceFile, type Spot, spotIn, spotOf } from '../source/source-file.ts';
import { type Building, containerAt, lookUp, partialDateAt } from './building.ts';
import { frozenMap } from './frozen.ts';

export interface ListedThings<Thing> {
  readonly listed: ReadonlyMap<string, Thing>;
  /** Names that stand in the file, but whose records cannot be used. */
  readonly faulty: ReadonlySet<string>;
}

export interface ListedTrees extends ListedThings<Tree> {
  /** As the file lists them. */
  readonly walk: readonly Tree[];
}

export function buildCultivars(
  raw: Readonly<Record<string, RawCultivar>>,
  bad: ReadonlySet<string>,
  file: SourceFile,
): ListedThings<Cultivar> {
  const listed = new Map<string, Cultivar>();
  for (const [key, record] of Object.entries(raw)) {
    if (bad.has(key)) continue;
    const cultivar: Cultivar = Object.freeze({
      at: spot(file, key),
      key,
      name: record.name,
      bears: record.bears,
      also: Object.freeze(record.also ?? []),
      perhaps:
        record.perhaps === undefined
          ? undefined
          : Object.freeze({ sameAs: String(record.perhaps.same_as), why: record.perhaps.why }),
      protected: record.protected,
      note: record.note ?? undefined,
    });
    listed.set(key, cultivar);
  }
  return { listed: frozenMap(byKey(listed)), faulty: bad };
}

/** Complains of doubts that name a cultivar which is not listed. */
export function checkDoubts(cultivars: ListedThings<Cultivar>, building: Building): void {
  for (const { at, perhaps } of cultivars.listed.values()) {
    if (perhaps === undefined) continue;
    const where = spotIn(at, 'perhaps', 'same_as');
    lookUp(building, cultivarUnknown, perhaps.sameAs, cultivars.listed, cultivars.faulty, where);
  }
}

export function buildTrees(
  raw: Readonly<Record<string, RawTree>>,
  bad: ReadonlySet<string>,
  file: SourceFile,
  cultivars: ListedThings<Cultivar>,
  sites: ListedThings<Site>,
  building: Building,
): ListedTrees {
  const listed = new Map<string, Tree>();
  const faulty = new Set(bad);
  for (const [id, record] of Object.entries(raw)) {
    if (bad.has(id)) continue;
    const at = spot(file, id);
    const cultivar = lookUp(
      building,
      cultivarUnknown,
      record.cultivar,
      cultivars.listed,
      cultivars.faulty,
      at,
      'cultivar',
    );
    lookUp(building, siteUnknown, record.site, sites.listed, sites.faulty, at, 'site');
    const date = (key: 'received' | 'planted' | 'removed') =>
      partialDateAt(building, record[key], at, key);
    const tree = {
      at,
      id,
      receivedAs: record.received_as,
      from: record.from,
      received: date('received'),
      planted: date('planted'),
      site: String(record.site),
      container: containerAt(building, record.container, at, 'container'),
      rootstock: record.rootstock,
      removed: date('removed'),
      note: record.note ?? undefined,
    };
    if (cultivar === undefined) faulty.add(id);
    else listed.set(id, Object.freeze({ ...tree, cultivar }));
  }
  return { listed: frozenMap(byKey(listed)), faulty, walk: Object.freeze([...listed.values()]) };
}

function spot(file: SourceFile, key: string): Spot {
  return spotIn(spotOf(file), key);
}
