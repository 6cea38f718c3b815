import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type CaseEnd, runCases } from '../support/case-pool.ts';

const folder = mkdtempSync(join(tmpdir(), 'pomary-pool-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

// Answers as `answerCases` does, in JavaScript that any Node runs.
const module = join(folder, 'worker.mjs');
writeFileSync(
  module,
  `process.on('message', (seed) => {
    if (seed === 13) for (;;);
    if (seed === 15) process.exit(7);
    if (seed === 16) process.kill(process.pid, 'SIGKILL');
    setTimeout(() => process.send({ twice: seed * 2 }), seed === 10 ? 300 : 0);
  });`,
);

describe('a pool of processes for cases', () => {
  // At once: each waits for the case that hangs.
  it.concurrent.each([1, 3])(
    'tells of every case in order with %d, of those that hang or die too',
    async (processes) => {
      const ends: CaseEnd<{ twice: number }>[] = [];
      // Time for a process to start on a busy computer.
      const pool = { module, args: [], processes, capMs: 5_000 };
      await runCases<{ twice: number }>(pool, 10, 9, (end) => ends.push(end));
      expect(ends).toEqual([
        { seed: 10, told: { twice: 20 } },
        { seed: 11, told: { twice: 22 } },
        { seed: 12, told: { twice: 24 } },
        { seed: 13, lost: 'not done after 5000 ms' },
        { seed: 14, told: { twice: 28 } },
        { seed: 15, lost: 'its process ended with status 7' },
        { seed: 16, lost: 'its process ended with SIGKILL' },
        { seed: 17, told: { twice: 34 } },
        { seed: 18, told: { twice: 36 } },
      ]);
    },
  );
});
