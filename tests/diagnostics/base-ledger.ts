import type { Files } from '../support/check-files.ts';

const LEDGER = `
title: Tidewrack Lane fig trial
place: { name: Tidewrack Lane, latitude: 52.1 }
fruit: fig
crops: { early: breba, main: main }
traits: [sweetness, flavour, texture]
tasters: { mara: Mara, joss: Joss }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
frost: { 2026: 2026-10-29 }
standard: amber
rank:
  weights: { flavour: 3, productivity: 2 }
  bands:
    productivity: [[0, 1], [4, 10]]
`;

const CULTIVARS = `
amber: { name: Amber Lantern, bears: common }
widow: { name: Harbour Widow, bears: san-pedro }
heron: { name: Grey Heron, bears: smyrna }
`;

const TREES = `
G1: { cultivar: amber, site: glass, received: 2024-03 }
G2: { cultivar: amber, site: glass, received: 2024-05-02, planted: 2025 }
Y1: { cultivar: amber, site: yard }
W1: { cultivar: widow, site: yard, planted: 2023 }
H1: { cultivar: heron, site: glass, planted: 2025 }
`;

/** A small ledger with nothing to complain of, with some files put in or in place of its own. */
export function ledgerWith(files: Files): Files {
  return { 'ledger.yaml': LEDGER, 'cultivars.yaml': CULTIVARS, 'trees.yaml': TREES, ...files };
}

/** The small ledger with a season file. */
export function ledgerWithSeason(sections: string, year = 2026): Files {
  return ledgerWith({ [`seasons/${year}.yaml`]: seasonText(sections, year) });
}

export function seasonText(sections: string, year = 2026): string {
  return `season: ${year}\n${sections}`;
}

/** The ledger's own file with one line put in place of another. */
export function ledgerFile(line: string, replacement: string): string {
  return replaced(LEDGER, line, replacement);
}

/** The trees with more of them. */
export function treesAnd(more: string): string {
  return TREES + more;
}

/** The cultivars with more of them. */
export function cultivarsAnd(more: string): string {
  return CULTIVARS + more;
}

function replaced(text: string, line: string, replacement: string): string {
  if (!text.includes(`${line}\n`)) throw new Error(`the base ledger has no line "${line}"`);
  return text.replace(`${line}\n`, `${replacement}\n`);
}
