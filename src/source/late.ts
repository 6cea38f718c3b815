import { createRequire } from 'node:module';

// Packages that take long to load and are seldom wanted: they come with their first use, and at once, since those who
// ask cannot wait for a promise. Their names lead to the package itself (`imports` in package.json) or, in the built
// program, to a part of it (`imports` in dist/package.json). Whatever can be waited for is an `await import()` instead.
const require = createRequire(import.meta.url);

/** Measures what is not plain letters: its tables take half as long as starting Node. */
export function stringWidth(text: string): number {
  return (require('#string-width') as typeof import('string-width')).default(text);
}

/** Reads YAML that has something wrong with it. */
export const parseDocument: typeof import('yaml').parseDocument = (...given) =>
  (require('#yaml') as typeof import('yaml')).parseDocument(...given);
