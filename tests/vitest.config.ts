import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// The configuration lives here because the top level of the project is kept to what a reader needs.
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['src/**/*.test.ts', 'tests/**/*.test.ts'],
    // Simulations are slow on a busy machine; nothing here waits for anything.
    testTimeout: 300_000,
    pool: 'threads',
  },
});
