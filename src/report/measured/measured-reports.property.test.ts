import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PickSketch, SeasonSketch } from '../../../tests/support/build-ledger.ts';
import { buildLedger } from '../../../tests/support/build-ledger.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report, Row } from '../table.ts';
import { cropsReport } from './crops-report.ts';
import { ripeningReport } from './ripening-report.ts';
import { soundnessReport } from './soundness-report.ts';
import { weightsReport } from './weights-report.ts';
import { yieldReport } from './yield-report.ts';

const place = fc.record({
  tree: fc.constantFrom('A1', 'A2', 'B1'),
  crop: fc.constantFrom('early' as const, 'main' as const),
  on: fc.integer({ min: 1, max: 28 }).map((day) => `2026-08-${String(day).padStart(2, '0')}`),
});
const fruit = fc.integer({ min: 0, max: 40 });
const grams = fc.integer({ min: 5, max: 120 });

const counts = fc.uniqueArray(
  fc
    .tuple(place, fruit, fc.option(fc.integer({ min: 1, max: 12 })))
    .map(([at, hung, branches]) => ({
      ...at,
      fruit: hung,
      ...(branches === null ? {} : { branches }),
    })),
  // Two counts of a tree on one day may differ in branches, and then the later line is taken.
  { maxLength: 8, selector: ({ tree, on }) => `${tree} ${on}` },
);
const picks = fc.array(
  fc.tuple(place, fc.array(grams, { maxLength: 4 }), fruit, fc.boolean(), fc.nat(3)).map(
    ([at, weights, more, together, kind]): PickSketch => ({
      ...at,
      fruit: weights.length + more,
      weights,
      ...(together ? { weight: 50 * (weights.length + more) } : {}),
      ...(kind === 0 ? { sample: 'best' as const } : {}),
      split: Math.floor((weights.length + more) / 2),
    }),
  ),
  { maxLength: 10 },
);
const drops = fc.array(
  fc.tuple(place, fruit).map(([at, lost]) => ({ ...at, fruit: lost })),
  { maxLength: 4 },
);
const season = fc.record({ counts, picks, drops });

function ledgerOf(sketch: SeasonSketch): Ledger {
  return buildLedger({
    cultivars: { a: { name: 'Amber Lantern' }, b: { name: 'Slate Quay' } },
    trees: { A1: { cultivar: 'a' }, A2: { cultivar: 'a', site: 'glass' }, B1: { cultivar: 'b' } },
    seasons: { 2026: sketch },
    frost: { 2026: '2026-08-20' },
    trial: { standard: 'a' },
  });
}

const wetting = { after: 'water', withinDays: 3 } as const;
const BUILDERS: readonly (readonly [string, (from: Ledger, request: ReportRequest) => Report])[] = [
  ['yield', yieldReport],
  ['weights', weightsReport],
  ['crops', cropsReport],
  ['soundness', soundnessReport],
  ['splits', (from, request) => soundnessReport(from, request, wetting)],
  ['ripening', ripeningReport],
];
const byCultivar: ReportRequest = { selection: {}, by: ['cultivar'], confidence: 0.95 };

/** Cells of a row that no report may hold. */
function troubles({ columns }: Report, row: Row): string[] {
  return columns.flatMap(({ key, kind, upTo }, at) => {
    const cell = row[key];
    if (typeof cell !== 'number') return [];
    if (!Number.isFinite(cell)) return [`${key} is ${cell}`];
    if (kind === 'share' && Math.abs(cell) > 1) return [`${key} is ${cell}`];
    if (upTo === undefined) return [];
    const estimate = Number(row[columns[at - 1]?.key ?? '']);
    const isAround = cell <= estimate + 1e-12 && Number(row[upTo]) >= estimate - 1e-12;
    return isAround ? [] : [`${key} does not lie around ${estimate}`];
  });
}

/** Rows without the last digits of their figures, in which sums of thirds may differ. */
function rounded(rows: readonly Row[] = []): string[] {
  return rows.map((row) =>
    JSON.stringify(row, (_key, value: unknown) =>
      typeof value === 'number' ? Number(value.toPrecision(10)) : value,
    ),
  );
}

describe.each(BUILDERS)('%s of any season', (_name, build) => {
  it('has no figure that is not a number, an interval around its estimate, and shares in bounds', () => {
    fc.assert(
      fc.property(season, (sketch) => {
        const report = build(ledgerOf(sketch), byCultivar);
        expect(report.rows.flatMap((row) => troubles(report, row))).toEqual([]);
      }),
    );
  });

  it('does not depend on the order of the entries in the file', () => {
    fc.assert(
      fc.property(season, (sketch) => {
        const turned = {
          counts: sketch.counts.toReversed(),
          picks: sketch.picks.toReversed(),
          drops: sketch.drops.toReversed(),
        };
        const [as, back] = [sketch, turned].map((one) => build(ledgerOf(one), byCultivar));
        expect(back?.notes).toEqual(as?.notes);
        expect(rounded(back?.rows)).toEqual(rounded(as?.rows));
      }),
    );
  });
});

describe('rows of a cultivar', () => {
  it('add up the rows of its trees', () => {
    fc.assert(
      fc.property(season, (sketch) => {
        const ledger = ledgerOf(sketch);
        const trees = yieldReport(ledger, { ...byCultivar, by: ['tree'] }).rows;
        for (const row of yieldReport(ledger, byCultivar).rows) {
          const own = trees.filter(
            (tree) => tree['cultivar'] === row['cultivar'] && tree['crop'] === row['crop'],
          );
          for (const key of ['load', 'picked', 'trees']) {
            expect(own.reduce((all, tree) => all + Number(tree[key]), 0)).toBe(row[key]);
          }
        }
      }),
    );
  });
});
