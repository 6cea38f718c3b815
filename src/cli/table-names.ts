/** In the order of `exportTables`, which a test holds; the list itself is loaded when it is used. */
export const TABLE_NAMES = [
  ...(['counts', 'picks', 'weights', 'drops', 'tastings', 'samples', 'scores', 'words'] as const),
  ...(['orders', 'growth', 'events', 'sites', 'tasters', 'cultivars', 'synonyms'] as const),
  ...(['trees', 'seasons', 'weather', 'figures', 'columns'] as const),
];
export type TableName = (typeof TABLE_NAMES)[number];
