import type { Files } from './check-files.ts';

/** An invented trial of six figs, tasted twice by two people; Wherry was never tasted. */
export const TASTING_FILES: Files = {
  'ledger.yaml': `title: Tidewrack Lane fig trial
fruit: fig
crops: { early: breba, main: main }
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: Joss, odo: Odo }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
rank: { weights: { flavour: 3, sweetness: 1 } }
`,
  'cultivars.yaml': `amber-lantern: { name: Amber Lantern, bears: common }
slate-quay: { name: Slate Quay, bears: common }
nightjar-silk: { name: Nightjar Silk, bears: common }
bushel-maid: { name: Bushel Maid, bears: common }
gulls-supper: { name: Gull's Supper, bears: common }
penny-wherry: { name: Penny Wherry, bears: common }
`,
  'trees.yaml': `A1: { cultivar: amber-lantern, site: yard }
S1: { cultivar: slate-quay, site: yard }
N1: { cultivar: nightjar-silk, site: glass }
B1: { cultivar: bushel-maid, site: yard }
G1: { cultivar: gulls-supper, site: yard }
"7": { cultivar: penny-wherry, site: yard }
`,
  'seasons/2026.yaml': `season: 2026
counts:
  - { on: 2026-08-01, tree: A1, crop: main, fruit: 20, branches: 8 }
picks:
  - { on: 2026-08-18, tree: A1, crop: main, fruit: 4 }
  - { on: 2026-08-18, tree: S1, crop: main, fruit: 4 }
  - { on: 2026-08-18, tree: N1, crop: main, fruit: 4 }
  - { on: 2026-08-18, tree: B1, crop: main, fruit: 4 }
  - { on: 2026-08-18, tree: G1, crop: main, fruit: 4 }
  - { on: 2026-08-18, tree: "7", crop: main, fruit: 4 }
tastings:
  - on: 2026-08-10
    samples:
      - { tree: A1, crop: main, as: "431", ripeness: ripe }
      - { tree: S1, crop: main, as: "268", ripeness: ripe }
      - { tree: N1, crop: main, as: "915", ripeness: ripe }
      - { tree: B1, crop: main, as: "704", ripeness: ripe }
      - { tree: G1, crop: main, as: "357", ripeness: ripe }
    scores:
      mara:
        "431": { sweetness: 7, flavour: 7 }
        "268": { sweetness: 8.5, flavour: 8.5 }
        "915": { sweetness: 8, flavour: 9 }
        "704": { sweetness: 3, flavour: 3 }
        "357": { sweetness: 4, flavour: 3 }
      joss:
        "431": { sweetness: 7, flavour: 8 }
        "268": { sweetness: 9, flavour: 9 }
        "915": { sweetness: 9, flavour: 9 }
        "704": { sweetness: 4, flavour: 4 }
        "357": { sweetness: 4, flavour: 4.5 }
  - on: 2026-08-14
    samples:
      - { tree: A1, crop: main, ripeness: ripe }
      - { tree: S1, crop: main, ripeness: ripe }
      - { tree: N1, crop: main, ripeness: ripe }
      - { tree: B1, crop: main, ripeness: ripe }
    scores:
      mara:
        A1: { sweetness: 7, flavour: 6.5 }
        S1: { sweetness: 8, flavour: 8.5 }
        N1: { sweetness: 8.5, flavour: 8 }
        B1: { sweetness: 3, flavour: 2.5 }
      odo:
        A1: { sweetness: 5, flavour: 5 }
        S1: { sweetness: 7, flavour: 6 }
        N1: { sweetness: 7, flavour: 6.5 }
        B1: { sweetness: 1, flavour: 1.5 }
`,
};
