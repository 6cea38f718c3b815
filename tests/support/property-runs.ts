/** How often a property is tried; `FC_LONG=1` asks for many more. */
export const RUNS = process.env['FC_LONG'] === undefined ? 1000 : 20_000;
