import { describe, expect, it } from 'vitest';
import { expectMarked, pointedAt } from '../support/check-files.ts';
import { runOn } from '../support/run-on.ts';
import { ledgerWithSeason } from './base-ledger.ts';

const withPhoto = (photo: string, mark = '') =>
  ledgerWithSeason(
    `growth:\n  - { on: 2026-06-01, tree: G1, girth: 12, photo: ${JSON.stringify(photo)} }${mark}\n`,
  );
const around = { isFile: (path: string) => path === 'photos/g1.jpg' };

describe('a photo', () => {
  it.each(['photos/g1.jpg'])('inside the ledger and there is well: %s', (photo) => {
    expectMarked(withPhoto(photo), around);
  });

  it.each([
    '../g1.jpg',
    'photos/../../g1.jpg',
    '..\\g1.jpg',
    '/home/g1.jpg',
    '\\\\disk\\g1.jpg',
    '~/g1.jpg',
    'C:\\g1.jpg',
    'c:g1.jpg',
    'http://example.org/g1.jpg',
    'javascript:alert(1)',
    'data:image/png;base64,AA',
    '.',
  ])('outside the ledger is questioned: %s', (photo) => {
    const found = expectMarked(withPhoto(photo, ' # expect: photo-outside'), around);
    expect(pointedAt(found[0] ?? expect.fail())).toBe(JSON.stringify(photo));
  });

  it.each(['photos/none.png', 'photos/G1.jpg', 'g1.jpg'])('that is not there: %s', (photo) => {
    expectMarked(withPhoto(photo, ' # expect: photo-missing'), around);
  });

  it('of an entry or of a sample, wherever it stands', () => {
    const season = `counts:
  - { on: 2026-07-02, tree: Y1, crop: early, fruit: 9, photo: a.jpg } # expect: photo-missing
picks:
  - { on: 2026-07-24, tree: Y1, crop: early, fruit: 3, photo: b.jpg } # expect: photo-missing
drops:
  - { on: 2026-07-25, tree: Y1, crop: early, fruit: 1, photo: c.jpg } # expect: photo-missing
tastings:
  - on: 2026-07-24
    photo: d.jpg # expect: photo-missing
    samples:
      - { tree: Y1, crop: early, photo: e.jpg } # expect: photo-missing
    scores: { mara: { Y1: { sweetness: 7, flavour: 7, texture: 7 } } }
events:
  - { on: 2026-07-26, tree: Y1, kind: water, photo: f.jpg } # expect: photo-missing
`;
    expectMarked(ledgerWithSeason(season), around);
  });

  it('is not looked for where nothing is known of the disk', () => {
    expectMarked(withPhoto('photos/none.png'));
  });

  it('is looked for by check in the folder of the ledger', async () => {
    const files = withPhoto('photos/g2.jpg');
    const check = async (more: Record<string, string>) =>
      (await runOn(['check', '--format', 'json'], { ...files, ...more })).out;
    expect(await check({})).toContain('photo-missing');
    expect(await check({ 'photos/g2.jpg': 'a picture' })).not.toContain('photo-missing');
  });
});
