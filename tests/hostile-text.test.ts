import { parse as parseCsv } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { TABLE_NAMES } from '../src/cli/table-names.ts';
import { DOCUMENT_FORMATS } from '../src/render/document.ts';
import { pomary } from './support/pomary.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';
import { QUICK_REPORTS, REPORTS } from './support/trouble-with.ts';

/** Escapes, controls and marks of direction as YAML lets them in, and what each must never become. */
const HOSTILE =
  '\\e[31mred\\e]0;title\\a\\b\\u009b2J\\u202Eback\\u2066\\r\\n\\u2028\\ud83d\\x7f\\0';
const STEERING =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not get through
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])/;
const FORMATS = ['text', 'markdown', 'html', 'csv', 'json'];

/** The small example with another name for its first cultivar, and for the trial and a site. */
function named(name: string): Readonly<Record<string, string>> {
  const put = (text: string | undefined, old: string) => {
    if (text?.includes(old) !== true) throw new Error(`the example has no ${old}`);
    return text.replace(old, name);
  };
  return {
    ...SMALL_EXAMPLE,
    'cultivars.yaml': put(SMALL_EXAMPLE['cultivars.yaml'], 'Amber Lantern'),
    'ledger.yaml': put(put(SMALL_EXAMPLE['ledger.yaml'], 'glasshouse'), 'Tidewrack Lane fig trial'),
    'seasons/2026.yaml': put(SMALL_EXAMPLE['seasons/2026.yaml'], 'wet week'),
    'trees.yaml': put(SMALL_EXAMPLE['trees.yaml'], 'moves in May'),
  };
}

describe('text that would steer a terminal', () => {
  it.each(['check', ...QUICK_REPORTS])(
    'comes out of %s in no format as it went in',
    async (command) => {
      const formats = command === 'check' ? ['text', 'json'] : FORMATS;
      for (const format of formats) {
        const { status, out, err } = await pomary([command, '--format', format], {
          files: named(`"${HOSTILE}"`),
        });
        expect(status).toBe(0);
        expect(out + err).not.toMatch(STEERING);
      }
    },
  );

  it.each([
    ...DOCUMENT_FORMATS.map((format) => ['sheet', '--format', format]),
    ...DOCUMENT_FORMATS.flatMap((format) => [
      ['lineup', '--format', format],
      ['day', '2026-07-29', '--format', format],
    ]),
    ...TABLE_NAMES.flatMap((table) =>
      ['csv', 'jsonl'].map((format) => ['export', '--table', table, '--format', format]),
    ),
  ])('comes out of %s %s %s %s %s not as it went in', async (...argv) => {
    const words = argv.filter((word) => word !== undefined);
    const { status, out, err } = await pomary(words, { files: named(`"${HOSTILE}"`) });
    expect(status).toBe(0);
    expect(out + err).not.toMatch(STEERING);
  });

  it('is written out where it stands in a message or in the line shown', async () => {
    const files = {
      ...SMALL_EXAMPLE,
      'seasons/2025.yaml': `season: 2025\nnote: 5\ncounts:\n  - { on: 2025-07-07, tree: "${HOSTILE}", crop: "\\e[2J", fruit: 1 }\n`,
      'seasons/20\u001b[31m26.yaml': 'season: 2026\n',
      'weather/2025.csv': 'date,tmin\n2025-07-07,\u001b[31m\n\u202e,1\n',
    };
    for (const argv of [['check'], ['check', '--format', 'json'], ['yield']]) {
      const { status, out, err } = await pomary(argv, { files });
      expect(status).toBe(1);
      expect(out + err).not.toMatch(STEERING);
      expect(out + err).toContain('tree-unknown');
    }
  });

  it('typed on the command line is written out too', async () => {
    for (const argv of [
      ['\u001b[31m'],
      ['--\u001b[31m'],
      ['yield', '--by', '\u001b[31m'],
      ['yield', '--tree', '\u001b[31m'],
      ['yield', '--cultivar', '\u202e'],
      ['yield', '--crop', '\u001b]0;x\u0007'],
      ['yield', '--sort', '\u001b[31m'],
      ['yield', '--format', '\u001b[31m'],
      ['yield', '\u001b[31m'],
      ['--ledger', '/\u001b[31m', 'yield'],
    ]) {
      const { status, out, err } = await pomary(argv, { files: SMALL_EXAMPLE });
      expect([2, 3], argv.join(' ')).toContain(status);
      expect(out).toBe('');
      expect(err).not.toBe('');
      expect(err).not.toMatch(STEERING);
    }
  });
});

