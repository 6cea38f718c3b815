import { describe, expect, it } from 'vitest';
import type * as z from 'zod/mini';
import { SMALL_EXAMPLE } from '../../tests/support/small-example.ts';
import { SCHEMAS } from '../entries/derive/schemas.ts';
import { SCHEMA_NAMES } from './schema-files.ts';
import { shape } from './shape.ts';
import { readYaml } from './yaml-read.ts';

const PATHS = {
  ledger: 'ledger.yaml',
  cultivars: 'cultivars.yaml',
  trees: 'trees.yaml',
  season: 'seasons/2026.yaml',
};

describe('shape', () => {
  it.each(SCHEMA_NAMES)('gives a sound %s file as it was typed, keys in their order', (name) => {
    const file = { path: PATHS[name], text: SMALL_EXAMPLE[PATHS[name]] ?? '', bom: false };
    const { value } = readYaml(file);
    const shaped = shape(name, value, file, 2);
    expect(shaped).toEqual({ value, bad: new Set(), diagnostics: [] });
    expect(shaped.value).toBe(value);
    // The schema says what is wrong and makes nothing anew: no default, nothing dropped or turned.
    expect((SCHEMAS[name] as z.ZodMiniType).parse(value)).toEqual(value);
  });

  it('keeps the rest of a file where one entry is wrong, and names that entry', () => {
    const sound = { on: '2026-08-01', tree: 'G1', crop: 'main', fruit: 12 };
    const value = { season: 2026, counts: [sound, { ...sound, fruit: -1 }, sound] };
    const file = { path: 'seasons/2026.yaml', text: '', bom: false };
    const shaped = shape('season', value, file, 2);
    expect(shaped.value).toBe(value);
    expect([...shaped.bad]).toEqual(['counts/1']);
    expect(shaped.diagnostics).toMatchObject([
      { rule: 'value-wrong', at: { path: ['counts', 1, 'fruit'], part: 'value' } },
    ]);
  });
});
