import { mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EXIT } from '../src/cli/exit.ts';
import type { Host } from '../src/cli/host.ts';
import { run } from '../src/cli/run.ts';
import { nodeHost } from '../src/host/node-host.ts';
import { layFiles } from './support/lay-files.ts';
import { memoryHost } from './support/memory-host.ts';
import { neighbourFiles } from './support/neighbour-files.ts';

const FILES = neighbourFiles();

async function pool(args: readonly string[], files: Readonly<Record<string, string>> = FILES) {
  const world = memoryHost({ files, cwd: '/trial/home', columns: 80 });
  const status = await run(['pool', ...args], world.host);
  return { status, out: world.out(), err: world.err() };
}

interface Told {
  readonly selection: Readonly<Record<string, unknown>>;
  readonly rows: readonly (Readonly<Record<string, number | null>> & {
    readonly cultivar: string;
    readonly crop: string;
    readonly why: string | null;
    readonly judgedHere: boolean | null;
    readonly garden: string;
    readonly name: string;
    readonly taken: string;
  })[];
  readonly notes: readonly { readonly kind: string; readonly text: string }[];
}

async function told(args: readonly string[], files = FILES): Promise<Told> {
  const { status, out, err } = await pool([...args, '--format', 'json'], files);
  expect(err).toBe('');
  expect(status).toBe(EXIT.done);
  return JSON.parse(out) as Told;
}

const ALL = ['../hill-foot', '../quay-row', '../mill-bend'];

