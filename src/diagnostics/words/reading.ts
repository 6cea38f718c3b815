import { wording } from '../diagnostic.ts';

// Words for what can be wrong with a file before anyone looks at what it says.

export const fileNotUtf8 = wording<Record<string, never>>({
  rule: 'file-not-utf8',
  severity: 'error',
  why: 'Names with accents come out wrong unless every file uses the same encoding; YAML 1.2 files are UTF-8.',
  message: () => 'the file is not UTF-8 text: a byte here belongs to another encoding',
  advice: () => 'save the file as UTF-8 in your editor',
});

export const fileTooLarge = wording<{ megabytes: number; limit: number }>({
  rule: 'file-too-large',
  severity: 'error',
  why: 'A season of hand-typed entries is far smaller; a huge file is most likely not a ledger file at all.',
  message: ({ megabytes, limit }) =>
    `the file is ${megabytes} MB, more than the ${limit} MB that a ledger file may have`,
  advice: () => 'move anything that is not an entry out of it',
});

export const fileMissing = wording<{ file: string; example: string }>({
  rule: 'file-missing',
  severity: 'error',
  why: 'A ledger needs ledger.yaml, cultivars.yaml and trees.yaml; season files come as the seasons do.',
  message: ({ file }) => `the ledger has no ${file}`,
  advice: ({ file, example }) => `make ${file} with, for example, ${example}`,
});

export const fileEmpty = wording<{ example: string }>({
  rule: 'file-empty',
  severity: 'error',
  why: 'An empty file is more often a slip than a wish.',
  message: () => 'the file says nothing',
  advice: ({ example }) => `it needs at least ${example}`,
});

export const emptyMapFilled = wording<Record<string, never>>({
  rule: 'empty-map-filled',
  severity: 'error',
  why: 'A file says that it lists nothing, or it lists something, not both.',
  message: () => '{} says that nothing is listed, but something is listed in this file',
  advice: () => 'delete the {}',
});

export const mergeConflict = wording<{ others: number }>({
  rule: 'merge-conflict',
  severity: 'error',
  why: 'Two people changed the same lines, and only a person can say what is right of both.',
  message: ({ others }) =>
    others === 0
      ? 'git left two versions of some lines here'
      : `git left two versions of some lines here, and in ${others} more ${others === 1 ? 'place' : 'places'} of this file`,
  advice: () =>
    'keep what is right of both (entries that stand in one version only are mostly both wanted), then take away the lines that begin with <<<<<<<, |||||||, ======= or >>>>>>>',
});

export const fileIgnored = wording<{ name: string; wanted: string }>({
  rule: 'file-ignored',
  severity: 'warning',
  why: 'Season files are named by their year, so that nothing is counted twice and nothing is left out unseen.',
  message: ({ name }) => `${name} is not read`,
  advice: ({ wanted }) => wanted,
});

export const yamlSyntax = wording<{ reason: string; advice: string }>({
  rule: 'yaml-syntax',
  severity: 'error',
  why: 'The file must be YAML before it can be entries.',
  message: ({ reason }) => reason,
  advice: ({ advice }) => advice,
});

export const yamlTab = wording<Record<string, never>>({
  rule: 'yaml-tab',
  severity: 'error',
  why: 'YAML counts spaces to see what belongs together; a tab has no fixed width.',
  message: () => 'the line is indented with a tab',
  advice: () => 'put spaces in place of the tab',
});

export const yamlDuplicateKey = wording<{ key: string }>({
  rule: 'key-twice',
  severity: 'error',
  why: 'Of two equal keys one would silently win.',
  message: ({ key }) => `${key} is given a second time`,
  advice: () => 'keep one of the two, or give the second another key',
});

export const yamlAnchor = wording<{ what: string }>({
  rule: 'yaml-anchor',
  severity: 'error',
  why: 'Anchors and aliases make an entry depend on another line, and can blow a small file up to fill the memory.',
  message: ({ what }) =>
    `${what} is used here: a ledger file has no anchors (&name) or aliases (*name)`,
  advice: () => 'write the value out; text that begins with & or * goes in quotes',
});

export const yamlTag = wording<{ tag: string }>({
  rule: 'yaml-tag',
  severity: 'error',
  why: 'Tags change how a value is read; the ledger reads plain values only.',
  message: ({ tag }) => `the tag ${tag} is used here: a ledger file has no tags`,
  advice: () => 'take the tag away; text that begins with ! goes in quotes',
});

export const yamlDirective = wording<Record<string, never>>({
  rule: 'yaml-directive',
  severity: 'error',
  why: 'A directive can switch to an older YAML in which `no` is false and dates are not text.',
  message: () => 'a line that begins with % changes how the file is read',
  advice: () => 'take the line away',
});

export const yamlDocuments = wording<Record<string, never>>({
  rule: 'yaml-documents',
  severity: 'error',
  why: 'Only one document would be read, and the rest would be lost unseen.',
  message: () => 'a second document begins here (--- or ...)',
  advice: () => 'take the line away, or move what follows into its own file',
});

