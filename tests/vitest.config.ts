import { fileURLToPath } from 'node:url';
import { configDefaults, defineConfig } from 'vitest/config';

/** Tests of the built program, and those that take longest: left out by `npm run fast`. */
const NOT_FAST = [
  'tests/{e2e,faults,bench,alternative,everywhere}/**',
  'tests/{library,supply-chain,completion,readme,revision-changes,hostile-repository}.test.ts',
  'tests/properties/**',
  'tests/reference/yaml-test-suite.test.ts',
  'tests/broken-input.test.ts',
];

// The configuration lives here because the top level of the project is kept to what a reader needs.
export default defineConfig(({ mode }) => ({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['src/**/*.test.ts', 'tests/**/*.test.ts'],
    exclude: [...configDefaults.exclude, ...(mode === 'fast' ? NOT_FAST : [])],
    setupFiles: ['tests/setup.ts'],
    env: { PROPERTY_SEED: mode === 'free' ? '' : '20260729' },
    // Simulations are slow on a busy machine; nothing here waits for anything.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    pool: 'threads',
    maxWorkers: '100%',
  },
}));
