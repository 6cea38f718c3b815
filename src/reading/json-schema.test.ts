import { expect, test } from 'vitest';
import { HINTS } from '../entries/derive/hints.ts';
import { eachPart, jsonSchema } from './json-schema.ts';
import { SCHEMA_NAMES } from './schema-files.ts';

test.each(SCHEMA_NAMES)('every key of %s has a hint, and every hint a key', (name) => {
  const described = new Map<string, string | undefined>();
  eachPart(jsonSchema(name), '', (part, path, isProperty) => {
    if (isProperty) described.set(path, part.description);
  });
  expect([...described.keys()].sort()).toEqual(Object.keys(HINTS[name]).sort());
  for (const [path, hint] of described) expect(hint, path).toBe(HINTS[name][path]);
});

test.each(SCHEMA_NAMES)(
  'the schema of %s is of draft 7, has a title and no bounds of machines',
  (name) => {
    const text = JSON.stringify(jsonSchema(name));
    expect(text).toContain('"$schema":"http://json-schema.org/draft-07/schema#"');
    expect(jsonSchema(name).title).toMatch(/^pomary: /);
    expect(text).not.toContain(String(Number.MAX_SAFE_INTEGER));
    expect(text).not.toContain('$ref');
  },
);

test('unknown keys are refused wherever the reader refuses them', () => {
  const loose: string[] = [];
  for (const name of SCHEMA_NAMES) {
    eachPart(jsonSchema(name), '', (part, path) => {
      if (part.properties !== undefined && part.additionalProperties !== false) loose.push(path);
    });
  }
  expect(loose).toEqual([]);
});
