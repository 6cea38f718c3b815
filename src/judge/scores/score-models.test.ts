import { describe, expect, it } from 'vitest';
import { ledgerFrom } from '../../../tests/support/ledger-from.ts';
import { type ScoreRow, tastingFiles } from '../../../tests/support/tasting-ledger.ts';
import { scoreLetters, scoreLimits } from './score-letters.ts';
import { type ScoreModel, scoreModels } from './score-models.ts';

/** Rows as "taster sitting cultivar value", with a crop or a trait behind where it matters. */
function rows(text: string): ScoreRow[] {
  return text
    .trim()
    .split('\n')
    .map((line) => {
      const [taster = '', sitting = '', cultivar = '', value = '', crop] = line.trim().split(/\s+/);
      return {
        taster,
        sitting,
        cultivar,
        value: Number(value),
        crop: crop === 'early' ? crop : 'main',
      };
    });
}

function modelOf(text: string): ScoreModel {
  const [model] = scoreModels(ledgerFrom(tastingFiles(rows(text))), {}, { unit: 'score' });
  if (model === undefined) throw new Error('no model');
  return model;
}

const BALANCED = `
  mara one amber 8
  mara one slate 6
  joss one amber 7
  joss one slate 5.5
  mara two amber 6
  mara two slate 5
  joss two amber 6.5
  joss two slate 4`;

describe('means of a model', () => {
  it('are the plain means where every taster tasted everything', () => {
    const { means, rawMeans, subjects, df } = modelOf(BALANCED);
    expect(subjects.map(({ cultivar }) => cultivar.key)).toEqual(['amber', 'slate']);
    expect(rawMeans).toEqual([6.875, 5.125]);
    expect(means[0]).toBeCloseTo(6.875, 12);
    expect(means[1]).toBeCloseTo(5.125, 12);
    // Eight scores less mean, cultivar, taster and sitting.
    expect(df).toBe(4);
  });

  it('allow for a harsh taster who tasted one cultivar only', () => {
    // Joss marks 3 lower than Mara, and had no plate of slate: alike but for him.
    const { means, rawMeans, unsure, errors } = modelOf(`
      mara one amber 7
      mara one slate 7
      joss one amber 4`);
    expect(rawMeans).toEqual([5.5, 7]);
    expect(means[0]).toBeCloseTo(5.5, 12);
    expect(means[1]).toBeCloseTo(5.5, 12);
    expect(unsure).toBe('too few');
    expect(errors).toEqual([undefined, undefined]);
  });

  it('allow for a poor evening', () => {
    // Everything scored 2 lower at the second sitting, where slate was not on the table.
    const { means } = modelOf(`
      mara one amber 8
      mara one slate 8
      joss one amber 6
      joss one slate 6
      mara two amber 6
      joss two amber 4`);
    expect(means[0]).toBeCloseTo(6, 12);
    expect(means[1]).toBeCloseTo(6, 12);
  });

  it('of several plates at a sitting take each plate as a score', () => {
    const { subjects, rawMeans } = modelOf(`
      mara one amber 8
      mara one amber 5
      mara one slate 6`);
    expect(subjects.map(({ samples, tasters }) => [samples, tasters])).toEqual([
      [2, 1],
      [1, 1],
    ]);
    expect(rawMeans[0]).toBe(6.5);
  });

  it('keep early and main crop apart, even at one sitting', () => {
    const files = tastingFiles(rows('mara one amber 9 early\nmara one amber 5\nmara one slate 6'));
    const models = scoreModels(ledgerFrom(files), {});
    expect(models.map(({ crop, rawMeans }) => [crop, ...rawMeans])).toEqual([
      ['early', 9],
      ['main', 5, 6],
    ]);
  });

  it('can be of trees, and then name them', () => {
    const [model] = scoreModels(
      ledgerFrom(tastingFiles(rows(BALANCED))),
      {},
      { by: 'tree', unit: 'score' },
    );
    expect(model?.subjects.map(({ tree }) => tree?.id)).toEqual(['Tamber', 'Tslate']);
  });

  it('do not hang on which cultivars are asked for', () => {
    const ledger = ledgerFrom(tastingFiles(rows(BALANCED)));
    const [all] = scoreModels(ledger, {});
    const [one] = scoreModels(ledger, { cultivars: ['amber'] });
    expect(one?.means).toEqual(all?.means);
  });
});

