import { type IsoDate, parseIsoDate } from '../../src/model/dates.ts';
import type { Ledger } from '../../src/model/ledger.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';

const LEDGER = `title: Tidewrack Lane fig trial
fruit: fig
units: metric
pollinator: absent
crops: { early: breba, main: main }
traits: [sweetness, flavour, texture]
tasters: { mara: Mara, joss: Joss }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`;
const CULTIVARS = `amber: { name: Amber Lantern, bears: common }
yarrow: { name: Yarrow Bell, bears: common }
petrel: { name: Petrel, bears: san-pedro }
`;
const TREES = `G3: { cultivar: amber, site: glass }
G4: { cultivar: amber, site: glass }
Y1: { cultivar: yarrow, site: yard }
P2: { cultivar: petrel, site: yard }
P4: { cultivar: petrel, site: yard }
`;
const SEASON = `season: 2026
counts:
  - { on: 2026-07-02, tree: G3, crop: early, fruit: 21, branches: 8 }
picks:
  - { on: 2026-07-24, tree: G3, crop: early, weights: [50, 60], split: 1 }
tastings:
  - on: 2026-07-20
    samples:
      - { tree: G3, crop: breba, as: "417" }
      - { tree: Y1, crop: early }
`;

/** A small ledger read from its text, as the shorthand meets it. */
export function entryLedger(changes: Readonly<Record<string, string>> = {}): Ledger {
  const texts = {
    'ledger.yaml': LEDGER,
    'cultivars.yaml': CULTIVARS,
    'trees.yaml': TREES,
    'seasons/2026.yaml': SEASON,
    ...changes,
  };
  const encoder = new TextEncoder();
  const raw = Object.entries(texts).map(([path, text]) => {
    const bytes = encoder.encode(text);
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(raw);
  if (ledger === undefined || diagnostics.length > 0) {
    throw new Error(diagnostics.map(({ message }) => message).join('; '));
  }
  return ledger;
}

export function day(text: string): IsoDate {
  const date = parseIsoDate(text);
  if (date === undefined) throw new Error(`${text} is no date`);
  return date;
}
