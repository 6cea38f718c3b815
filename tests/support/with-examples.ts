/** A file of a fresh ledger with its examples made to count, as its comments say to. */
export function withExamples(path: string, text: string): string {
  if (path === 'ledger.yaml') {
    return text.replace(
      /^( *)# ((?:mara|joss|glass|\d{4}|standard|place|climate|crops):)/gm,
      '$1$2',
    );
  }
  if (path.startsWith('seasons/')) return text.replace(/^ {2}# /gm, '  ');
  const [head = '', examples = ''] = text.split('\n#\n');
  return examples === ''
    ? text
    : `${head}\n${examples.replace(/^# ?/gm, '').replace(/^\{\}.*says[\s\S]*/m, '')}`;
}