describe('pool of the example and its neighbours', () => {
  let main: Told;
  let again: Told;

  beforeAll(async () => {
    main = await told([...ALL, '--crop', 'main']);
    again = await told([...ALL.toReversed(), '--crop', 'main', '--cultivar', 'Harbour Slate']);
  }, 120_000);

  const rowOf = (cultivar: string, of = main) => of.rows.find((row) => row.cultivar === cultivar);

  it('puts gardens with other marks, other words and other units on one scale', () => {
    // A mark of 14 out of 20 or a weight in ounces taken for what it is not would end far off the scale of home.
    for (const row of main.rows.filter(({ rank }) => rank !== null)) {
      expect(row['index']).toBeGreaterThan(3);
      expect(row['index']).toBeLessThan(9);
    }
    const slate = rowOf('Slate Quay');
    expect(slate).toMatchObject({ gardens: 4, rank: 2 });
    expect(rowOf("Lamplighter's Thumb")?.['rank']).toBe(1);
  });

  it('is surer of the middle of gardens like these than of a garden that it never saw', () => {
    for (const { low, high, newLow, newHigh, index } of main.rows.filter(({ rank }) => rank)) {
      expect(Number(newHigh) - Number(newLow)).toBeGreaterThan(Number(high) - Number(low));
      expect(Number(low)).toBeLessThan(Number(index));
      expect(Number(index)).toBeLessThan(Number(high));
    }
  });

  it('is surer of what several gardens judged than of what one did', () => {
    const width = (cultivar: string) => {
      const row = rowOf(cultivar);
      return Number(row?.['high']) - Number(row?.['low']);
    };
    expect(width('Slate Quay')).toBeLessThan(width('Glasswright'));
    const [alone] = main.notes.filter(({ text }) => text.startsWith('Judged in one garden only'));
    expect(alone?.text).toContain('Glasswright');
    expect(alone?.text).not.toContain('Slate Quay');
  });

  it('tells of home only what grows there', () => {
    expect(rowOf('Quarry Plum')).toMatchObject({ here: null, hereLow: null, hereHigh: null });
    const slate = rowOf('Slate Quay');
    expect(slate?.judgedHere).toBe(true);
    expect(Number(slate?.['hereLow'])).toBeLessThan(Number(slate?.['here']));
  });

  it('joins by name or also, asks about look-alikes, and never joins by a doubt', () => {
    const notes = main.notes.map(({ text }) => text).join('\n');
    expect(notes).toContain('Harbour Slate = Slate Quay');
    expect(notes).toMatch(/are they one\?.*Nightjar Silk and Nightjar Sylk/);
    expect(notes).toMatch(
      /Perhaps the same.*Old Wall Brown \(\d\.\d\) and Tidewrack Brown \(\d\.\d\)/,
    );
    const unlabelled = main.rows.filter(({ cultivar }) => cultivar.startsWith('Unlabelled #3'));
    expect(unlabelled.map(({ gardens }) => gardens)).toEqual([1, 1]);
  });

  it('does not change with the order of the folders, nor with the cultivars that are shown', () => {
    expect(again.rows).toEqual([rowOf('Slate Quay')]);
  });

  it('shows the cautions once', () => {
    const cautions = main.notes.filter(({ kind }) => kind === 'caution').map(({ text }) => text);
    expect(cautions.filter((text) => text.includes('plant-health'))).toHaveLength(1);
    expect(cautions.join(' ')).toMatch(/breeders' rights.*Nightjar Silk/);
  });
});

describe('names over several gardens', () => {
  it('lists what was taken for the same, and why', async () => {
    const { rows } = await told([...ALL, '--names']);
    const slate = rows.filter(({ cultivar }) => cultivar === 'Slate Quay');
    expect(slate.map(({ garden, name, taken }) => [garden, name, taken])).toEqual([
      ['Tidewrack Lane', 'Slate Quay', 'the same'],
      ['Quai aux Cordes', 'Slate Quay', 'the same'],
      ['Mill Bend', 'Slate Quay', 'the same'],
      ['Hill Foot', 'Harbour Slate', 'the same'],
    ]);
    const asked = rows.filter(({ taken }) => taken === 'asked');
    expect(asked.map(({ cultivar, name }) => [cultivar, name])).toContainEqual([
      'Nightjar Silk',
      'Nightjar Sylk',
    ]);
  });
});

describe('folders of others', () => {
  const names = async (args: readonly string[], files = FILES) => pool([...args, '--names'], files);

  it('counts a folder once, and home not among the others', async () => {
    const { status, err, out } = await names(['../mill-bend', '../mill-bend/', '../home']);
    expect(status).toBe(EXIT.done);
    expect(err).toContain('../mill-bend/ is the same folder as ../mill-bend and counts once');
    expect(out).toContain('2 gardens');
  });

  it('leaves out a garden with errors, and says where they are', async () => {
    const broken = { ...FILES, 'mill-bend/trees.yaml': 'M1: { cultivar: no-such, site: wall }\n' };
    const { status, err, out } = await names(['../mill-bend', '../hill-foot'], broken);
    expect(status).toBe(EXIT.done);
    expect(err).toContain('In ../mill-bend:');
    expect(err).toContain('seasons/2024.yaml:4');
    expect(err).toMatch(/\.\.\/mill-bend takes no part: it has errors/);
    expect(out).not.toContain('Mill Bend');
  });

  it('ends where too few gardens are left', async () => {
    const { status, err } = await names(['../mill-bend'], {
      ...FILES,
      'mill-bend/trees.yaml': '[',
    });
    expect(status).toBe(EXIT.ledgerErrors);
    expect(err).toContain('no other is left');
  });

  it('knows a copy of a ledger by its text', async () => {
    const copied = Object.entries(FILES).map(([path, text]) => [
      path.replace(/^home/, 'copy'),
      text,
    ]);
    const { err } = await names(['../copy', '../hill-foot'], {
      ...FILES,
      ...Object.fromEntries(copied),
    });
    expect(err).toContain(
      '../copy takes no part: its trees and seasons are word for word those of home',
    );
  });

  it('does not pool another fruit', async () => {
    const ledger = FILES['mill-bend/ledger.yaml']?.replace('fruit: fig', 'fruit: quince') ?? '';
    const { err } = await names(['../mill-bend', '../hill-foot'], {
      ...FILES,
      'mill-bend/ledger.yaml': ledger,
    });
    expect(err).toContain('its fruit is quince, not fig');
  });

  it.each([
    [['../nowhere'], EXIT.file, 'it does not exist'],
    [['..'], EXIT.usage, 'holds no ledger.yaml'],
    [['../home'], EXIT.usage, 'two gardens at least'],
    [['../mill-bend', '--season', '1999'], EXIT.usage, 'the gardens have 2024, 2025, 2026'],
    [['../mill-bend', '--cultivar', 'Slate Kay'], EXIT.usage, 'did you mean Slate Quay?'],
    [['../mill-bend', '--climate', 'alpine'], EXIT.usage, 'its climate is cool maritime'],
    [['../mill-bend', '--cover', 'moon'], EXIT.usage, 'open'],
    [['../mill-bend', '--parts', 'flavor'], EXIT.usage, 'did you mean flavour?'],
  ])('says what is wrong with %j', async (args, status, words) => {
    const ran = await names(args);
    expect(ran.err).toContain(words);
    expect(ran.status).toBe(status);
  });

  it('keeps to all covers that are named, not to the last of them', async () => {
    const { out } = await pool([...ALL, '--cover', 'open', '--cover', 'glass', '--format', 'json']);
    expect(JSON.parse(out)).toHaveProperty('selection.cover', ['open', 'glass']);
  });

  it('keeps to gardens of a kind', async () => {
    const { out } = await names([...ALL, '--climate', 'COOL maritime']);
    expect(out).not.toContain('Quai aux Cordes');
    expect(out).toContain('Hill Foot');
  });
});

describe('gardens that cannot be compared', () => {
  const LEDGER = (title: string) => `title: ${title}
fruit: fig
traits: [flavour]
tasters: { ada: Ada }
sites: { yard: { name: yard, cover: open } }
rank: { weights: { flavour: 1 } }
`;
  const garden = (at: string, cultivars: readonly string[], marks: readonly number[]) => ({
    [`${at}/ledger.yaml`]: LEDGER(at),
    [`${at}/cultivars.yaml`]: cultivars
      .map((key) => `${key}: { name: ${key}, bears: common }\n`)
      .join(''),
    [`${at}/trees.yaml`]: cultivars
      .map((key) => `T-${key}: { cultivar: ${key}, site: yard }\n`)
      .join(''),
    [`${at}/seasons/2026.yaml`]: `season: 2026
tastings:
${[1, 2, 3]
  .map(
    (day) => `  - on: 2026-09-0${day}
    samples: [${cultivars.map((key) => `{ tree: T-${key}, crop: main }`).join(', ')}]
    scores: { ada: { ${cultivars.map((key, k) => `T-${key}: { flavour: ${marks[k]} }`).join(', ')} } }
`,
  )
  .join('')}`,
  });
  const files = {
    ...garden('home', ['Ayle', 'Brock', 'Coombe'], [7, 5, 6]),
    ...garden('near', ['Ayle', 'Brock', 'Dene'], [8, 6, 7]),
    ...garden('far', ['Elm', 'Furze'], [9, 3]),
    ...garden('lone', ['Ayle'], [9]),
  };

  it('names them and leaves them out', async () => {
    const { rows, notes } = await told(['../near', '../far', '../lone'], files);
    expect(rows.map(({ cultivar }) => cultivar).toSorted()).toEqual([
      'Ayle',
      'Brock',
      'Coombe',
      'Dene',
    ]);
    const texts = notes.map(({ text }) => text).join('\n');
    expect(texts).toContain('far takes no part: it shares no cultivar with the rest');
    expect(texts).toContain('lone takes no part: only one cultivar was judged whole there');
    expect(texts).toContain('two gardens can hardly tell');
  }, 60_000);

  it('makes no part up for a garden that never measured it', async () => {
    const weighed = {
      ...files,
      'home/ledger.yaml': `${files['home/ledger.yaml']?.replace('flavour: 1 }', 'flavour: 1, size: 1 }, bands: { size: [[20, 1], [80, 10]] }')}`,
    };
    const { notes, rows } = await told(['../near'], weighed);
    expect(rows.every(({ rank }) => rank === null)).toBe(true);
    expect(notes.map(({ text }) => text).join('\n')).toMatch(/near takes no part: it has no size/);
    const parted = await told(['../near', '--parts', 'flavour'], weighed);
    expect(parted.rows.filter(({ rank }) => rank !== null)).toHaveLength(4);
    expect(parted.selection).toMatchObject({ parts: ['flavour'] });
  }, 60_000);
});

describe('a folder that leads elsewhere', () => {
  const root = mkdtempSync(join(tmpdir(), 'pomary-pool-'));
  afterAll(() => rmSync(root, { recursive: true }));

  it('is not followed', async () => {
    layFiles(root, FILES);
    rmSync(join(root, 'mill-bend/seasons'), { recursive: true });
    symlinkSync(join(root, 'hill-foot/seasons'), join(root, 'mill-bend/seasons'));
    symlinkSync(join(root, 'home/trees.yaml'), join(root, 'quay-row/weather'));
    let err = '';
    const host: Host = {
      ...nodeHost(),
      cwd: join(root, 'home'),
      stdout: { ...nodeHost().stdout, write: () => {} },
      stderr: {
        ...nodeHost().stderr,
        write: (text) => {
          err += text;
        },
      },
    };
    expect(await run(['pool', ...ALL, '--names'], host)).toBe(EXIT.done);
    expect(err).toContain(
      'mill-bend takes no part: seasons is a link to a place outside its folder',
    );
    expect(err).toContain(
      'quay-row takes no part: weather is a link to a place outside its folder',
    );
  });
});

describe('what is published of several gardens', () => {
  it('says what to plant by the four words, and what one garden alone judged is watched', async () => {
    const world = memoryHost({ files: FILES, cwd: '/trial/home' });
    const argv = ['post', '--crop', 'main', '--format', 'text', '--pool', ...ALL];
    expect(await run(argv, world.host)).toBe(EXIT.done);
    const text = world.out();
    expect(text).toContain('What to plant in gardens like ours: four gardens as one');
    const good = text.slice(text.indexOf('Good here'), text.indexOf('Still being watched'));
    expect(good).toContain('Slate Quay');
    expect(good).not.toContain('Glasswright');
    expect(text.slice(text.indexOf('Still being watched'))).toMatch(
      /Glasswright[^(;]*\(judged\s+in\s+one\s+garden\)/,
    );
    expect(text).toMatch(/breeders'\s+rights/);
    // The neighbours and the home of this test are all under one.
    expect(text).toMatch(/measured\s+in\s+all\s+four\s+gardens\s+is\s+under\s+CC0-1\.0\./);
  }, 120_000);

  it('draws the gardens round their middle', async () => {
    const world = memoryHost({ files: FILES, cwd: '/trial/home' });
    const argv = ['figure', 'pool', ...ALL, '--crop', 'main', '--top', '3'];
    expect(await run(argv, world.host)).toBe(EXIT.done);
    expect(world.out()).toContain('Index in four gardens, main crop');
    expect(world.out()).toMatch(/Slate Quay \d\.\d \([^)]*Hill Foot \d\.\d/);
  }, 120_000);
});
