import type { FieldSheet } from '../report/field-sheet.ts';

// What the forms of a field sheet say alike; they only set it differently.

/** Defects in the order in which a spoiled fruit is put under the first that fits. */
export const DEFECT_BOXES = ['split', 'bird', 'insect', 'mould', 'unripe'] as const;

export const WHO = ['By', 'Weather'] as const;

export const NO_TREES = 'No tree stands there on that day.';

export function afterwards({ file }: FieldSheet): string {
  return `Afterwards it goes into ${file}.`;
}
