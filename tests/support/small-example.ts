/**
 * The example ledger cut down by hand to six trees and two seasons: small enough to be broken and
 * read thousands of times, and still with something of every kind in it.
 */
export const SMALL_EXAMPLE: Readonly<Record<string, string>> = {
  'ledger.yaml': `# The Tidewrack Lane fig trial: where it is, who tastes, and how the rank is weighed.

title: Tidewrack Lane fig trial
place: { name: Tidewrack Lane, climate: cool maritime, latitude: 52.1 }
fruit: fig
licence: CC0-1.0
units: metric
pollinator: absent # never seen the wasp here
crops: { early: breba, main: main }
scale: { low: 1, high: 10 }
traits: [sweetness, flavour, texture]
tasters: { mara: Mara, joss: Joss, odo: Odo }

sites:
  glass: { name: glasshouse, cover: glass }
  yard: { name: south wall, cover: open }
frost: { 2025: 2025-10-20, 2026: 2026-10-29 }
standard: amber-lantern
degree_days: { base: 10, upper: 36, method: mean }
rank:
  weights: { flavour: 3, sweetness: 2, productivity: 2, size: 1, soundness: 2 }
  bands:
    productivity: [[0, 1], [4, 10]] # fruit per branch
    size: [[20, 1], [80, 10]] # g, mean fruit weight
    soundness: [[0.5, 1], [1, 10]]
verdict: { min_seasons: 3, min_tastings: 4, increase_above: 7.5, discard_below: 5 }
`,
  'cultivars.yaml': `amber-lantern:
  name: Amber Lantern
  bears: common
  also: [Lantern Yellow]
  note: The check. Never the best plate on the table and never the worst.
slate-quay: { name: Slate Quay, bears: common, also: [Harbour Slate, "Maid o' the Quay"] }
ferry-bell:
  name: Ferry Bell
  bears: san-pedro
nightjar-silk:
  name: Nightjar Silk
  bears: common
  protected: true
  perhaps: { same_as: slate-quay, why: "leaf and eye agree: not the date" }
`,
  'trees.yaml': `# Under glass, all the year.
G3:
  cultivar: amber-lantern
  received_as: Lantern, yellow
  from: swap table, Harrow's End
  received: 2018-10
  planted: 2019
  site: glass
  container: ground
G7: { cultivar: slate-quay, from: own cutting of Y3, site: glass, container: "30 L" }
Y1: { cultivar: amber-lantern, received: 2019-11, planted: 2021-04-09, site: yard }
Y6: { cultivar: ferry-bell, site: yard, container: ground }
P1: { cultivar: amber-lantern, site: glass, container: "20 L", note: moves in May }
P7: { cultivar: nightjar-silk, site: glass }
`,
  'seasons/2025.yaml': `season: 2025

counts:
  - { on: 2025-07-07, tree: G3, crop: early, fruit: 12, branches: 8 }
  - { on: 2025-08-08, tree: G7, crop: main, fruit: 12, branches: 7 }
  - { on: 2025-08-16, tree: Y1, crop: main, fruit: 22, branches: 10 }
picks:
  - { on: 2025-07-11, tree: G3, crop: early, weights: [58.9, 60.7, 59.2, 70.4] }
  - on: 2025-08-22
    tree: G7
    crop: main
    weights: [48.2, 46.4, 46.2]
    split: 2
    note: two went after the soaking
  - { on: 2025-09-15, tree: Y1, crop: main, fruit: 8, weights: ["1.5 oz", 41.3], sample: random }
events:
  - { on: 2025-05-10, tree: P1, kind: move, site: yard }
  - { on: 2025-10-10, tree: P1, kind: move, site: glass }
`,
  'seasons/2026.yaml': `# An ordinary year, which is what we needed.

season: 2026

counts:
  - { on: 2026-07-02, tree: G3, crop: early, fruit: 21, branches: 8 }
  - { on: 2026-07-02, tree: Y6, crop: breba, fruit: 14, branches: 8, note: "best yet" }
  - { on: 2026-08-10, tree: G3, crop: main, fruit: 19, branches: 8 }
  - { on: 2026-08-10, tree: G7, crop: main, fruit: 16, branches: 7 }
  - { on: 2026-08-12, tree: Y1, crop: main, fruit: 24, branches: 10 }
  - { on: 2026-08-12, tree: P7, crop: main, fruit: 10, branches: 6 }
picks:
  # The wall first, as every year.
  - { on: 2026-07-24, tree: G3, crop: early, weights: [52.4, 47.0, 61.3], split: 1 }
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 11, weight: 580, bird: 2, note: wet week }
  - { on: 2026-07-29, tree: Y6, crop: early, weights: [64.1, 80, 52.9], insect: 1 }
  - { on: 2026-08-29, tree: G3, crop: main, weights: [45.3, 47, 30, 32.1] }
  - { on: 2026-09-01, tree: G7, crop: main, fruit: 5, weight: "0.5 lb", mould: 1 }
  - { on: 2026-09-12, tree: Y1, crop: main, weights: [46.9, 46.4, 42.8], unripe: 1 }
  - { on: 2026-09-20, tree: P7, crop: main, weights: [33.5, 40.7], sample: best }
drops:
  - { on: 2026-07-20, tree: G3, crop: early, fruit: 2 }
tastings:
  - on: 2026-07-29
    note: In the kitchen, rain on the roof.
    samples:
      - { tree: G3, crop: early, as: "129", ripeness: ripe, brix: 19.5, eye: 3 }
      - { tree: Y6, crop: early, as: "901", ripeness: ripe }
    scores:
      mara: { "129": { sweetness: 8, flavour: 9, texture: 7 }, "901": { sweetness: 5, flavour: 6 } }
      joss:
        "129": { sweetness: 7, flavour: 8.5 }
    words:
      mara: { "129": [melon, fresh], "901": [watery] }
    order:
      mara: ["129", "901"]
      odo: [["901", "129"]]
  - on: 2026-09-12
    samples:
      - { tree: G3, crop: main, ripeness: ripe }
      - { tree: G7, crop: main, ripeness: under }
      - { tree: Y1, crop: main, ripeness: ripe, photo: photos/y1.jpg }
    scores:
      mara: { G3: { sweetness: 6, flavour: 7 }, G7: { flavour: 4 }, Y1: { sweetness: 7, flavour: 8 } }
      odo: { G3: { sweetness: 3, flavour: 4 }, Y1: { sweetness: 3, flavour: 5 } }
    words:
      odo: { G3: [watery], Y1: [honey] }
    order:
      mara: [Y1, G3, G7]
growth:
  - { on: 2026-03-01, tree: G3, girth: 14.2, height: "1.9 m" }
  - { on: 2026-03-01, tree: Y1, girth: 11 }
events:
  - { on: 2026-05-09, tree: P1, kind: move, site: yard }
  - { on: 2026-06-10, site: glass, kind: spray, product: soap, wait_days: 3 }
  - { on: 2026-08-30, tree: G3, kind: water }
  - { on: 2026-10-29, kind: frost, low: -1.5 }
`,
  'weather/2026.csv': `date,tmin,tmax,rain
2026-07-22,12,21,0
2026-07-23,13,22,4.5
2026-08-30,11,19,27
2026-08-31,9,20,
2026-09-11,10,18,3
`,
};
