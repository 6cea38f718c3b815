import type { FrontValue, Published } from '../report/document.ts';
import { visible } from '../source/visible.ts';
import type { SharePicture } from './share-picture.ts';

/**
 * Title, date, description, picture and tags as YAML between lines of three dashes, as site generators read
 * them. Text is written as JSON strings, which YAML 1.2 reads letter by letter (1.2.2, 1.3). Site
 * generators put it into pages as it is, so signs that HTML or a template would take up are written as
 * their likes.
 */
export function frontMatter(
  title: string,
  { date, description, tags, front = new Map() }: Published,
  picture?: SharePicture,
): string {
  const ours = new Map<string, string>([
    ['title', quoted(title)],
    ['date', date],
    ['description', quoted(description)],
    ...(picture === undefined ? [] : [['image', quoted(picture.url)] as const]),
    ...(tags.length === 0 ? [] : [['tags', `[${tags.map(quoted).join(', ')}]`] as const]),
  ]);
  const theirs = [...front].map(([key, value]) => [key, written(value)] as const);
  const lines = [...new Map([...ours, ...theirs])].map(([key, value]) => `${key}: ${value}`);
  return `${['---', ...lines, '---'].join('\n')}\n`;
}

/** A value that the ledger gives, as it stands. */
function written(value: FrontValue): string {
  if (typeof value === 'string') return quoted(value);
  return typeof value === 'object' ? `[${value.map(quoted).join(', ')}]` : String(value);
}

function quoted(text: string): string {
  const plain = visible(text).replace(/[<>{}]/g, (sign) => ALIKE[sign] ?? sign);
  return JSON.stringify(plain);
}

const ALIKE: Readonly<Record<string, string>> = { '<': '‹', '>': '›', '{': '(', '}': ')' };
