import { describe, expect, it } from 'vitest';
import { expectMarked, pointedAt } from '../support/check-files.ts';
import { cultivarsAnd, ledgerFile, ledgerWith, treesAnd } from './base-ledger.ts';

/** The base ledger with more cultivars, a line each, and a tree for each. */
function named(lines: readonly string[]) {
  const keys = lines.map((_, index) => `n${index}`);
  return ledgerWith({
    'cultivars.yaml': cultivarsAnd(
      lines.map((line, index) => `${keys[index]}: ${line}\n`).join(''),
    ),
    'trees.yaml': treesAnd(
      keys.map((key) => `T-${key}: { cultivar: ${key}, site: yard }\n`).join(''),
    ),
  });
}

// The form of names: International Code of Nomenclature for Cultivated Plants, 9th edition
// (Brickell et al. 2016, Scripta Horticulturae 18). The names are invented.
describe('the form of names', () => {
  it('takes names as the code would have them', () => {
    expectMarked(
      named([
        `{ name: "Gull's Lantern", bears: common }`,
        '{ name: "Super 5", bears: common }',
        '{ name: Noire de l’Étang-du-Sel, bears: common }',
        '{ name: "Oh! Marrow! No. 3, Kelp/Rime", bears: common }',
        '{ name: ÄÖ-12, bears: common }',
        '{ name: Forest Harvest West, bears: common }',
        '{ name: Stormwrack Lantern of the Marsh End, bears: common }',
        '{ name: 馬の耳, bears: common }',
      ]),
    );
  });

  it('hints at a small first letter', () => {
    expectMarked(
      named([
        '{ name: lantern of the marsh, bears: common } # expect: name-capital',
        '{ name: "\'élan\'", bears: common } # expect: name-capital, name-quotes',
      ]),
    );
  });

  it('hints at the name of the genus', () => {
    expectMarked(
      named([
        '{ name: Ficus Tidewrack, bears: common } # expect: name-genus',
        '{ name: Malus Tidewrack, bears: common }',
      ]),
    );
    expectMarked({
      ...named([
        '{ name: Ficus Tidewrack, bears: main }',
        '{ name: malus Tidewrack, bears: main } # expect: name-capital, name-genus',
      ]),
      'ledger.yaml': ledgerFile('fruit: fig', 'fruit: Apple'),
    });
  });

  it('hints at more than 30 characters, spaces and quotes not counted', () => {
    const thirty = 'Abcdefghij Klmnopqrst Uvwxyzabcd';
    const found = expectMarked(
      named([
        `{ name: "${thirty}", bears: common }`,
        `{ name: "${thirty}e", bears: common } # expect: name-length`,
        `{ name: "‘${thirty.replace('A', 'B')}’", bears: common } # expect: name-quotes`,
      ]),
    );
    expect(found[0]?.message).toContain('1996');
  });

  it('hints at marks that a name may not hold', () => {
    const found = expectMarked(
      named([
        '{ name: "Unk. #3", bears: common } # expect: name-marks',
        '{ name: Half ½ Moon, bears: common } # expect: name-marks',
        '{ name: Kelp 1/2, bears: common } # expect: name-marks',
        '{ name: "Oh!! Marrow", bears: common } # expect: name-marks',
        '{ name: "Oh! So! Much!", bears: common } # expect: name-marks',
        '{ name: Salt$ & Rime$, bears: common } # expect: name-marks',
        '{ name: \'Say "Kelp" Again\', bears: common } # expect: name-marks',
      ]),
    );
    expect(found[5]?.message).toBe(
      'the name "Salt$ & Rime$" holds $ and &, which a cultivar name may not',
    );
  });

  it('hints at numerals alone and at a single letter', () => {
    expectMarked(
      named([
        '{ name: "12345", bears: common } # expect: name-numerals',
        '{ name: "12 34", bears: common } # expect: name-numerals',
        '{ name: "X", bears: common } # expect: name-single-letter',
        '{ name: "X1", bears: common }',
      ]),
    );
  });

  it('hints at quotation marks typed around a name', () => {
    const found = expectMarked(
      named([
        '{ name: "\'Kelp Queen\'", bears: common } # expect: name-quotes',
        '{ name: “Rime Queen”, bears: common } # expect: name-quotes',
        '{ name: Gulls’ Queen’s, bears: common }',
      ]),
    );
    expect(found[0]?.advice).toBe('leave them out: name: Kelp Queen');
  });

  it('hints at superlatives and at words that are kept out of names', () => {
    const found = expectMarked(
      named([
        '{ name: Best of All, bears: common } # expect: name-superlative',
        '{ name: Amber Lantern Improved, bears: common } # expect: name-word',
        '{ name: Kelp STRAIN Hybrid, bears: common } # expect: name-word',
        '{ name: Informal Grouping, bears: common }',
      ]),
    );
    expect(found[2]?.message).toContain('"STRAIN" and "Hybrid"');
    expect(new Set(found.map(({ severity }) => severity))).toEqual(new Set(['hint']));
  });
});

describe('names of several cultivars', () => {
  it('questions one name on two cultivars, however it is spelled', () => {
    const found = expectMarked(
      named([
        '{ name: Kelp Queen, bears: common }',
        '{ name: kelp  QUEEN, bears: common } # expect: name-capital, name-repeat',
        '{ name: "\'Kelp Queen\'", bears: common } # expect: name-quotes, name-repeat',
        '{ name: Kelp Queens, bears: common }',
      ]),
    );
    expect(found.filter(({ rule }) => rule === 'name-repeat')[0]?.related).toHaveLength(1);
  });

  it("questions a synonym that is another cultivar's name, unless the doubt is said", () => {
    const found = expectMarked(
      named([
        '{ name: Kelp Queen, bears: common, also: [Kelp Bride, "amber lantern"] } # expect: synonym-is-name',
        '{ name: Rime Queen, bears: common, also: [Grey Heron], perhaps: { same_as: heron } }',
        '{ name: Salt Queen, bears: common, also: [Salt Queen] }',
      ]),
    );
    expect(pointedAt(found[0] ?? expect.fail())).toBe('"amber lantern"');
    expect(found[0]?.advice).toContain('perhaps: { same_as: amber, why: ... }');
  });

  it('refuses doubts that go round in a loop, once a loop', () => {
    const found = expectMarked(
      named([
        '{ name: Kelp A, bears: common, perhaps: { same_as: n1 } }',
        '{ name: Kelp B, bears: common, perhaps: { same_as: n2 } } # expect: cultivar-loop',
        '{ name: Kelp C, bears: common, perhaps: { same_as: n3 } }',
        '{ name: Kelp D, bears: common, perhaps: { same_as: n1 } }',
        '{ name: Kelp E, bears: common, perhaps: { same_as: n4 } } # expect: cultivar-loop',
        '{ name: Kelp F, bears: common, perhaps: { same_as: n3 } }',
        '{ name: Kelp G, bears: common, perhaps: { same_as: amber } }',
      ]),
    );
    expect(found[0]?.message).toBe('the doubts go round in a loop: n1 -> n2 -> n3 -> n1');
    expect(found[0]?.related).toHaveLength(2);
  });

  it('hints at a cultivar without trees', () => {
    expectMarked(
      ledgerWith({
        'cultivars.yaml': cultivarsAnd(
          'bell: { name: Cinder Bell, bears: common } # expect: cultivar-without-trees\n',
        ),
      }),
    );
  });
});