describe('text that means something to another program', () => {
  it.each(['=1+1', '+1+1', '-2+3', '@SUM(A1)', "'=1+1", '\uff1d1+1', '=HYPERLINK("http://x","y")'])(
    'such as %s is no formula in CSV, and comes back whole without its apostrophe',
    async (name) => {
      const { out } = await pomary(['yield', '--by', 'cultivar', '--format', 'csv'], {
        files: named(`'${name.replaceAll("'", "''")}'`),
      });
      const cells = (parseCsv(out) as string[][]).flat();
      expect(cells).toContain(`'${name}`);
      for (const cell of cells) expect(cell).not.toMatch(/^[=@\uff1d]|^[+-](?![\d.]+$)/);
    },
  );

  it('stays one field in CSV, whatever quotes, commas and line ends it has', async () => {
    const name = 'Say "figs", or\nnot;\u{1f333}';
    const { out } = await pomary(['yield', '--by', 'cultivar', '--format', 'csv'], {
      files: named(JSON.stringify(name)),
    });
    expect(
      (parseCsv(out, { columns: true }) as Record<string, string>[]).map((row) => row['cultivar']),
    ).toContain(name);
  });

  it('opens no element, attribute or comment in HTML', async () => {
    const name = `<img src=x onerror="alert(1)">&amp;--><script>'</script>`;
    for (const report of QUICK_REPORTS) {
      const { out } = await pomary([report, '--format', 'html'], {
        files: named(JSON.stringify(name)),
      });
      expect(out).not.toMatch(/<img|<script|-->/);
      expect(out).toContain(
        '&#60;img src=x onerror=&#34;alert(1)&#34;&#62;&#38;amp;--&#62;&#60;script&#62;',
      );
    }
  });

  it('is nothing but text in Markdown', async () => {
    const name = 'a|b <b>c</b> [d](e) `f` *g* _h_ ~~i~~ \\\\ # &copy;';
    const { out } = await pomary(['yield', '--by', 'cultivar', '--format', 'markdown'], {
      files: named(`"${name}"`),
    });
    const rows = out.split('\n').filter((line) => line.startsWith('| '));
    const bars = (row: string) => row.replaceAll('\\|', '').split('|').length;
    expect(new Set(rows.map(bars)).size).toBe(1);
    expect(out).toContain(
      'a\\|b &lt;b&gt;c&lt;/b&gt; \\[d\\](e) \\`f\\` \\*g\\* \\_h\\_ \\~\\~i\\~\\~ \\\\ \\# &amp;copy;',
    );
  });

  it.each(['a', 'a ', '日', '🌳', 'e\u0301', '-'])(
    'of ten thousand times "%s" is no name or key, is told without repeating it, and quickly',
    async (letter) => {
      const long = letter.repeat(10_000);
      const files = {
        ...named(JSON.stringify(long)),
        'trees.yaml': `${JSON.stringify(`G${long}`)}: { cultivar: ${JSON.stringify(long)}, site: ${JSON.stringify(long)}, from: 5 }\n${SMALL_EXAMPLE['trees.yaml']}`,
        'seasons/2025.yaml': `season: 2025\nevents:\n  - { on: 2025-07-07, tree: ${JSON.stringify(long)}, kind: ${JSON.stringify(long)}, ${JSON.stringify(long)}: 1 }\n`,
      };
      const start = performance.now();
      for (const command of ['check', ...REPORTS]) {
        const { status, out, err } = await pomary([command], { files, columns: 72 });
        expect(status).toBe(1);
        expect((out + err).length).toBeLessThan(20_000);
      }
      expect(performance.now() - start).toBeLessThan(20_000);
    },
  );

  it('of ten thousand letters in a note or a remark is nothing to complain of', async () => {
    const files = {
      ...SMALL_EXAMPLE,
      'trees.yaml': `${SMALL_EXAMPLE['trees.yaml']}`.replace('moves in May', '日 '.repeat(10_000)),
    };
    for (const command of ['check', ...QUICK_REPORTS]) {
      expect((await pomary([command], { files })).status).toBe(0);
    }
  });

  it('such as constructor is a trait, a taster, a site, a tree and a cultivar like any other', async () => {
    const files = {
      'ledger.yaml': `title: T
fruit: fig
traits: [constructor, toString, valueOf]
tasters: { constructor: C, hasOwnProperty: H }
sites: { constructor: { name: C, cover: open } }
standard: constructor
rank: { weights: { constructor: 1, toString: 2 } }
`,
      'cultivars.yaml':
        'constructor: { name: Con, bears: common }\ntoString: { name: Str, bears: common }\n',
      'trees.yaml':
        'constructor: { cultivar: constructor, site: constructor }\ntoString: { cultivar: toString, site: constructor }\n',
      'seasons/2026.yaml': `season: 2026
picks:
  - { on: 2026-07-24, tree: constructor, crop: main, weights: [52.4, 47] }
  - { on: 2026-07-25, tree: toString, crop: main, weights: [30] }
tastings:
  - on: 2026-07-24
    samples: [{ tree: constructor, crop: main, ripeness: ripe }, { tree: toString, crop: main, ripeness: ripe }]
    scores:
      constructor: { constructor: { constructor: 8, toString: 6 }, toString: { constructor: 4 } }
      hasOwnProperty: { toString: { constructor: 5 } }
`,
    };
    for (const command of ['check', ...REPORTS]) {
      const { status, out, err } = await pomary([command, '--format', 'json'], { files });
      expect([command, status, err]).toEqual([command, 0, '']);
      expect(out).not.toMatch(/native code|\[object/);
    }
    const { out } = await pomary(['rank', '--format', 'json'], { files });
    const { rows } = JSON.parse(out) as { rows: Record<string, unknown>[] };
    const kinds = rows.map((row) =>
      ['cultivar', 'rank', 'constructor', 'toString'].map((key) =>
        row[key] === null ? null : typeof row[key],
      ),
    );
    expect(kinds).toEqual([
      // One alone has no rank, and the other lacks a part.
      ['string', null, 'number', 'number'],
      ['string', null, 'number', null],
    ]);
  });
});
