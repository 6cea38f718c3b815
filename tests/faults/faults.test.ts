import { afterAll, beforeAll, expect, test } from 'vitest';
import { FAULTS } from './fault-table.ts';
import { LIGHT } from './outcome.ts';
import { makeScene, type Scene } from './scene.ts';

// The light form; the full one is node tests/faults/run.mjs.

let scene: Scene;
beforeAll(async () => {
  scene = await makeScene();
});
afterAll(() => {
  scene.remove();
});

for (const fault of FAULTS) {
  test(`nothing is lost: ${fault.name}`, async (context) => {
    const { counts, problems, skipped } = await fault(scene, LIGHT);
    if (skipped !== undefined) context.skip(skipped);
    expect({ problems, counts }).toEqual({ problems: [], counts });
  });
}
