import type { Condition } from './condition.ts';
import { sameAsPlain } from './reading.ts';

/** Variables that mean something to other programs, and to packages that are built in. */
export const OTHER_VARIABLES: Condition = {
  name: 'variables of other programs: DEBUG, CI, NODE_ENV',
  check: async (column, checks) => {
    const env = { DEBUG: '*', DEBUG_FD: '3', CI: 'true', NODE_ENV: 'production', LINES: '5' };
    await sameAsPlain(column, checks, { env: { ...env, TEAMCITY_VERSION: '2024', CLICOLOR: '1' } });
  },
};
