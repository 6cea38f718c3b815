import type { Crop } from '../../src/model/ledger.ts';
import type { Files } from './check-files.ts';

/** One score: several of a taster for a cultivar at a sitting are several plates. */
export interface ScoreRow {
  readonly taster: string;
  readonly sitting: string;
  readonly cultivar: string;
  readonly value: number;
  readonly trait?: string;
  readonly crop?: Crop;
}

/** One best-first order; cultivars in the same inner list are tied. */
export interface OrderRow {
  readonly taster: string;
  readonly sitting: string;
  readonly ranks: readonly (readonly string[])[];
}

/** What a taster said of a sitting, cultivar by cultivar, as the files of a ledger (in JSON, which is YAML). */
export function tastingFiles(
  scores: readonly ScoreRow[],
  orders: readonly OrderRow[] = [],
  scale = { low: 1, high: 10 },
): Files {
  const rows = [...scores, ...orders];
  const cultivars = unique([
    ...scores.map(({ cultivar }) => cultivar),
    ...orders.flatMap(({ ranks }) => ranks.flat()),
  ]);
  const traits = unique(scores.map(({ trait = 'flavour' }) => trait));
  const ledger = {
    title: 'Tidewrack Lane fig trial',
    fruit: 'fig',
    scale,
    traits: traits.length === 0 ? ['flavour'] : traits,
    tasters: keyed(unique(rows.map(({ taster }) => taster)), (name) => name),
    sites: { yard: { name: 'south wall', cover: 'open' } },
  };
  const tastings = unique(rows.map(({ sitting }) => sitting)).map((sitting, day) => ({
    on: `2026-${String(6 + Math.floor(day / 28)).padStart(2, '0')}-${String(1 + (day % 28)).padStart(2, '0')}`,
    ...sittingFields(
      scores.filter((row) => row.sitting === sitting),
      orders.filter((row) => row.sitting === sitting),
    ),
  }));
  return {
    'ledger.yaml': JSON.stringify(ledger),
    'cultivars.yaml': JSON.stringify(keyed(cultivars, (name) => ({ name, bears: 'common' }))),
    'trees.yaml': JSON.stringify(
      Object.fromEntries(cultivars.map((key) => [`T${key}`, { cultivar: key, site: 'yard' }])),
    ),
    'seasons/2026.yaml': JSON.stringify({ season: 2026, tastings }),
  };
}

function sittingFields(scores: readonly ScoreRow[], orders: readonly OrderRow[]) {
  const plates = new Map<string, object>();
  const sheets: Record<string, Record<string, Record<string, number>>> = {};
  const plate = (cultivar: string, crop: Crop, turn: number) => {
    const label = `${cultivar}-${crop}-${turn}`;
    plates.set(label, { tree: `T${cultivar}`, crop, as: label });
    return label;
  };
  for (const { taster, cultivar, value, trait = 'flavour', crop = 'main' } of scores) {
    const sheet = sheets[taster] ?? {};
    sheets[taster] = sheet;
    let turn = 1;
    while (sheet[`${cultivar}-${crop}-${turn}`]?.[trait] !== undefined) turn++;
    const label = plate(cultivar, crop, turn);
    sheet[label] = { ...sheet[label], [trait]: value };
  }
  const order = Object.fromEntries(
    orders.map(({ taster, ranks }) => [
      taster,
      ranks.map((rank) => {
        const labels = rank.map((cultivar) => plate(cultivar, 'main', 1));
        return labels.length === 1 ? labels[0] : labels;
      }),
    ]),
  );
  return { samples: [...plates.values()], scores: sheets, order };
}

function unique(values: readonly string[]): string[] {
  return [...new Set(values)];
}

function keyed<T>(keys: readonly string[], of: (key: string) => T): Record<string, T> {
  return Object.fromEntries(keys.map((key) => [key, of(key)]));
}
