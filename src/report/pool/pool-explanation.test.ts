import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { poolExplanation } from './pool-explanation.ts';

const text = poolExplanation().join(' ');

it('says how often intervals held as the table of the method has it', () => {
  const method = readFileSync(new URL('../../judge/pool/MODEL.md', import.meta.url), 'utf8');
  const rows = ['2', '4', '8', '20'].map((gardens) => {
    const line = method.split('\n').find((one) => one.startsWith(`| ${gardens} |`)) ?? '';
    const [, middle, , elsewhere] = line.split('|').slice(1);
    return [middle, elsewhere].map((cell) => Math.round(Number.parseFloat(cell ?? '')));
  });
  const [two, four, eight, twenty] = rows as [number[], number[], number[], number[]];
  expect(text).toContain(
    `held the middle in ${two[0]} of 100 with two gardens, ${four[0]} with four, ${eight[0]} with eight and ${twenty[0]} with 20; a garden not among them in ${two[1]}, ${four[1]}, ${eight[1]} and ${twenty[1]}`,
  );
});

it('says what the model takes as known, in words', () => {
  expect(text).toContain('four parts in seven are the cultivar everywhere and three the garden');
});
