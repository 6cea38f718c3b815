import fc from 'fast-check';
import { load } from 'js-yaml';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { anyText, STEERING } from '../../tests/support/report-arbitrary.ts';
import type { Published } from '../report/document.ts';
import { visible } from '../source/visible.ts';
import { frontMatter } from './document-markdown.ts';

const matter = ({ title = 'Figs', ...changes }: Partial<Published> & { title?: string }): string =>
  frontMatter(title, {
    description: 'Two cultivars.',
    date: '2026-11-01',
    tags: [],
    ...changes,
  });

test('title, date, description and tags between lines of dashes', () => {
  expect(matter({ tags: ['figs', 'cool summers'] })).toBe(
    '---\ntitle: "Figs"\ndate: 2026-11-01\ndescription: "Two cultivars."\ntags: ["figs", "cool summers"]\n---\n',
  );
});

test('without tags there is no line for them', () => {
  expect(matter({})).not.toContain('tags');
});

test('keys of the ledger stand behind ours, or in the place of the same one, as they were given', () => {
  const front = new Map<string, string | number | boolean | readonly string[]>([
    ['layout', 'post'],
    ['tags', ['garden']],
    ['draft', true],
    ['weight', 3],
  ]);
  const text = matter({ tags: ['figs'], front });
  expect(load(text.replaceAll('---', ''))).toMatchObject({
    title: 'Figs',
    layout: 'post',
    tags: ['garden'],
    draft: true,
    weight: 3,
  });
  expect(text.match(/^tags:/gm)).toHaveLength(1);
});

/** No sign that HTML or a template takes up. */
function seen(text: string): string {
  return visible(text)
    .replaceAll('<', '‹')
    .replaceAll('>', '›')
    .replaceAll('{', '(')
    .replaceAll('}', ')');
}

test('neither HTML nor a template comes through', () => {
  const text = matter({
    title: '<script>x</script> {{ x }}',
    description: '{% y %}',
    tags: ['<b>'],
  });
  expect(text).not.toMatch(/[<>{}]/);
});

test('two readers of YAML find every text as it was, save such signs, and nothing else', () => {
  fc.assert(
    fc.property(
      anyText,
      anyText,
      fc.array(anyText, { maxLength: 3 }),
      (title, description, tags) => {
        const text = matter({ title, description, tags });
        expect(text).not.toMatch(STEERING);
        const yaml = text.split('\n').slice(1, -2).join('\n');
        const wanted = {
          title: seen(title),
          date: '2026-11-01',
          description: seen(description),
          ...(tags.length === 0 ? {} : { tags: tags.map(seen) }),
        };
        expect(parse(yaml)).toEqual(wanted);
        expect(load(yaml)).toEqual(wanted);
      },
    ),
  );
});
