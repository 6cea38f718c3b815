import type { Published } from '../report/document.ts';
import { visible } from '../source/visible.ts';

/**
 * Title, date, description and tags as YAML between lines of three dashes, as site generators read
 * them. Text is written as JSON strings, which YAML 1.2 reads letter by letter (1.2.2, 1.3). Site
 * generators put it into pages as it is, so signs that HTML or a template would take up are written as
 * their likes.
 */
export function frontMatter(title: string, { date, description, tags }: Published): string {
  const lines = [
    '---',
    `title: ${quoted(title)}`,
    `date: ${date}`,
    `description: ${quoted(description)}`,
    ...(tags.length === 0 ? [] : [`tags: [${tags.map(quoted).join(', ')}]`]),
    '---',
  ];
  return `${lines.join('\n')}\n`;
}

function quoted(text: string): string {
  const plain = visible(text).replace(/[<>{}]/g, (sign) => ALIKE[sign] ?? sign);
  return JSON.stringify(plain);
}

const ALIKE: Readonly<Record<string, string>> = { '<': '‹', '>': '›', '{': '(', '}': ')' };
