/**
 * A small invented ledger of two cultivars over two seasons, as texts of files: one tree that is
 * there in both, one that goes, one that comes, one that is moved.
 */
export const WALL_AND_GLASS: Readonly<Record<string, string>> = {
  'ledger.yaml': `title: Tidewrack Lane fig trial
place: { name: Tidewrack Lane, latitude: 52.1 }
fruit: fig
pollinator: absent
crops: { early: breba, main: main }
scale: { low: 1, high: 10 }
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: Joss }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
rank:
  weights: { flavour: 2, productivity: 1 }
  bands: { productivity: [[0, 1], [4, 10]] }
`,
  'cultivars.yaml': `amber-lantern: { name: Amber Lantern, bears: common, also: [Lantern Yellow], protected: true }
slate-quay:
  name: Slate Quay
  bears: san-pedro
  perhaps: { same_as: amber-lantern, why: same leaf }
  note: Came as a stick.
`,
  'trees.yaml': `A1: { cultivar: amber-lantern, received_as: "Lantern, yellow", from: swap table, site: yard, container: ground }
A2: { cultivar: amber-lantern, site: glass, removed: 2025-11-30 }
S1: { cultivar: slate-quay, site: glass, container: "20 L", planted: 2021-04 }
S2: { cultivar: slate-quay, site: yard }
`,
  'seasons/2025.yaml': `season: 2025
counts:
  - { on: 2025-08-20, tree: A1, crop: main, fruit: 16, branches: 8 }
  - { on: 2025-08-20, tree: A2, crop: main, fruit: 30, branches: 6 }
  - { on: 2025-08-20, tree: S1, crop: main, fruit: 12, branches: 8 }
picks:
  - { on: 2025-09-01, tree: A1, crop: main, weights: [40, 50, 60, 50], split: 1, note: wet week }
  - { on: 2025-09-03, tree: S1, crop: main, weights: [30, 30] }
tastings:
  - on: 2025-09-03
    note: All four of us.
    samples:
      - { tree: A1, crop: main, brix: 18 }
      - { tree: S1, crop: main, ripeness: over, note: gone at the neck }
    scores:
      mara: { A1: { sweetness: 7, flavour: 8 }, S1: { sweetness: 2, flavour: 3 } }
      joss: { A1: { sweetness: 6, flavour: 9 } }
    order: { mara: [A1, S1] }
`,
  'seasons/2026.yaml': `season: 2026
counts:
  - { on: 2026-08-20, tree: A1, crop: main, fruit: 24, branches: 8 }
  - { on: 2026-08-20, tree: S1, crop: main, fruit: 12, branches: 8 }
  - { on: 2026-08-20, tree: S2, crop: main, fruit: 8, branches: 4 }
picks:
  - { on: 2026-09-01, tree: A1, crop: main, weights: [60, 62] }
  - { on: 2026-09-03, tree: S1, crop: main, weights: [33] }
tastings:
  - on: 2026-09-05
    samples:
      - { tree: A1, crop: main }
      - { tree: S1, crop: main, note: honey }
    scores:
      mara: { A1: { sweetness: 5, flavour: 4 }, S1: { sweetness: 8, flavour: 9 } }
events:
  - { on: 2026-05-10, tree: S1, kind: move, site: yard }
  - { on: 2026-03-10, tree: S1, kind: repot, container: "30 L" }
`,
};

/** The files with one text of one of them put in place of another, which must be there. */
export function altered(
  files: Readonly<Record<string, string>>,
  path: string,
  before: string,
  after: string,
): Readonly<Record<string, string>> {
  const text = files[path];
  if (text === undefined || !text.includes(before)) throw new Error(`${path} has no ${before}`);
  return { ...files, [path]: text.replace(before, after) };
}
