import { beforeEach, describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { type Captured, memoryHost } from './support/memory-host.ts';

/** A ledger whose weights differ from season to season, so that no two posts draw the same. */
function ledger(folder: string, title: string, grams: number): Record<string, string> {
  const season = (year: number, gram: number) => `season: ${year}
picks:
  - { on: ${year}-08-20, tree: A, crop: main, weights: [${gram}, ${gram + 2}, ${gram + 5}] }
  - { on: ${year}-08-25, tree: B, crop: main, weights: [${gram + 9}, ${gram + 12}] }
`;
  return {
    [`${folder}/ledger.yaml`]: `title: ${title}
place: { name: Here }
fruit: plum
scale: { low: 1, high: 10 }
traits: [flavour]
tasters: { mara: Mara }
sites: { yard: { name: yard, cover: open }, glass: { name: house, cover: glass } }
`,
    [`${folder}/cultivars.yaml`]:
      'a: { name: Alpha Gage, bears: main }\nb: { name: Beta Gage, bears: main }\n',
    [`${folder}/trees.yaml`]: 'A: { cultivar: a, site: yard }\nB: { cultivar: b, site: glass }\n',
    [`${folder}/seasons/2025.yaml`]: season(2025, grams),
    [`${folder}/seasons/2026.yaml`]: season(2026, grams + 20),
  };
}

const PLUMS = 'plums/seasons/2026.yaml';

describe('posts that share a folder of figures', () => {
  let world: Captured;

  beforeEach(() => {
    const files = { ...ledger('plums', 'Plums', 30), ...ledger('gages', 'Gages', 60) };
    world = memoryHost({ files: { ...files, 'figures/.keep': '' } });
  });

  /** Makes a post and gives its figures, by path, with what was drawn. */
  async function figuresOf(...argv: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const before = world.out().length;
    const exit = await run([...argv, '--full', '--figures', 'figures'], world.host);
    expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
    const at = argv.indexOf('--output');
    const file = at < 0 ? undefined : `/trial/${argv[at + 1]}`;
    const text = file === undefined ? world.out().slice(before) : String(world.files.get(file));
    const links = [...text.matchAll(/!\[[^\n]*\]\(([^)\s]*)\)/g)].map(([, link = '']) => link);
    expect(links.length).toBeGreaterThan(0);
    return new Map(
      links.map((link) => {
        const path = `/trial/figures/${link.slice(link.lastIndexOf('/') + 1)}`;
        return [path, String(world.files.get(path))];
      }),
    );
  }

  const plums = ['--ledger', 'plums', 'post'] as const;
  test.each([
    ['another season', [...plums, '--season', '2025'], [...plums, '--season', '2026']],
    ['another site', [...plums, '--site', 'yard'], [...plums, '--site', 'glass']],
    ['another cultivar', [...plums, '--cultivar', 'a'], [...plums, '--cultivar', 'b']],
    ['a part and the whole', [...plums, '--tree', 'A'], plums],
    ['another ledger', plums, ['--ledger', 'gages', 'post']],
    ['more rows', [...plums, '--top', '1'], plums],
  ])('the first keeps its pictures: %s', async (_, one, other) => {
    for (const output of [[], ['--output', 'post.md']]) {
      const first = await figuresOf(...one, ...output);
      const second = await figuresOf(...other, ...output);
      for (const [path, drawn] of first) {
        expect(second.has(path)).toBe(false);
        expect(String(world.files.get(path))).toBe(drawn);
      }
    }
  });

  test('the first keeps its pictures when more is picked and it is told in another post', async () => {
    const first = await figuresOf(...plums, '--output', 'july.md');
    const more = '  - { on: 2026-09-01, tree: A, crop: main, weights: [90, 91, 92] }\n';
    world.files.set(`/trial/${PLUMS}`, `${world.files.get(`/trial/${PLUMS}`)}${more}`);
    await figuresOf(...plums, '--output', 'august.md');
    for (const [path, drawn] of first) expect(String(world.files.get(path))).toBe(drawn);
  });

  test('a post made again renews its own pictures', async () => {
    const first = await figuresOf(...plums, '--output', 'post.md');
    const more = '  - { on: 2026-09-01, tree: A, crop: main, weights: [90, 91, 92] }\n';
    world.files.set(`/trial/${PLUMS}`, `${world.files.get(`/trial/${PLUMS}`)}${more}`);
    const again = await figuresOf(...plums, '--output', 'post.md');
    expect([...again.keys()]).toEqual([...first.keys()]);
    expect([...again.values()]).not.toEqual([...first.values()]);
  });

  test('names tell the post, or the ledger where it has no file', async () => {
    const [named] = (await figuresOf(...plums, '--output', 'Early & late.md')).keys();
    expect(named).toMatch(/\/early-late-[a-z0-9-]+-[0-9a-f]{8}\.svg$/);
    const [piped] = (await figuresOf(...plums)).keys();
    expect(piped).toMatch(/\/plums-[a-z0-9-]+-[0-9a-f]{8}\.svg$/);
  });
});
