import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lookOf } from '../../src/cli/look.ts';
import { openForReport } from '../../src/cli/open-ledger.ts';
import { FORMATS, renderReport } from '../../src/render/render-report.ts';
import { builtReport } from '../support/all-reports.ts';
import { memoryHost } from '../support/memory-host.ts';
import { broken, KINDS } from '../support/mutations.ts';
import { runOn } from '../support/run-on.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { REPORTS, troubleAtGlance, troubleWith } from '../support/trouble-with.ts';

describe('a ledger broken at random', () => {
  it('is broken in every way that there is, and the same way for a seed', () => {
    const kinds = fc
      .sample(broken(SMALL_EXAMPLE), { numRuns: 400, seed: 1 })
      .map((one) => one.kinds);
    expect([...new Set(kinds.flat())].sort()).toEqual([...KINDS].sort());
    const again = () => fc.sample(broken(SMALL_EXAMPLE), { numRuns: 1, seed: 7 });
    expect(again()).toEqual(again());
  });

  it('has its reports drawn up beside the commands as the commands show them', async () => {
    const { host } = memoryHost({ files: SMALL_EXAMPLE });
    const ledger = await openForReport(host, { color: true });
    for (const name of REPORTS) {
      const report = await builtReport(name, ledger);
      for (const format of FORMATS) {
        const { out } = await runOn([name, '--format', format], SMALL_EXAMPLE);
        expect(await renderReport(report, format, lookOf(host, host.stdout, false))).toBe(out);
      }
    }
  });

  it('starts from one that nothing is wrong with, and that every report can read', async () => {
    expect(REPORTS.length).toBeGreaterThan(5);
    for (const turn of [0, 1, 2, 3, 4, 5, 6, 7]) {
      expect(await troubleWith(SMALL_EXAMPLE, turn)).toBeUndefined();
    }
  });

  it('is never more than told where it is broken, and never shows a figure that is none', async () => {
    let looked = 0;
    await fc.assert(
      fc.asyncProperty(broken(SMALL_EXAMPLE), fc.nat({ max: 999 }), async ({ files }, turn) => {
        expect(await troubleAtGlance(files, turn)).toBeUndefined();
        looked++;
      }),
      // A slow computer looks at fewer; tests/bench/fuzz.ts looks at as many as are asked for.
      { numRuns: 500, seed: 20_260_729, interruptAfterTimeLimit: 20_000 },
    );
    expect(looked).toBeGreaterThan(100);
  });
});
