import fc from 'fast-check';
import { CORE_SCHEMA, load } from 'js-yaml';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { yamlScalar } from './starter-ledger.ts';

test('plain words stay bare', () => {
  for (const text of ['Tidewrack Lane', "Harrow's End", 'fig', 'Äpfel am Weg']) {
    expect(yamlScalar(text)).toBe(text);
  }
  for (const text of [
    'on',
    'No',
    '12',
    'a: b',
    'a #b',
    '- a',
    'a, b',
    '',
    'x ',
    '"q"',
    '2026-01-01',
  ]) {
    expect(yamlScalar(text)).toBe(JSON.stringify(text));
  }
});

// Two readers of YAML that have nothing to do with each other.
test('whatever the text, it is read back', () => {
  const words = fc.string({ unit: 'grapheme' });
  fc.assert(
    fc.property(
      fc.oneof(words, fc.stringMatching(/^[a-z :#'"\-,[\]{}&*!|>%@`]{0,12}$/)),
      (text) => {
        const line = `key: ${yamlScalar(text)}\n`;
        expect(parse(line, { schema: 'core' })).toEqual({ key: text });
        expect(parse(line, { version: '1.1' })).toEqual({ key: text });
        expect(load(line, { schema: CORE_SCHEMA })).toEqual({ key: text });
      },
    ),
    { numRuns: 500 },
  );
});
