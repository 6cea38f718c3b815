import { describe, expect, it } from 'vitest';
import { tasteWords } from '../src/measure/taste-words.ts';
import { tasteWordsInShort } from '../src/report/card/tasted-sections.ts';
import { ledgerFrom } from './support/ledger-from.ts';
import { noteText, runJson } from './support/run-json.ts';
import { runOn } from './support/run-on.ts';

const FILES = {
  'ledger.yaml': `title: T
fruit: fig
crops: { early: breba, main: main }
traits: [flavour]
words: [melon, wild honey]
tasters: { mara: Mara, joss: Joss, odo: Odo }
sites: { yard: { name: wall, cover: open } }
`,
  'cultivars.yaml':
    'amber: { name: Amber Lantern, bears: common }\nyarrow: { name: Yarrow Bell, bears: common }\n',
  'trees.yaml':
    'G3: { cultivar: amber, site: yard }\nG4: { cultivar: amber, site: yard }\nY1: { cultivar: yarrow, site: yard }\n',
  'seasons/2026.yaml': `season: 2026
tastings:
  - on: 2026-07-24
    samples:
      - { tree: G3, crop: early, as: "417" }
      - { tree: G4, crop: early }
      - { tree: Y1, crop: breba, ripeness: over }
    scores:
      odo: { "417": { flavour: 7 } }
    words:
      mara: { "417": [melon, Fresh, Melon], G4: [fresh], Y1: [winey] }
      joss: { "417": [melon] }
  - on: 2026-08-02
    samples:
      - { tree: G3, crop: early }
      - { tree: G3, crop: main, as: "12" }
    words:
      mara: { G3: [wild  honey, melon], "12": [plum] }
`,
};
const ledger = ledgerFrom(FILES);

describe('words of taste', () => {
  it('are counted by tastings, tasters and sittings, cultivar by cultivar and crop by crop', () => {
    const [early, main, ...others] = tasteWords(ledger, {});
    expect(others).toEqual([]);
    expect(early).toMatchObject({ crop: 'early', tastings: 4, seasons: [2026] });
    // By hand: Mara said melon of 417 (twice, which is once) and of G3, Joss of 417; Odo had no word.
    expect(early?.words).toEqual([
      { word: 'melon', times: 3, tasters: 2, sittings: 2, share: 3 / 4 },
      { word: 'fresh', times: 2, tasters: 1, sittings: 1, share: 2 / 4 },
      { word: 'wild honey', times: 1, tasters: 1, sittings: 1, share: 1 / 4 },
    ]);
    expect(main).toMatchObject({ crop: 'main', tastings: 1, words: [{ word: 'plum', times: 1 }] });
  });

  it('are of ripe fruit unless others are asked for', () => {
    const cultivars = (ripeness: readonly ('ripe' | 'over')[]) =>
      tasteWords(ledger, { ripeness }).map(({ cultivar }) => cultivar.key);
    expect(cultivars(['ripe'])).toEqual(['amber', 'amber']);
    expect(cultivars(['over'])).toEqual(['yarrow']);
    expect(tasteWords(ledger, { trees: ['G4'] })).toMatchObject([{ tastings: 1 }]);
  });

  it('are said in short, with how often for the first', () => {
    const [early, main] = tasteWords(ledger, {}).map((one) => tasteWordsInShort(one, 4));
    expect(early).toBe('melon (3 of 4 descriptions), fresh');
    expect(main).toBe('plum');
  });

  it('are a table of their own', async () => {
    const report = await runJson(FILES, 'words');
    expect(report.columns.map(({ key }) => key)).toEqual([
      ...['cultivar', 'crop', 'word', 'times', 'tasters', 'sittings', 'share'],
    ]);
    expect(report.rows.map(({ crop, word, times }) => [crop, word, times])).toEqual([
      ['early', 'melon', 3],
      ['early', 'fresh', 2],
      ['early', 'wild honey', 1],
      ['main', 'plum', 1],
    ]);
    const { rows } = await runJson(FILES, 'words', '--top', '1', '--crop', 'early');
    expect(rows).toMatchObject([{ word: 'melon', share: 0.75 }]);
    const sorted = await runJson(FILES, 'words', '--sort', 'word:desc');
    expect(sorted.rows[0]).toMatchObject({ word: 'wild honey' });
  });

  it('are told where there are none yet', async () => {
    const { 'seasons/2026.yaml': _, ...none } = FILES;
    const report = await runJson(none, 'words');
    expect([report.rows, noteText(report)]).toEqual([
      [],
      expect.stringContaining('no tastings yet'),
    ]);
    const tasted = await runJson(FILES, 'words', '--cultivar', 'yarrow');
    expect(noteText(tasted)).toBe('No words of what fruit tastes of in this selection.');
  });

  it('stand on the card', async () => {
    const { out } = await runOn(['card', 'amber'], FILES);
    expect(out).toContain(
      'What it tastes of\n  Early crop (breba)  melon (3 of 4 descriptions), fresh',
    );
    const without = await runOn(['card', 'yarrow'], FILES);
    expect(without.out).not.toContain('What it tastes of');
  });

  it('go to a table of export and come back from it', async () => {
    const { out } = await runOn(['export', '--table', 'words'], FILES);
    expect(out.trim().split('\n')).toHaveLength(1 + 9);
    const bare = FILES['seasons/2026.yaml'].replaceAll(/ {4}words:\n(?: {6}.*\n)+/g, '');
    const { exit, files } = await runOn(['import', '--kind', 'tastings', 'words.csv'], {
      ...FILES,
      'seasons/2026.yaml': bare,
      'words.csv': out,
    });
    expect(exit).toBe(0);
    const back = ledgerFrom({ ...FILES, 'seasons/2026.yaml': files['seasons/2026.yaml'] ?? '' });
    expect(tasteWords(back, { ripeness: ['ripe', 'over'] })).toEqual(
      tasteWords(ledger, { ripeness: ['ripe', 'over'] }).map((one) => ({
        ...one,
        cultivar: back.cultivars.get(one.cultivar.key),
      })),
    );
  });

  it('in a column of a table are parted by commas or semicolons', async () => {
    const table =
      'date,tree,crop,taster,words\n2026-07-24,G4,early,Joss,"melon, wild honey; fresh"\n';
    const { files } = await runOn(['import', '--kind', 'tastings', 'w.csv'], {
      ...FILES,
      'w.csv': table,
    });
    expect(files['seasons/2026.yaml']).toContain(
      '      joss: { "417": [melon], G4: [melon, wild honey, fresh] }\n',
    );
  });

  it('that a ledger does not list are asked about, and are no error', async () => {
    const { exit, out } = await runOn(['check'], {
      ...FILES,
      'seasons/2026.yaml': FILES['seasons/2026.yaml'].replace(
        'joss: { "417": [melon] }',
        'joss: { "417": [mellon] }',
      ),
    });
    expect(exit).toBe(0);
    expect(out).toContain('hint word-unlisted\n  mellon is not among the words of ledger.yaml');
    expect(out).toContain('did you mean melon?');
    const { 'ledger.yaml': trial } = FILES;
    const unlisted = { ...FILES, 'ledger.yaml': trial.replace(/words: .*\n/, '') };
    expect((await runOn(['check'], unlisted)).out).not.toContain('word-unlisted');
  });
});
