import type { LineupSheet, SheetSample } from './lineup-sheet.ts';

/**
 * The sitting as it goes into the season's file: samples with their codes, and the score sheets as
 * comments to fill in. Where the file or its list of tastings is still to be begun, it begins it.
 */
export function lineupYaml(sheet: LineupSheet): string {
  const frame = {
    nothing: [`season: ${sheet.season}`, '', 'tastings:'],
    season: ['tastings:'],
    tastings: [],
  }[sheet.file.has];
  const tasters = sheet.orders.map(({ taster }) => scalar(taster));
  const blanks = sheet.traits.map((trait) => `${scalar(trait)}: `).join(', ');
  const scores = tasters.flatMap((taster) => [
    `    #   ${taster}:`,
    ...sheet.samples.map(({ code }) => `    #     "${code}": { ${blanks}}`),
  ]);
  const lines = [
    ...frame,
    `  - on: ${sheet.on}`,
    '    samples:',
    ...sheet.samples.map((sample) => `      - ${sampleLine(sample, sheet)}`),
    '    # Fill in, then take the "# " away. Leave out what nobody scored.',
    '    # scores:',
    ...scores,
    '    # order: # best first; a list inside the list is a tie',
    ...tasters.map((taster) => `    #   ${taster}: []`),
  ];
  return `${lines.join('\n')}\n`;
}

function sampleLine({ tree, code }: SheetSample, { crop }: LineupSheet): string {
  return `{ tree: ${scalar(tree)}, crop: ${crop}, as: "${code}", ripeness: ripe }`;
}

/** Text as a YAML scalar: in quotes unless every reader of YAML takes it for text as it stands. */
function scalar(text: string): string {
  const isPlain = /^[A-Za-z][A-Za-z0-9_-]*$/.test(text) && !WORDS.test(text);
  return isPlain ? text : JSON.stringify(text);
}

/** Words that some reader of YAML takes for a truth value, nothing or a number. */
const WORDS = /^(y|n|yes|no|on|off|true|false|null|nan|inf)$/i;
