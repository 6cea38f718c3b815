import { resolve } from 'node:path';
import { leastScoreDifference, scoreAnova } from '../../src/judge/scores/score-anova.ts';
import { scoreModels } from '../../src/judge/scores/score-models.ts';
import { openLedger } from '../../src/library/open-ledger.ts';
import type { Figure, Report } from './figure.ts';
import { type Command, printedBy } from './printed-by.ts';

type Row = Readonly<Record<string, string | number | null | undefined>>;

const BIN = resolve('bin/pomary.js');

export function exportCommand(ledger: string, tables: string): Command {
  return [process.execPath, BIN, '--ledger', ledger, 'export', '--output', tables];
}

/** The command line of a report whose numbers are not rounded. */
export function reportCommand(ledger: string, { argv }: Report): Command {
  return [process.execPath, BIN, '--ledger', ledger, ...argv, '--format', 'json'];
}

/**
 * Numbers that the R script does not work out: Shukla's variance and Wricke's ecovalence rest on a search for the
 * largest table without gaps, alternate bearing on which years of a tree count, and a group is a label.
 */
const LEFT_OUT = ['shukla', 'wricke', 'alternation', 'alternationPairs', 'group'];

/** Every other number of a report, as the built program prints it. */
export function reportFigures(ledger: string, report: Report): readonly Figure[] {
  const { rows } = JSON.parse(printedBy(reportCommand(ledger, report))) as { rows: Row[] };
  const { name, by } = report;
  if (name === 'crops') return figuresIn(name, rows.flatMap(cropRows), by);
  return figuresIn(name, name === 'scores' ? scoreRows(rows) : rows, by);
}

function figuresIn(report: string, rows: readonly Row[], by: string): readonly Figure[] {
  return rows.flatMap((row) => {
    const { crop, trait = '', [by]: of } = row;
    const names = { report, crop: String(crop), of: String(of), trait: String(trait) };
    return Object.entries(row).flatMap(([figure, value]) =>
      typeof value === 'number' && !LEFT_OUT.includes(figure) ? [{ ...names, figure, value }] : [],
    );
  });
}

/** Rows of a crop each, of a row that has both: `earlyLoad` is the load of the early one. */
function cropRows({ cultivar, ...both }: Row): Row[] {
  return ['early', 'main'].map((crop) => {
    const own = Object.entries(both).flatMap(([key, value]) => {
      const [first = '', ...rest] = key.slice(crop.length);
      return key.startsWith(crop) ? [[first.toLowerCase() + rest.join(''), value]] : [];
    });
    return { crop, cultivar, ...Object.fromEntries(own) };
  });
}

/** Scores with the place of each mean in its table, and how many others it shares no letter with. */
function scoreRows(rows: readonly Row[]): Row[] {
  const shareLetter = (a: Row, b: Row) =>
    [...String(a['letters'])].some((letter) => String(b['letters']).includes(letter));
  return rows.map((row) => {
    const table = rows.filter(({ crop, trait }) => crop === row['crop'] && trait === row['trait']);
    const apart = table.filter((other) => !shareLetter(row, other)).length;
    return { ...row, place: table.indexOf(row) + 1, apart };
  });
}

/** The analyses of variance that the notes of `scores` tell in words, with all their digits. */
export async function anovaFigures(folder: string): Promise<readonly Figure[]> {
  const { ledger } = await openLedger(folder);
  if (ledger === undefined) throw new Error(`${folder} has errors`);
  const rows = scoreModels(ledger, {}, { unit: 'score' }).flatMap((model) => {
    const anova = scoreAnova(model);
    if (anova === undefined) return [];
    const { crop, trait } = model;
    const { sitting, taster, subject, residual } = anova;
    const lsd = leastScoreDifference(model, 0.05);
    return [
      { of: 'sittings', ...sitting },
      { of: 'tasters', ...taster },
      { of: 'cultivars', ...subject },
      { of: 'rest', ...residual, lsd },
    ].map((line) => ({ crop, trait, ...line }));
  });
  return figuresIn('anova', rows, 'of');
}