export const numberOdd = wording<{ source: string }>({
  rule: 'number-odd',
  severity: 'error',
  why: 'Leading zeros, hexadecimal, octal and exponent forms are read differently by different programs, and digits can be lost.',
  message: ({ source }) => `${source} is a number written in a way that programs read differently`,
  advice: ({ source }) => `write a plain decimal, or "${source}" in quotes if it is a name`,
});

export const keyUnknown = wording<{
  key: string;
  nearest: string | undefined;
  known: readonly string[];
}>({
  rule: 'key-unknown',
  severity: 'error',
  why: 'A misspelt key would silently drop what stands behind it.',
  message: ({ key }) => `the key ${key} is not known here`,
  advice: ({ nearest, known }) =>
    nearest === undefined ? `keys here: ${known.join(', ')}` : `did you mean ${nearest}?`,
});

export const colonMissing = wording<{ key: string; rest: string }>({
  rule: 'colon-missing',
  severity: 'error',
  why: 'Without its colon a key is read as a text, and what stands behind it is lost.',
  message: ({ key }) => `a colon is missing behind ${key}`,
  advice: ({ key, rest }) => `write ${key}: ${rest}`,
});

export const keyMissing = wording<{ key: string; expected: string }>({
  rule: 'key-missing',
  severity: 'error',
  why: 'Without it the entry cannot be used.',
  message: ({ key }) => `${key} is missing`,
  advice: ({ key, expected }) => `add ${key}: ${expected}`,
});

export const keyWrong = wording<{ key: string; expected: string }>({
  rule: 'key-wrong',
  severity: 'error',
  why: 'Keys are typed again on the command line and in entries, so they stay short and plain.',
  message: ({ key, expected }) => `the key ${key} must be ${expected}`,
});

export const valueWrong = wording<{
  key: string;
  expected: string;
  found: string;
  nearest: string | undefined;
}>({
  rule: 'value-wrong',
  severity: 'error',
  why: 'A figure computed from a value of the wrong kind would be wrong without a sign of it.',
  message: ({ key, expected, found }) => `${key} must be ${expected}; found ${found}`,
  advice: ({ nearest }) => (nearest === undefined ? '' : `did you mean ${nearest}?`),
});

export const dateUnreal = wording<{
  key: string;
  found: string;
  /** Where a month or a year is enough: what was meant, as far as it can be told. */
  partly?: { readonly meant: string | undefined };
}>({
  rule: 'date-unreal',
  severity: 'error',
  why: 'A date that does not exist cannot be put in order.',
  message: ({ key, found, partly }) =>
    partly === undefined
      ? `${key} must be a date that exists, written YYYY-MM-DD; found ${found}`
      : `${key} must be a date that exists, and a year or a month will do: YYYY, YYYY-MM or YYYY-MM-DD; found ${found}`,
  advice: ({ partly }) =>
    partly?.meant === undefined
      ? `for example ${partly === undefined ? '' : '2022, 2022-04 or '}2026-07-24`
      : `write ${partly.meant}`,
});

export const quantityUnreadable = wording<{
  key: string;
  found: string;
  units: readonly string[];
  bare: string;
}>({
  rule: 'quantity-unreadable',
  severity: 'error',
  why: 'A number with a unit that is not understood would be counted as something else.',
  message: ({ key, found, bare }) =>
    `${key} must be a number (${bare}) or a number with its unit; found ${found}`,
  advice: ({ units }) => `units: ${units.join(', ')}, for example "12 ${units[0] ?? ''}"`,
});

export const quantityRange = wording<{ key: string; found: string; expected: string }>({
  rule: 'quantity-range',
  severity: 'error',
  why: 'A weight or a length that cannot be is a slip of the keyboard.',
  message: ({ key, found, expected }) => `${key} must be ${expected}; found ${found}`,
});

export const seasonMismatch = wording<{ file: string; season: number }>({
  rule: 'season-mismatch',
  severity: 'error',
  why: 'The name of the file and the year inside it must say the same, or entries land in the wrong season.',
  message: ({ file, season }) => `the file is named ${file}, but says season: ${season}`,
  advice: ({ file }) => `write season: ${file.replace(/\.yaml$/, '')}, or rename the file`,
});

export const weatherUnreadable = wording<{ reason: string }>({
  rule: 'weather-unreadable',
  severity: 'error',
  why: 'Degree-days and rain before a split come from this file; a shifted column would spoil both.',
  message: ({ reason }) => reason,
  advice: () =>
    'columns: date,tmin,tmax,rain (YYYY-MM-DD, degC, degC, mm); leave a cell empty where a value is not known',
});

export const eventTwoTargets = wording<{ kind: string }>({
  rule: 'event-two-targets',
  severity: 'error',
  why: 'An event happens to one tree, to all trees of a site, or to the whole trial.',
  message: ({ kind }) => `this ${kind} names a tree and a site`,
  advice: () =>
    'keep tree for one tree, site for all trees that stand there, or neither for the whole trial',
});

export const pickEmpty = wording<Record<string, never>>({
  rule: 'pick-empty',
  severity: 'error',
  why: 'A pick is a number of fruit; with none given nothing can be added up.',
  message: () => 'this pick has neither fruit nor weights',
  advice: () => 'add fruit: and the number picked, or weights: [52.4, 47]',
});
