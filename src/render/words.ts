/** What stands in place of a table without rows. */
export const NOTHING = 'Nothing to show: no entry of the ledger fits what was asked for.';
