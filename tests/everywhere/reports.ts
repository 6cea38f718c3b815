import type { Checks } from './checks.ts';
import type { Condition } from './condition.ts';
import { exampleLedger } from './ledgers.ts';
import { FORMATS, PAGES, sameRan, TABLES } from './reading.ts';

interface Json {
  readonly report: string;
  readonly columns: readonly { readonly key: string }[];
  readonly rows: readonly Readonly<Record<string, unknown>>[];
}

export const REPORTS: Condition = {
  name: 'every report in every format',
  check: async (column, checks) => {
    const printed = async (argv: readonly string[]) => {
      const { status, out, err } = await column.plain(exampleLedger(column), argv);
      // `check` tells its warnings on standard output too.
      checks.that(argv.join(' '), status === 0 && err === '' && out !== '', `${status} ${err}`);
      return out;
    };
    for (const words of TABLES) {
      for (const format of FORMATS) await printed([...words, '--format', format]);
      sameRows(
        checks,
        words.join(' '),
        await printed([...words, '--format', 'json']),
        await printed([...words, '--format', 'csv']),
      );
    }
    for (const words of PAGES) {
      const out = await printed(words);
      if (words.includes('json')) JSON.parse(out);
    }
  },
};

/** JSON and CSV hold the same columns and as many rows. */
function sameRows(checks: Checks, what: string, json: string, csv: string): void {
  const { report, columns, rows } = JSON.parse(json) as Json;
  const [header, ...lines] = csv.trimEnd().split(/\r?\n/);
  checks.same(`${what}: name`, report, what.split(' ')[0] ?? '');
  checks.same(`${what}: columns`, header ?? '', columns.map(({ key }) => key).join(','));
  checks.that(`${what}: rows`, rows.length > 0 && rows.length === lines.length);
}

export const SAME_IN_EVERY_NODE: Condition = {
  name: 'the same bytes as the first Node, or a second time',
  check: async (column, checks, first) => {
    for (const argv of [
      ...TABLES.flatMap((words) => FORMATS.map((format) => [...words, '--format', format])),
      ...PAGES,
    ]) {
      const wanted = await first.plain(exampleLedger(first), argv);
      const isFirst = column === first;
      if (isFirst && !argv.includes('csv')) continue;
      const found = isFirst
        ? await column.pomary(exampleLedger(column), argv)
        : await column.plain(exampleLedger(column), argv);
      sameRan(checks, argv.join(' '), found, wanted);
    }
  },
};
