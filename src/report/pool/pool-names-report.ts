import type { NameConflict, PooledCultivar } from '../../judge/pool/same-cultivars.ts';
import { isNoName } from '../../judge/pool/same-cultivars.ts';
import { countColumn, textColumn } from '../columns.ts';
import { note, notesInOrder } from '../common-notes.ts';
import { orderRows } from '../row-order.ts';
import type { Column, Report, Row } from '../table.ts';
import { counted, listed } from '../words.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';

const COLUMNS: readonly Column[] = [
  textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
  countColumn('gardens', { label: 'Gardens', drop: 3 }),
  textColumn('garden', { label: 'Garden', drop: 0 }),
  textColumn('name', { label: 'Name there', drop: 0 }),
  textColumn('also', { label: 'Also called there', drop: 2 }),
  textColumn('taken', { label: 'Taken for', drop: 0 }),
  textColumn('why', { label: 'Why', drop: 1 }),
];

/** What was taken for the same cultivar, what was not, and why. */
export function poolNamesReport(material: PoolMaterial, request: PoolReportRequest): Report {
  const { gardens, same } = material;
  const name = (garden: number) => gardens[garden]?.name ?? '';
  const isShown = (...places: readonly number[]) =>
    request.rows === undefined || places.some((at) => request.rows?.has(at));
  const members = same.cultivars.flatMap((pooled, at) =>
    isShown(at)
      ? pooled.members.map(
          ({ garden, cultivar }): Row => ({
            cultivar: pooled.name,
            gardens: pooled.members.length,
            garden: name(garden),
            name: cultivar.name,
            also: cultivar.also.length === 0 ? null : cultivar.also.join(', '),
            ...takenFor(pooled, cultivar.name, same.conflicts, gardens.length, name),
          }),
        )
      : [],
  );
  const pairs = [
    ...same.alike.map(({ one, other, why }) => ({
      one,
      other,
      garden: null,
      taken: 'asked',
      why: WHY[why],
    })),
    ...same.doubts.map(({ one, other, garden, why }) => ({
      one,
      other,
      garden: name(garden),
      taken: 'in doubt there, kept apart',
      why: why ?? 'perhaps the same, says the ledger',
    })),
  ].filter(({ one, other }) => isShown(one, other));
  const asked = pairs.map(
    ({ one, other, ...rest }): Row => ({
      cultivar: same.cultivars[one]?.name ?? null,
      gardens: same.cultivars[one]?.members.length ?? null,
      name: same.cultivars[other]?.name ?? null,
      also: null,
      ...rest,
    }),
  );
  const { rows, cut } = orderRows(COLUMNS, [...members, ...asked], { blocks: [] }, request);
  const shared = same.cultivars.filter((one) => one.members.length > 1).length;
  return {
    report: 'pool',
    title: `Names in ${counted(gardens.length, 'garden')}: ${shared} of ${counted(same.cultivars.length, 'cultivar')} in more than one`,
    ledgerTitle: gardens[0]?.ledger.trial.title ?? '',
    selection: { names: 'all', ...Object.fromEntries(request.keptTo) },
    columns: COLUMNS,
    rows,
    notes: notesInOrder([
      note(
        'method',
        'Cultivars are the same by name or also: letters and digits alone, without accents, case and spaces; never by a doubt, and never so that two which one garden keeps apart become one.',
      ),
      asked.length === 0
        ? undefined
        : note(
            'evidence',
            `${counted(asked.length, 'pair')} may be one and ${asked.length === 1 ? 'is' : 'are'} kept apart. Where they are, write the other name under also in cultivars.yaml.`,
          ),
      cut === undefined ? undefined : note('evidence', cut),
    ]),
  };
}

const WHY = {
  spelling: 'spelt nearly alike',
  words: 'the same words in another order',
  'no-name': 'a label that is no name: another garden may have one too',
} as const;

function takenFor(
  pooled: PooledCultivar,
  own: string,
  conflicts: readonly NameConflict[],
  gardens: number,
  name: (garden: number) => string,
): { readonly taken: string; readonly why: string | null } {
  const conflict = conflicts.find(({ kept, against }) =>
    [...kept, ...against.map(({ cultivar }) => cultivar)].some((one) =>
      pooled.members.some(({ cultivar }) => cultivar === one),
    ),
  );
  if (conflict !== undefined) {
    return {
      taken: pooled.members.length > 1 ? 'the same, by name alone' : 'one of its own',
      why: `${name(conflict.garden)} keeps ${listed(conflict.kept.map((one) => one.name))} apart`,
    };
  }
  if (pooled.members.length > 1) {
    return { taken: 'the same', why: own === pooled.name ? 'by name' : `${own} = ${pooled.name}` };
  }
  return {
    taken: gardens > 1 ? 'one of its own' : 'itself',
    why: isNoName(own) ? 'a label that is no name joins nothing' : null,
  };
}
