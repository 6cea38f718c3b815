import { type Remark, remarksOf, tellingRemarks } from '../../judge/remarks.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { note } from '../common-notes.ts';
import { decimalText } from '../decimal-text.ts';
import { factsSection, type Section } from '../document.ts';
import type { Note } from '../table.ts';

/** What was written down beside the entries, and how much of it is shown. */
export function notesSection(
  ledger: Ledger,
  selection: Selection,
  most: number,
): readonly [Section, Note | undefined] {
  const all = remarksOf(ledger, selection);
  const shown = tellingRemarks(all, most);
  const section = factsSection({
    key: 'remarks',
    heading: 'Notes of the seasons',
    facts:
      shown.length === 0
        ? [{ label: '', text: 'None.' }]
        : shown.map((remark) => ({ label: remark.on, text: remarkWords(remark) })),
    says: shown.map(({ on, about, tree, crop, ripeness, score, text }) => ({
      on,
      about,
      tree: tree?.id ?? null,
      crop: crop ?? null,
      ripeness: ripeness ?? null,
      score: score ?? null,
      text,
    })),
  });
  const cut = `${shown.length} of ${all.length} notes of the seasons are shown: those of the best and the worst scored sitting and the latest.`;
  return [section, shown.length === all.length ? undefined : note('evidence', cut)];
}

function remarkWords({ about, tree, crop, ripeness, score, text }: Remark): string {
  const what = [
    tree?.id,
    crop === undefined ? undefined : `${crop} crop`,
    ABOUT[about],
    ripeness === undefined || ripeness === 'ripe' ? undefined : `${ripeness}ripe`,
    score === undefined ? undefined : `scored ${decimalText(score, 1)} that day`,
  ];
  return `${what.filter((part) => part !== undefined).join(', ')}: ${text}`;
}

const ABOUT: Readonly<Record<Remark['about'], string | undefined>> = {
  count: 'count',
  pick: 'pick',
  drop: 'drop',
  sample: 'on the plate',
  tasting: 'the sitting',
  growth: 'measuring',
  event: undefined,
};
