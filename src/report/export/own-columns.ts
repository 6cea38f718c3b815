import type { CellField, Holds } from '../../entries/field.ts';
import type { Said } from '../../entries/kind.ts';
import { baseUnit } from '../../model/quantity.ts';
import type { Cell } from '../table.ts';
import type { ExportColumn, Field, FieldKind } from './export-table.ts';

/** Columns that follow from a field or stand for it in more detail, by the key they stand behind. */
type Following<Thing> = Readonly<Record<string, readonly Field<Thing>[]>>;

/**
 * The columns that the fields of an entry have by themselves, in the order of `keys`.
 *
 * @param of what the entry of a row says, by the keys of its fields
 */
export function ownColumns<Thing>(
  fields: Readonly<Record<string, CellField>>,
  of: (thing: Thing) => Said,
  following: Following<Thing> = {},
  keys: readonly string[] = Object.keys(fields),
): readonly Field<Thing>[] {
  return keys.flatMap((key) => {
    const sketch = exportedColumn(key, fields[key]);
    const own =
      sketch === undefined ? [] : [{ ...sketch, of: (thing: Thing) => cellOf(of(thing)[key]) }];
    return [...own, ...(following[key] ?? [])];
  });
}

/** The column of a field, if it has one by itself. */
export function exportedColumn(
  fieldKey: string,
  field: CellField | undefined,
): ExportColumn | undefined {
  if (field?.column === undefined) return undefined;
  const { holds, column } = field;
  const { key = fieldKey, about, unit = unitOf(holds) } = column;
  return {
    ...{ key, about },
    ...(unit === undefined ? {} : { unit }),
    ...(REFERENCES[holds.kind] === undefined ? {} : { refersTo: REFERENCES[holds.kind] }),
    ...(holds.kind === 'amount' && holds.isList ? { isNumbers: true } : {}),
    kind: kindOf(holds),
  };
}

/** The column that lists what a field refers to. */
const REFERENCES: Readonly<Partial<Record<Holds['kind'], string>>> = {
  site: 'sites.site',
  cultivar: 'cultivars.cultivar',
};

function unitOf(holds: Holds): string | undefined {
  return holds.kind === 'amount' ? baseUnit(holds.dimension) : undefined;
}

function kindOf(holds: Holds): FieldKind {
  switch (holds.kind) {
    case 'date':
      return 'date';
    case 'whole':
      return 'integer';
    case 'number':
      return 'number';
    case 'yes or no':
      return 'boolean';
    case 'amount':
      return holds.isList ? 'text' : 'number';
    default:
      return 'text';
  }
}

/** Several numbers stand with spaces between. */
function cellOf(value: unknown): Cell | undefined {
  return (Array.isArray(value) ? value.join(' ') : value) as Cell | undefined;
}
