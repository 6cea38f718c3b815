import fc from 'fast-check';

// The same cases in every run, so that a change, and not chance, is what makes a test fail. `npm run fuzz:properties`
// (another mode of tests/vitest.config.ts) draws others each time; where one fails, fast-check tells its seed.
const seed = process.env['PROPERTY_SEED'];
if (seed !== undefined && seed !== '') fc.configureGlobal({ seed: Number(seed) });
