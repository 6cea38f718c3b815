import { CATALOGUE } from '../../entries/catalogue.ts';
import { type Kind, saidOf } from '../../entries/kind.ts';
import type { Crop, Season, SeasonSection } from '../../model/ledger.ts';
import {
  cropField,
  entryField,
  type Following,
  type NumberedEntry,
  numberedEntries,
  type OfTree,
  ownColumns,
  treeFields,
} from './entry-fields.ts';
import { defineTable, type ExportTable } from './export-table.ts';

/**
 * The table of a section whose entries are of one tree: where and when, then the fields of the kind.
 *
 * @param following columns that follow from a field
 */
export function plainTable<Entry extends OfTree & { readonly crop?: Crop }>(
  section: SeasonSection,
  entries: (season: Season) => readonly Entry[],
  following: Following<NumberedEntry<Entry>> = {},
): ExportTable {
  const kind: Kind = CATALOGUE[section];
  return defineTable<NumberedEntry<Entry>>(
    section,
    kind.table ?? kind.hint,
    (ledger) => numberedEntries(ledger, kind.one, entries),
    [
      entryField(),
      ...treeFields<NumberedEntry<Entry>>(),
      ...('crop' in kind.fields
        ? [cropField<NumberedEntry<Entry>>(({ entry }) => entry.crop)]
        : []),
      ...ownColumns<NumberedEntry<Entry>>(
        kind.fields,
        ({ entry }) => saidOf(kind, entry),
        following,
      ),
    ],
  );
}
