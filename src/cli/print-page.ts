import { resolve } from 'node:path';
import { type PageFormat, renderPage } from '../render/page.ts';
import type { Page } from '../report/page.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';

export interface PageOptions {
  readonly color: boolean;
  readonly format: PageFormat;
  readonly output?: string;
}

/** Prints a page or writes it to a file. */
export async function printPage(host: Host, options: PageOptions, page: Page): Promise<void> {
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const text = await renderPage(page, options.format, look);
  if (options.output === undefined) host.stdout.write(text);
  else host.files.write(resolve(host.cwd, options.output), text);
}
