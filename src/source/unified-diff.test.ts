import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { unifiedDiff } from './unified-diff.ts';

const folder = mkdtempSync(join(tmpdir(), 'pomary-diff-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What git makes of a text with a diff applied. */
function applied(before: string, diff: string): string {
  writeFileSync(join(folder, 'a.yaml'), before);
  const ran = spawnSync('git', ['apply', '--unidiff-zero', '--whitespace=nowarn', '-'], {
    cwd: folder,
    input: diff,
  });
  expect(ran.stderr.toString()).toBe('');
  return readFileSync(join(folder, 'a.yaml'), 'utf8');
}

test('an added line is shown with three lines around it', () => {
  const before = 'a\nb\nc\nd\ne\nf\ng\n';
  expect(unifiedDiff('a.yaml', before, before.replace('d\n', 'd\nnew\n'))).toBe(
    '--- a/a.yaml\n+++ b/a.yaml\n@@ -2,6 +2,7 @@\n b\n c\n d\n+new\n e\n f\n g\n',
  );
});

test('equal texts have no diff, a new file has one from nothing', () => {
  expect(unifiedDiff('a.yaml', 'a\n', 'a\n')).toBe('');
  expect(unifiedDiff('a.yaml', undefined, 'a\n')).toBe(
    '--- /dev/null\n+++ b/a.yaml\n@@ -0,0 +1 @@\n+a\n',
  );
});

test('a missing last line end is told', () => {
  expect(unifiedDiff('a.yaml', 'a', 'a\n')).toContain('-a\n\\ No newline at end of file\n+a\n');
});

test('a change of thousands of lines takes no ages', () => {
  const lines = (word: string) => Array.from({ length: 8000 }, (_, n) => `${word} ${n}\n`).join('');
  const began = performance.now();
  const diff = unifiedDiff('a.yaml', lines('old'), lines('new'));
  expect(diff.split('\n').length).toBe(16_004);
  expect(performance.now() - began).toBeLessThan(10_000);
});

test('git makes the new text of the old one and the diff', () => {
  const text = fc
    .array(fc.constantFrom('a', 'b', 'c', '', 'd e', 'f\r'), { maxLength: 30 })
    .chain((lines) => fc.constantFrom(lines.join('\n'), `${lines.join('\n')}\n`));
  fc.assert(
    fc.property(text, text, (before, after) => {
      // An empty file is no text that git would patch.
      fc.pre(before !== '' && after !== '' && before !== after);
      expect(applied(before, unifiedDiff('a.yaml', before, after))).toBe(after);
    }),
    { numRuns: 150 },
  );
}, 60_000);

test('no fewer lines could have been changed', () => {
  const lines = fc.array(fc.constantFrom('a\n', 'b\n', 'c\n'), { maxLength: 9 });
  fc.assert(
    fc.property(lines, lines, (old, made) => {
      const diff = unifiedDiff('x', old.join(''), made.join(''));
      const changed = diff.split('\n').filter((line) => /^[+-](?![+-]{2} )/.test(line)).length;
      expect(changed).toBe(old.length + made.length - 2 * longestCommon(old, made));
    }),
  );
});

/** Length of the longest common subsequence, from its definition. */
function longestCommon(a: readonly string[], b: readonly string[]): number {
  const [first, ...rest] = a;
  if (first === undefined || b.length === 0) return 0;
  const at = b.indexOf(first);
  const without = longestCommon(rest, b);
  return at < 0 ? without : Math.max(without, 1 + longestCommon(rest, b.slice(at + 1)));
}
