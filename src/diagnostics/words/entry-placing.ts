import { wording } from '../diagnostic.ts';

// Words for entries that cannot be put into a file, and for files that cannot be put in order.

export const entryRootFlow = wording<Record<string, never>>({
  rule: 'entry-root-brackets',
  severity: 'error',
  why: 'Entries are added line by line; a file that is one pair of braces has no line to add to.',
  message: () => 'the whole file is in braces { }, so no line can be added to it',
  advice: () =>
    'write each key on a line of its own: season: 2026, then picks: and a line an entry; or in a list, G3: { cultivar: amber, site: yard }',
});

export const entryListFlow = wording<{ key: string }>({
  rule: 'entry-list-brackets',
  severity: 'error',
  why: 'A comment inside brackets would end up with another entry.',
  message: ({ key }) =>
    `${key} is in brackets over several lines with comments, so nothing can be added without moving a comment`,
  advice: ({ key }) =>
    `write ${key} as a list of lines, each beginning with "- "; pomary tidy does it for you`,
});

export const entryMapFlow = wording<{ key: string }>({
  rule: 'entry-map-brackets',
  severity: 'error',
  why: 'A comment inside brackets would end up with another entry.',
  message: ({ key }) =>
    `${key} is in braces over several lines with comments, so nothing can be added without moving a comment`,
  advice: ({ key }) =>
    `take the braces away: ${key}: and below it a line each, indented by two spaces`,
});

export const listedAlready = wording<{ key: string; list: string }>({
  rule: 'listed-already',
  severity: 'error',
  why: 'What has been written down is never overwritten unseen.',
  message: ({ key, list }) => `${key} is among the ${list} already, and says something else`,
  advice: () => 'type another key, or change it in the file',
});

export const entryUnsafe = wording<{ what: string }>({
  rule: 'entry-unsafe',
  severity: 'error',
  why: 'A file is written only if it reads as before with the new entries added, and in no other way.',
  message: ({ what }) => `the file cannot be changed safely: ${what}`,
  advice: () => 'nothing was written; add the entry with your editor, then run pomary check',
});

export const entryUnreadable = wording<Record<string, never>>({
  rule: 'entry-file-shape',
  severity: 'error',
  why: 'Entries can be added only to a file that is a map of sections.',
  message: () => 'the file is not a map that begins with season:',
  advice: () => 'mend it first; pomary check shows what is wrong',
});

export const sittingUnclear = wording<{ date: string; count: number }>({
  rule: 'sitting-unclear',
  severity: 'error',
  why: 'Scores belong to the fruit of one sitting.',
  message: ({ date, count }) =>
    count === 1
      ? `there is a sitting on ${date} already, and the table tells several: nobody knows which it is`
      : `there are ${count} sittings on ${date}, and it is not clear which one is meant`,
  advice: ({ count }) =>
    count === 1
      ? 'write the others into the file with your editor, as items of their own under tastings'
      : 'name a sample that only one of them has, or write it into the file with your editor',
});

export const sittingConflict = wording<{ what: string; old: string; new: string }>({
  rule: 'sitting-conflict',
  severity: 'error',
  why: 'What has been written down is never overwritten unseen.',
  message: ({ what, old, new: wanted }) => `${what} is already ${old}; it would become ${wanted}`,
  advice: () =>
    'if the new one is right, change the one before: in the file, or with fix while it waits',
});

export const tidyUnsafe = wording<{ what: string }>({
  rule: 'tidy-unsafe',
  severity: 'error',
  why: 'Putting a file in order may change how it looks, never what it says.',
  message: ({ what }) => `the file cannot be put in order safely: ${what}`,
  advice: () => 'nothing was changed; please report this file as a fault of pomary',
});
