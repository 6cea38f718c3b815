import { expect, test } from 'vitest';
import { SECTIONS } from '../catalogue.ts';
import { orderedKeys } from './key-order.ts';
import { SCHEMAS, SEASON_KEYS } from './schemas.ts';

interface Described {
  readonly properties?: Readonly<Record<string, Described>>;
  readonly items?: Described;
  readonly anyOf?: readonly Described[];
  readonly oneOf?: readonly Described[];
}

/** Every key of the maps that a schema allows at a place. */
function keysOf(described: Described | undefined): readonly string[] {
  if (described === undefined) return [];
  const own = Object.keys(described.properties ?? {});
  return [...own, ...[...(described.anyOf ?? []), ...(described.oneOf ?? [])].flatMap(keysOf)];
}

function itemsOf(described: Described | undefined): Described | undefined {
  return described?.items ?? described?.anyOf?.map(itemsOf).find((one) => one !== undefined);
}

test('every key of the schema has its place in the order', async () => {
  const { toJSONSchema } = await import('zod/mini');
  const described = toJSONSchema(SCHEMAS.season, {
    io: 'input',
    unrepresentable: 'any',
  }) as Described;
  expect([...keysOf(described)].sort()).toEqual([...SEASON_KEYS].sort());
  for (const section of SECTIONS) {
    const item = itemsOf(described.properties?.[section]);
    const keys = [...new Set(keysOf(item))];
    expect(keys.length, section).toBeGreaterThan(3);
    const values = Object.fromEntries([...keys, 'unheard'].map((key) => [key, 1]));
    // What the order does not know comes last.
    expect(orderedKeys(section, values).at(-1), section).toBe('unheard');
    const reversed = Object.fromEntries([...keys, 'unheard'].reverse().map((key) => [key, 1]));
    expect(orderedKeys(section, reversed)).toEqual(orderedKeys(section, values));
  }
});

test('a move says the tree before the kind and the site after it', () => {
  const move = { site: 'yard', kind: 'move', tree: 'P2', on: '2026-05-10' };
  expect(orderedKeys('events', move)).toEqual(['on', 'tree', 'kind', 'site']);
  const spray = { wait_days: 3, product: 'soap', kind: 'spray', site: 'glass', on: '2026-07-10' };
  expect(orderedKeys('events', spray)).toEqual(['on', 'site', 'kind', 'product', 'wait_days']);
});
