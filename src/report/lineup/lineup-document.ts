import { countColumn, textColumn } from '../columns.ts';
import { dayAndYear } from '../day-words.ts';
import {
  BLANK,
  type Block,
  type Document,
  type JsonValue,
  paragraph,
  type Section,
} from '../document.ts';
import type { Column, Row } from '../table.ts';
import { sentence } from '../words.ts';
import type { LineupSheet, SheetOrder, SheetSample } from './lineup-sheet.ts';

/** The sheets of a sitting to print: the key for whoever serves, a page a taster, what goes into the file. */
export function lineupDocument(sheet: LineupSheet): Document {
  const { title, ledgerTitle, selection, samples, orders, notes } = sheet;
  const leftOut = leftOutLines(sheet);
  const isEmpty = samples.length === 0;
  const sections = isEmpty
    ? leftOut.length === 0
      ? []
      : [{ key: 'leftOut', heading: LEFT_OUT, blocks: [listOf(leftOut)] }]
    : [
        serverSection(sheet, leftOut),
        ...orders.map((order) => tasterSection(sheet, order)),
        pasteSection(sheet),
      ];
  return {
    ...{ report: 'lineup', title, ledgerTitle, selection, sections },
    paper: 'portrait',
    says: saidOf(sheet),
    notes: isEmpty ? notes : [],
  };
}

const LEFT_OUT = 'Left out';

/** Which code is which tree, and why. */
function serverSection(sheet: LineupSheet, leftOut: readonly string[]): Section {
  const columns: readonly Column[] = [
    textColumn('code', { label: 'Code', drop: 0 }),
    textColumn('tree', { label: 'Tree', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    textColumn('site', { label: 'Site', drop: 2 }),
    countColumn('fruitLeft', { label: 'Fruit left', drop: 3 }),
    countColumn('tastings', { label: 'Tasted before', drop: 4 }),
    textColumn('ripe', { label: 'Ripe', drop: 1 }),
  ];
  const rows = sheet.samples.map(({ code, tree, cultivar, site, fruitLeft, tastings, ripe }) => ({
    ...{ code, tree, cultivar, site, fruitLeft, tastings, ripe },
  }));
  // Two samples may be there for the sake of each other.
  const reasons = [...new Set(sheet.samples.map(({ why }) => `${why}.`))];
  return {
    key: 'server',
    heading: 'For whoever serves: keep it from the tasters',
    blocks: [
      { kind: 'table', table: { columns, rows }, ifEmpty: '', notes: [] },
      ...headed('Why these', reasons),
      ...headed(LEFT_OUT, leftOut),
      { kind: 'notes', notes: sheet.notes },
    ],
  };
}

function headed(text: string, lines: readonly string[]): readonly Block[] {
  return lines.length === 0 ? [] : [{ kind: 'subheading', text }, listOf(lines)];
}

function listOf(lines: readonly string[]): Block {
  return { kind: 'list', lines: lines.map((line) => [line]) };
}

/** The sprayed ones stand first, so what is cut off is never one of a few of them. */
const MOST_LEFT_OUT = 12;

function leftOutLines({ leftOut }: LineupSheet): readonly string[] {
  const lines = leftOut.map(({ cultivar, tree, why }) => `${cultivar} (${tree}): ${why}.`);
  if (lines.length <= MOST_LEFT_OUT) return lines;
  const shown = lines.slice(0, MOST_LEFT_OUT);
  return [...shown, `${lines.length - MOST_LEFT_OUT} more; --format json names all.`];
}

/** A taster's page: codes in serving order, a blank for each trait. */
function tasterSection(
  { on, scale, traits }: LineupSheet,
  { taster, name, codes }: SheetOrder,
): Section {
  const columns: readonly Column[] = [
    textColumn('code', { label: 'Code', drop: 0 }),
    ...traits.map((trait) => countColumn(trait, { label: sentence(trait), drop: 0 })),
    textColumn('remarks', { label: 'Remarks', drop: 0 }),
  ];
  const rows = codes.map(
    (code): Row => ({
      ...Object.fromEntries(traits.map((trait) => [trait, BLANK])),
      code,
      remarks: BLANK.repeat(3),
    }),
  );
  return {
    key: `taster ${taster}`,
    heading: `${name}, ${dayAndYear(on)}`,
    isNewPage: true,
    blocks: [
      paragraph(
        `Taste from the top down, with water in between. Scores from ${scale.low} to ${scale.high}, halves allowed.`,
      ),
      { kind: 'table', table: { columns, rows }, ifEmpty: '', notes: [] },
      ...(codes.length < 2
        ? []
        : [
            {
              kind: 'blanks',
              text: 'Best first, with = between equals:',
              count: codes.length,
            } as const,
          ]),
    ],
  };
}

function pasteSection(sheet: LineupSheet): Section {
  const { file } = sheet;
  const where = {
    tastings: `goes under tastings: in ${file.path}`,
    season: `goes at the end of ${file.path}`,
    nothing: `begins ${file.path}`,
  }[file.has];
  return {
    key: 'yaml',
    heading: `After the tasting: ${where}`,
    isNewPage: true,
    blocks: [
      { kind: 'code', language: 'yaml', text: lineupYaml(sheet) },
      { kind: 'subheading', text: 'Or typed in pomary enter' },
      paragraph('A mark in place of each -; then each order, as in the last line.'),
      { kind: 'code', language: 'text', text: lineupLines(sheet) },
    ],
  };
}

/** The same sitting as lines to type. */
function lineupLines({ on, crop, traits, samples, orders }: LineupSheet): string {
  const tasters = orders.map(({ taster }) => taster);
  const blanks = traits.map(() => '-').join(' ');
  const sheets = tasters.map((taster) => `${taster} ${blanks}`).join(', ');
  const codes = samples.map(({ code }) => code);
  const lines = [
    `on ${on}`,
    ...samples.map(({ tree, code }) => `taste ${tree} ${crop} as ${code} ripe`),
    ...codes.map((code) => `taste ${code}: ${sheets}`),
    ...(codes.length < 2 ? [] : [`order ${crop} ${tasters[0] ?? ''} ${codes.join(' > ')}`]),
  ];
  return `${lines.join('\n')}\n`;
}

/** The sitting for programs: samples with codes and reasons, serving orders, and the YAML to paste. */
function saidOf(sheet: LineupSheet): NonNullable<Document['says']> {
  const { on, season, crop, scale, traits, samples, outlook, orders, leftOut, file, notes } = sheet;
  const copies = (records: readonly object[]): JsonValue => records.map((one) => ({ ...one }));
  return {
    ...{ on, season, crop, scale: { ...scale }, traits },
    samples: copies(samples),
    outlook: outlook === null ? null : { ...outlook },
    orders: copies(orders),
    leftOut: copies(leftOut),
    file: file.path,
    yaml: samples.length === 0 ? null : lineupYaml(sheet),
    notes: notes.map(({ kind, text }) => ({ kind, text })),
  };
}

/**
 * The sitting as it goes into the season's file: samples with their codes, and the score sheets as
 * comments to fill in. Where the file or its list of tastings is still to be begun, it begins it.
 */
function lineupYaml(sheet: LineupSheet): string {
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
