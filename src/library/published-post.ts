import type { Ledger } from '../model/ledger.ts';
import { renderDocumentHtml } from '../render/document-html.ts';
import { renderDocumentMarkdown } from '../render/document-markdown.ts';
import { figureSvg } from '../render/figure-svg.ts';
import { figuresOf, photosOf } from '../report/document.ts';
import { buildPost } from '../report/post/build-post.ts';
import type { AskedPost, PublishedPost } from './asked-post.ts';
import { dayOf, requestFor, several, wholeFrom1 } from './request-for.ts';

/** The post with its figures, as the command would write them. */
export async function publishedPost(ledger: Ledger, asked: AskedPost): Promise<PublishedPost> {
  const { title, date, tags, full = false, nameTasters = false, figuresUrl = 'figures' } = asked;
  const document = await buildPost(ledger, {
    ...requestFor(ledger, asked),
    top: wholeFrom1('top', asked.top ?? 10),
    title,
    date: dayOf(date ?? asked.today),
    tags: several(tags),
    full,
    nameTasters,
  });
  const figures = figuresOf(document);
  const photos = photosOf(document).map(({ path }) => path);
  const file = (key: string) => `post-${key}.svg`;
  const base = figuresUrl.replace(/\/+$/, '');
  const links = new Map([
    ...figures.map(({ key }) => [key, `${base}/${file(key)}`] as const),
    ...photos.map((path) => [path, path] as const),
  ]);
  const drawn = new Map<string, string>();
  const files: { file: string; svg: string }[] = [];
  for (const figure of figures) {
    drawn.set(figure.key, await figureSvg(figure, 'page'));
    files.push({ file: file(figure.key), svg: await figureSvg(figure, 'file') });
  }
  return {
    title: document.title,
    description: document.published?.description ?? '',
    markdown: renderDocumentMarkdown(document, { drawn: new Map(), links }, true),
    html: renderDocumentHtml(document, { drawn, links }),
    figures: files,
    photos,
  };
}
