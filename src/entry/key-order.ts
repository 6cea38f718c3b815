import type { Fields, Section } from './new-entry.ts';

const REMARKS = ['note', 'photo'];
const SAMPLE = ['tree', 'crop', 'as', 'ripeness', 'brix', 'eye', ...REMARKS];

const KEYS: Readonly<Record<Section | 'samples', readonly string[]>> = {
  counts: ['on', 'tree', 'crop', 'fruit', 'branches', ...REMARKS],
  picks: [
    'on',
    'tree',
    'crop',
    'fruit',
    'weights',
    'weight',
    'sample',
    'split',
    'bird',
    'insect',
    'mould',
    'unripe',
    ...REMARKS,
  ],
  drops: ['on', 'tree', 'crop', 'fruit', ...REMARKS],
  tastings: ['on', ...REMARKS, 'samples', 'scores', 'order'],
  samples: SAMPLE,
  growth: ['on', 'tree', 'girth', 'height', ...REMARKS],
  // A move says which tree, what, and whereto; any other event where, then what.
  events: [
    'on',
    'tree',
    'site',
    'kind',
    'product',
    'wait_days',
    'after',
    'container',
    'low',
    'dieback',
    ...REMARKS,
  ],
};
const MOVE = ['on', 'tree', 'kind', 'site', ...REMARKS];

/** Keys of an entry in the order in which they are written; keys nobody knows come last. */
export function orderedKeys(kind: Section | 'samples', entry: Fields): readonly string[] {
  const order = kind === 'events' && entry['kind'] === 'move' ? MOVE : KEYS[kind];
  const present = Object.keys(entry).filter((key) => entry[key] !== undefined);
  const rank = (key: string) => (order.includes(key) ? order.indexOf(key) : order.length);
  return present.sort((a, b) => rank(a) - rank(b));
}
