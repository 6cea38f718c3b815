import { withoutNetwork } from '../support/namespaces.ts';
import { CannotBeMade } from './checks.ts';
import type { Condition } from './condition.ts';
import { sameAsPlain } from './reading.ts';

export const NO_NETWORK: Condition = {
  name: 'no network at all',
  check: async (column, checks) => {
    const before = withoutNetwork();
    if (before === undefined) throw new CannotBeMade('unshare does not work here');
    await sameAsPlain(column, checks, { before });
  },
};
