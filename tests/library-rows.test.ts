import { describe, expect, test } from 'vitest';
import * as reports from '../src/cli/reports.ts';
import { VERDICTS, type Verdict } from '../src/judge/verdict/verdict.ts';
import { ADDED_CELLS, ROW_CELLS } from '../src/library/row-types.ts';
import { NEIGHBOURS, neighbourFiles } from './support/neighbour-files.ts';
import { runOn } from './support/run-on.ts';

// What the types of rows promise, against what the commands print.

type Kind = keyof typeof ROW_CELLS;

/** Command lines whose rows are of a kind, where its own name alone does not tell all of it. */
const LINES: Readonly<Partial<Record<Kind, readonly string[]>>> = {
  rank: ['rank', 'rank --by cover'],
  verdict: ['verdict', 'verdict --by cover'],
  yield: ['yield', 'yield --by cultivar,site,season --spread own'],
  weights: ['weights', 'weights --by tree,site,season --spread own'],
  crops: ['crops', 'crops --by tree,site,season'],
  soundness: ['soundness', 'soundness --by tree,site,season'],
  'soundness-after': ['soundness --after rain', 'soundness --after water --by tree,site,season'],
  ripening: ['ripening', 'ripening --by tree,site,season'],
  scores: ['scores', 'scores --by tree --unit score'],
  preference: ['preference', 'preference --from both --prior 1'],
  compare: ['compare salt-parson slate-quay'],
  pool: [`pool ${NEIGHBOURS.map((name) => `/trial/${name}`).join(' ')}`],
  'pool-names': [`pool --names ${NEIGHBOURS.map((name) => `/trial/${name}`).join(' ')}`],
};

/** The weighted parts of the ledger. */
const PARTS: Readonly<Partial<Record<Kind, readonly string[]>>> = {
  rank: ['sweetness', 'flavour', 'productivity', 'size', 'soundness'],
};

const FITS: Readonly<Record<string, (cell: unknown) => boolean>> = {
  name: (cell) => typeof cell === 'string',
  crop: (cell) => cell === 'early' || cell === 'main',
  verdict: (cell) => VERDICTS.includes(cell as Verdict),
  text: (cell) => cell === null || typeof cell === 'string',
  figure: (cell) => cell === null || typeof cell === 'number',
  flag: (cell) => cell === null || typeof cell === 'boolean',
  mixed: (cell) => cell === null || ['string', 'number'].includes(typeof cell),
};

interface Printed {
  readonly columns: readonly { readonly key: string }[];
  readonly rows: readonly Readonly<Record<string, unknown>>[];
}

async function printed(line: string): Promise<Printed> {
  const argv = [...line.split(' '), '--ledger', '/trial/home', '--format', 'json'];
  const { out, err } = await runOn(argv, neighbourFiles());
  expect(err).toBe('');
  return JSON.parse(out) as Printed;
}

const KINDS = Object.keys(ROW_CELLS) as readonly Kind[];

test('every report has its rows', () => {
  const commands = KINDS.map((kind) => (LINES[kind]?.[0] ?? kind).split(' ')[0]);
  const entries = Object.values(reports).flatMap((one) => ('build' in one ? [one.name] : []));
  expect(new Set(commands)).toEqual(new Set(entries));
});

describe('the cells that the types promise are those of the report', () => {
  test.each(KINDS)('%s', async (kind) => {
    const added: Readonly<Record<string, string>> = ADDED_CELLS;
    const more = (added[kind] ?? '').split(' ').filter((key) => key !== '');
    const always = Object.entries(ROW_CELLS[kind]).flatMap(([of, keys]: [string, string]) =>
      keys.split(' ').map((key) => ({ of, key })),
    );
    const listed = [...always, ...more.map((key) => ({ of: 'text', key }))];
    const seen = new Set<string>();
    for (const line of LINES[kind] ?? [kind]) {
      const { columns, rows } = await printed(line);
      const has = columns.map(({ key }) => key).filter((key) => !PARTS[kind]?.includes(key));
      for (const key of has) seen.add(key);
      expect(has).toEqual(expect.arrayContaining(always.map(({ key }) => key)));
      expect(rows.length).toBeGreaterThan(0);
      const told = listed.filter(({ key }) => has.includes(key));
      const odd = told.filter(({ of, key }) => !rows.every((row) => FITS[of]?.(row[key])));
      expect({ line, odd }).toEqual({ line, odd: [] });
    }
    // Neither a column that no type knows, nor a cell that no column has.
    expect([...seen].toSorted()).toEqual(listed.map(({ key }) => key).toSorted());
  });
});
