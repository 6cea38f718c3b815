import { expect, it } from 'vitest';
import { ledgerFrom } from '../../../tests/support/ledger-from.ts';
import { type ScoreRow, tastingFiles } from '../../../tests/support/tasting-ledger.ts';
import { scoreAgreement } from './score-agreement.ts';
import { scoreModels } from './score-models.ts';

type Marks = Readonly<Record<string, readonly (number | undefined)[]>>;

/** One plate of each of a row of cultivars; undefined where a taster left it out. */
function scored(marks: Marks, trait = 'flavour'): ScoreRow[] {
  return Object.entries(marks).flatMap(([taster, values]) =>
    values.flatMap((value, place) =>
      value === undefined ? [] : [{ taster, sitting: 'one', cultivar: `c${place}`, value, trait }],
    ),
  );
}

function agreementOf(...rows: readonly ScoreRow[]) {
  return scoreAgreement(scoreModels(ledgerFrom(tastingFiles(rows)), {}), 0.95);
}

it('counts harshness against tasters, and leaves it out where it is allowed for', () => {
  // Worked by hand: Joss marks 2 lower throughout. Plates 4 to 8 have mean square 2 * 2.5 = 5,
  // tasters 10, nothing is left; ICC(2,1) = 5 / (5 + 2 * 10 / 5) = 5 / 9.
  const [one] = agreementOf(...scored({ mara: [4, 5, 6, 7, 8], joss: [2, 3, 4, 5, 6] }));
  expect(one).toMatchObject({ crop: 'main', plates: 5, traits: ['flavour'] });
  expect(one?.one.estimate).toBeCloseTo(5 / 9, 12);
  expect(one?.mean.estimate).toBeCloseTo(10 / 14, 12);
  expect(one?.fair.estimate).toBeCloseTo(1, 12);
  expect(one?.one.low).toBeUndefined();
});

it('takes the three tasters with most plates before two with more', () => {
  const no = undefined;
  const [one] = agreementOf(
    ...scored({
      mara: [4, 5, 6, 7, 8, 9, 5, 4, 6],
      joss: [3, 5, 5, 6, 8, 8, 5, 3, 6],
      odo: [4, 4, 6, 6, 7, no, no, no, no],
      wren: [no, no, no, no, 7, 9, 4, no, no],
    }),
  );
  expect(one?.tasters.map(({ key }) => key)).toEqual(['joss', 'mara', 'odo']);
  expect(one?.plates).toBe(5);
});

it('says nothing of fewer than five plates, or of one taster', () => {
  expect(agreementOf(...scored({ mara: [4, 5, 6, 7], joss: [3, 5, 5, 6] }))).toEqual([]);
  expect(agreementOf(...scored({ mara: [4, 5, 6, 7, 8] }))).toEqual([]);
});

it('marks a plate by the traits that most were scored for', () => {
  const flavour = { mara: [4, 5, 6, 7, 8, 9], joss: [3, 5, 5, 6, 8, 8] };
  const sweetness = { mara: [6, 5, 6, 7, 8, 9], joss: [5, 5, 5, 6, 8, undefined] };
  const rare = { mara: [1], joss: [9] };
  const [one] = agreementOf(
    ...scored(flavour),
    ...scored(sweetness, 'sweetness'),
    ...scored(rare, 'texture'),
  );
  expect(one?.traits).toEqual(['flavour', 'sweetness']);
  // Joss left the sweetness of the last plate out.
  expect(one?.plates).toBe(5);
});
