import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkLedger, errorRules, rules } from '../../src/checks/index.ts';
import type { Rule } from '../../src/checks/rule.ts';
import type { Wording } from '../../src/diagnostics/diagnostic.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';
import { checkFiles, expectMarked } from '../support/check-files.ts';
import { ledgerWith, treesAnd } from './base-ledger.ts';

const here = new URL('./', import.meta.url);
const sources = new URL('../../src/checks/', here);
const words = rules.flatMap((rule): readonly Wording<never>[] => rule.words);

function filesIn(folder: URL, ending: string): readonly string[] {
  return readdirSync(folder).filter((name) => name.endsWith(ending));
}

describe('the list of rules', () => {
  it('holds every rule of every file, in the order of names', async () => {
    const files = filesIn(sources, '.ts').filter(
      (name) => !['index.ts', 'rule.ts', 'rule-cards.ts'].includes(name),
    );
    const exported = await Promise.all(
      files.map(
        async (name): Promise<Record<string, unknown>> => import(new URL(name, sources).href),
      ),
    );
    const found = exported.map((file) =>
      Object.values(file).filter((one) => rules.includes(one as Rule)),
    );
    expect(found.filter((own) => own.length === 0)).toEqual([]);
    expect(found.flat()).toHaveLength(rules.length);
    const names = rules.map((rule) => rule.words[0].rule);
    expect(names).toEqual(names.toSorted());
  });

  it('gives each wording one name, and words to go with it', () => {
    const names = words.map(({ rule }) => rule);
    expect(new Set(names).size).toBe(names.length);
    for (const { rule, why } of words) {
      expect(rule).toMatch(/^[a-z]+(-[a-z]+)+$/);
      expect(why, rule).toMatch(/^[A-Z].*\.$/);
    }
  });

  it('tells the rules that can find an error', () => {
    const harmless = rules.filter((rule) => !errorRules.includes(rule));
    expect(errorRules).not.toEqual([]);
    for (const { words: said } of errorRules) {
      expect(said.map(({ severity }) => severity)).toContain('error');
    }
    for (const { words: said } of harmless) {
      expect(said.map(({ severity }) => severity)).not.toContain('error');
    }
  });

  it('shows each of its names at work in a marked ledger', () => {
    const marked = filesIn(here, '.test.ts').flatMap((name) => {
      const text = readFileSync(new URL(name, here), 'utf8');
      return [...text.matchAll(/# expect: ([a-z, -]+)/g)].flatMap((found) =>
        (found[1] ?? '').trim().split(', '),
      );
    });
    const unseen = words.map(({ rule }) => rule).filter((rule) => !marked.includes(rule));
    expect(unseen).toEqual([]);
  });
});

describe('the marks of the cases', () => {
  const trees = (mark: string) =>
    ledgerWith({
      'trees.yaml': treesAnd(
        `T1: { cultivar: amber, site: yard, planted: 2024, removed: 2020 }${mark}\n`,
      ),
    });

  it('fail where something unmarked is found, or something else than the mark says', () => {
    expect(() => expectMarked(trees(''))).toThrow('tree-dates-crossed');
    expect(() => expectMarked(trees(' # expect: tree-silent'))).toThrow('tree-dates-crossed');
  });

  it('fail where a mark brings nothing', () => {
    const sound = treesAnd('T1: { cultivar: amber, site: yard } # expect: tree-dates-crossed\n');
    expect(() => expectMarked(ledgerWith({ 'trees.yaml': sound }))).toThrow('tree-dates-crossed');
    expectMarked(trees(' # expect: tree-dates-crossed'));
  });
});

describe('a run of the rules', () => {
  it('finds nothing in the ledger that the cases start from', () => {
    expect(checkFiles(ledgerWith({}))).toEqual([]);
  });

  it('outlives a rule that breaks down, and says which', () => {
    const raw = Object.entries(ledgerWith({})).map(([path, text]) => {
      const bytes = new TextEncoder().encode(text);
      return { path, bytes, size: bytes.length };
    });
    const { ledger } = readLedger(raw);
    if (ledger === undefined) throw new Error('the base ledger cannot be read');
    const [first, second] = rules;
    if (first === undefined || second === undefined) throw new Error('there are no rules');
    const broken: Rule = {
      ...first,
      check: () => {
        throw new Error('the ladder is too short');
      },
    };
    let ran = false;
    const after: Rule = {
      ...second,
      check: () => {
        ran = true;
        return [];
      },
    };
    const found = checkLedger(ledger, [broken, after]);
    expect(ran).toBe(true);
    expect(found).toMatchObject([{ rule: 'internal', severity: 'error', at: ledger.trial.at }]);
    expect(found[0]?.message).toContain(`${first.words[0].rule}: the ladder is too short`);
  });
});
