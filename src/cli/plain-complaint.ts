/** How the complaints of the reader of command lines begin, and what is said in place of that. */
const PLAIN: readonly (readonly [
  complaint: RegExp,
  words: (found: readonly (string | undefined)[]) => string,
])[] = [
  [
    /^option '(?:-\w, )?(--[\w-]+)[^']*' argument '([\s\S]*?)' is invalid\. /,
    ([, option, typed]) => `${option} ${typed}: `,
  ],
  [
    /^command-argument value '([\s\S]*?)' is invalid for argument '[\w-]+'\. /,
    ([, typed]) => `${typed}: `,
  ],
  [
    /^option '(?:-\w, )?(--[\w-]+) ([^']*)' argument missing/,
    ([, option, value]) => `${option} needs something after it: ${option} ${value}`,
  ],
  [/^missing required argument '([\w-]+)'/, ([, name]) => `<${name}> is missing`],
  [/^required option '([^']*)' not specified/, ([, option]) => `${option} is missing`],
  [
    /^too many arguments for '([\w-]+)'\. Expected (\d+) arguments? but got (\d+)\./,
    ([, command, most, got]) =>
      most === '0'
        ? `too many words: ${command} takes none, only options`
        : `too many words: ${command} takes ${most} and got ${got}; put a name of several words in quotes`,
  ],
];

/** A complaint about a command line in the words of all others: what was typed, then what to type. */
export function plainComplaint(text: string): string {
  const complaint = text.replace(/^error: /, '');
  for (const [pattern, words] of PLAIN) {
    const found = pattern.exec(complaint);
    if (found === null) continue;
    return `pomary: ${words(found)}${whatToType(complaint.slice(found[0].length))}`;
  }
  return `pomary: ${complaint}`;
}

/** What is said behind the value that was typed. */
export function whatToType(advice: string): string {
  const plain = advice.replace('Allowed choices are', 'Choose one of');
  return plain.replace(/^[A-Z]/, (letter) => letter.toLowerCase());
}
