/** How often a property is tried; `FC_LONG=1` asks for many more. */
export const RUNS = process.env['FC_LONG'] === undefined ? 500 : 20_000;