describe('errors of a model', () => {
  it('are those of an analysis of variance by hand', () => {
    const model = modelOf(BALANCED);
    // Residuals by hand: effects 0.875, taster (0.25, -0.25), sitting (0.625, -0.625) about 6.
    // 8 - 7.75, 7 - 7.25, 6 - 6.5, 6.5 - 6, then slate: 6 - 6, 5.5 - 5.5, 5 - 4.75, 4 - 4.25.
    const squares = 0.25 ** 2 + 0.25 ** 2 + 0.5 ** 2 + 0.5 ** 2 + 0.25 ** 2 + 0.25 ** 2;
    const se = Math.sqrt(squares / 4 / 4);
    expect(model.errors[0]).toBeCloseTo(se, 12);
    // t of 4 degrees of freedom, two-sided 5 %: 2.776445 (Fisher & Yates 1963, table III).
    expect(scoreLimits(model, 0, 0.95)?.low).toBeCloseTo(6.875 - 2.776445 * se, 5);
    expect((model.means[0] ?? 0) - (model.means[1] ?? 0)).toBeCloseTo(1.75, 12);
    expect(scoreLetters(model)).toEqual(['a', 'b']);
  });

  it('are not read out of marks that happen to agree to the last', () => {
    const model = modelOf(`
      mara one amber 7
      mara one slate 6
      joss one amber 7
      joss one slate 6`);
    expect(model.df).toBe(1);
    expect(model.unsure).toBe('no spread');
    expect(model.errors).toEqual([undefined, undefined]);
    expect(scoreLimits(model, 0, 0.95)).toBeUndefined();
    expect(scoreLetters(model)).toEqual([undefined, undefined]);
  });
});

describe('cultivars that nothing joins', () => {
  const model = modelOf(`
    mara one amber 7
    mara one slate 6
    joss one amber 6
    joss one slate 6.5
    mara two ember 3
    joss two ember 4`);

  it('stand in groups, the largest first, and are not compared', () => {
    expect(model.groups.map(({ members }) => members)).toEqual([[0, 2], [1]]);
    expect((model.means[0] ?? 0) - (model.means[2] ?? 0)).toBeCloseTo(0.25, 12);
  });

  it('have no letter where they stand alone', () => {
    expect(scoreLetters(model)).toEqual(['a', undefined, 'a']);
  });
});

describe('with the plate as unit', () => {
  const told = (text: string) => {
    const [model] = scoreModels(ledgerFrom(tastingFiles(rows(text))), {});
    if (model === undefined) throw new Error('no model');
    return model;
  };

  it('does not take tasters who agree on one plate for two plates', () => {
    // One sitting, a plate of each: whatever tasters agree on may be the luck of the plate.
    const { unsure, errors, means } = told(
      'a 1 amber 8\nb 1 amber 8\nc 1 amber 7\na 1 slate 5\nb 1 slate 4\nc 1 slate 5',
    );
    expect(unsure).toBe('too few');
    expect(errors).toEqual([undefined, undefined]);
    expect((means[0] ?? 0) - (means[1] ?? 0)).toBeCloseTo(3, 10);
  });

  it('undoes a harsh taster who came to some plates only', () => {
    // Taster b marks 3 lower throughout and missed the second plate of amber.
    const { means } = told(
      'a 1 amber 8\nb 1 amber 5\na 1 slate 6\nb 1 slate 3\na 2 amber 8\na 2 slate 6\nb 2 slate 3',
    );
    expect((means[0] ?? 0) - (means[1] ?? 0)).toBeCloseTo(2, 10);
  });
});
