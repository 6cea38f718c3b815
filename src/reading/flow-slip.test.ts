import { describe, expect, it } from 'vitest';
import { ledgerWith } from '../../tests/diagnostics/base-ledger.ts';
import { told as placesOf, readFiles } from '../../tests/support/read-marked.ts';
import { REST_UNCHECKED } from './yaml-read.ts';

/** Place and rule, message and advice, but for what is said of the rest of the file. */
function told(files: Readonly<Record<string, string>>) {
  const { diagnostics } = readFiles(ledgerWith(files));
  const places = placesOf(diagnostics);
  return diagnostics.map(({ message, advice }, index) => [
    (places[index] ?? '').replace(/^[^:]*:/, ''),
    message,
    advice.replace(`; ${REST_UNCHECKED}`, ''),
  ]);
}

describe('the commonest slips between keys', () => {
  it.each([
    ['lv: { name: Little Verdigris bears: common }', '1:30', 'bears'],
    ['lv: { name: Little Verdigris, bears: common also: [Verdigris] }', '1:45', 'also'],
    ['lv: { name: "Little Verdigris" bears: common }', '1:32', 'bears'],
    ['lv: { name: LV, also: [Verdigris] bears: common }', '1:35', 'bears'],
    ['lv:\n  { name: Little Verdigris\n    bears: common }', '3:5', 'bears'],
  ])('a comma left out: %j', (text, place, key) => {
    expect(told({ 'cultivars.yaml': `${text}\n`, 'trees.yaml': '' })).toEqual([
      [`${place} yaml-syntax`, `a comma is missing before ${key}:`, `put a comma before ${key}:`],
    ]);
  });

  it.each([
    [
      'sr: { name: Smoke & Rye: the real one, bears: common }',
      '1:13',
      '"Smoke & Rye: the real one"',
    ],
    ['sr: { name: Sam\'s "Rye": real, bears: common }', '1:13', "'Sam''s \"Rye\": real'"],
    ['sr:\n  name: Smoke: the real one\n  bears: common', '2:9', '"Smoke: the real one"'],
  ])('a colon in a name without quotes: %j', (text, place, quoted) => {
    const [first] = told({ 'cultivars.yaml': `${text}\n`, 'trees.yaml': '' });
    expect(first).toEqual([
      `${place} yaml-syntax`,
      'a text without quotes holds a colon, so it reads as another key',
      `put a name or a text that holds a colon in quotes: ${quoted}`,
    ]);
  });

  it('two keys on a line without brackets', () => {
    const [first] = told({
      'cultivars.yaml': 'sr:\n  name: Smoke bears: common\n',
      'trees.yaml': '',
    });
    expect(first?.[1]).toBe('bears: is on the line of another key');
  });
});

describe('a list with nothing in it', () => {
  it.each(['', '# none yet\n', '{}\n', '~\n'])('is no slip: %j', (text) => {
    expect(
      told({
        'ledger.yaml':
          'title: T\nfruit: fig\ntraits: [flavour]\nsites: { yard: { name: yard, cover: open } }\n',
        'cultivars.yaml': text,
        'trees.yaml': text,
        'seasons/2026.yaml': 'season: 2026\n',
      }),
    ).toEqual([]);
  });

  it('is told once where other files name what it should list', () => {
    expect(
      told({
        'trees.yaml': '',
        'seasons/2026.yaml':
          'season: 2026\ncounts:\n  - { on: 2026-07-02, tree: G1, crop: early, fruit: 1 }\n  - { on: 2026-07-02, tree: G2, crop: early, fruit: 1 }\n',
      }).map(([place]) => place),
    ).toEqual(['1:1 file-empty']);
  });

  it('is told once where {} is left beside what is listed, with what else is wrong', () => {
    const listed =
      'sr: { name: Smoke, bears: common }\nlv: { name: Little Verdigris bears: common }\n';
    expect(told({ 'cultivars.yaml': `{}\n${listed}`, 'trees.yaml': '' })).toEqual([
      [
        '1:1 empty-map-filled',
        expect.stringContaining('{} says that nothing is listed'),
        'delete the {}',
      ],
      ['3:30 yaml-syntax', 'a comma is missing before bears:', 'put a comma before bears:'],
    ]);
    const below = told({
      'cultivars.yaml': `sr: { name: Smoke, bears: common }\n{} # none\n`,
      'trees.yaml': '',
    });
    expect(below.map(([place]) => place)).toEqual(['2:1 empty-map-filled']);
  });
});

describe('conflict marks', () => {
  const marks = (text: string) => told({ 'seasons/2026.yaml': `season: 2026\ncounts:\n${text}` });

  it('are one error, whatever else they make of the file', () => {
    const both =
      '<<<<<<< HEAD\n  - { a: 1 }\n||||||| base\n=======\n  - { a: [ }\n>>>>>>> theirs\n';
    const [one, ...others] = marks(`${both}${both}${both}`);
    expect(others).toEqual([]);
    expect(one?.[0]).toBe('3:1 merge-conflict');
    expect(one?.[1]).toBe(
      'git left two versions of some lines here, and in 2 more places of this file',
    );
    expect(one?.[2]).toContain('take away the lines that begin with <<<<<<<');
  });

  it('are told with CRLF and where only one of them was left', () => {
    expect(marks('<<<<<<< HEAD\r\n=======\r\n>>>>>>> theirs\r\n')[0]?.[0]).toBe(
      '3:1 merge-conflict',
    );
    expect(marks('  []\n=======\n').map(([place]) => place)).toEqual(['4:1 merge-conflict']);
    expect(marks('  []\n>>>>>>> theirs\n').map(([place]) => place)).toEqual(['4:1 merge-conflict']);
  });
});
