import { PAGE_FORMATS, type PageFormat, renderPage } from '../render/page.ts';
import type { Page } from '../report/page.ts';
import { formatOfFile } from './format-of-file.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';
import { type Destination, putOut } from './put-out.ts';

export interface PageOptions extends Destination {
  readonly color: boolean;
  readonly format?: PageFormat;
}

/** Prints a page or writes it to a file. */
export async function printPage(host: Host, options: PageOptions, page: Page): Promise<void> {
  const look = lookOf(host, host.stdout, !options.color || options.output !== undefined);
  const format = options.format ?? formatOfFile(options.output, PAGE_FORMATS);
  putOut(host, options, await renderPage(page, format, look));
}
