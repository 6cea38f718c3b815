import type { Prose } from '../report/prose.ts';
import { visible } from '../source/visible.ts';
import { formatCell } from './format-cell.ts';

/** Sentences as text, figures rounded as in tables; shares get their percent sign. */
export function proseText(prose: Prose): string {
  return prose
    .map((part) => {
      if (typeof part === 'string') return visible(part);
      const { value, kind, digits } = part;
      const figure = formatCell(value, { key: 'prose', label: '', kind, digits, drop: 0 });
      return kind === 'share' ? `${figure} %` : figure;
    })
    .join('');
}
