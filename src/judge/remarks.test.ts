import { expect, test } from 'vitest';
import type { IsoDate } from '../model/dates.ts';
import { type Remark, tellingRemarks } from './remarks.ts';

function remark(on: string, score: number | undefined, text: string): Remark {
  return {
    on: on as IsoDate,
    season: Number(on.slice(0, 4)),
    about: score === undefined ? 'picks' : 'samples',
    ...{ tree: undefined, crop: 'main', ripeness: undefined },
    score,
    text,
  };
}

const ALL = [
  remark('2024-08-01', undefined, 'first'),
  remark('2024-09-01', 9, 'best'),
  remark('2024-09-10', 6, 'so so'),
  remark('2025-09-01', 2, 'worst'),
  remark('2025-09-01', 2, 'worst again'),
  remark('2026-09-01', 5, 'middling'),
  remark('2026-10-01', undefined, 'last'),
];

test('few remarks are all told', () => {
  expect(tellingRemarks(ALL, 7)).toBe(ALL);
});

test('of many, those of the best and the worst sitting and the latest, oldest first', () => {
  const texts = (most: number) => tellingRemarks(ALL, most).map(({ text }) => text);
  expect(texts(1)).toEqual(['best']);
  expect(texts(3)).toEqual(['best', 'worst', 'worst again']);
  expect(texts(5)).toEqual(['best', 'worst', 'worst again', 'middling', 'last']);
});

test('without any score, the latest', () => {
  const unscored = ALL.map((one) => ({ ...one, score: undefined }));
  expect(tellingRemarks(unscored, 2).map(({ text }) => text)).toEqual(['middling', 'last']);
});
