/** How the lines of a file end and begin, apart from what they say. */
export interface LineForm {
  readonly bom: boolean;
  readonly crlf: boolean;
  readonly lastEnd: boolean;
}

const USUAL: LineForm = { bom: false, crlf: false, lastEnd: true };

/** The form of a text, and its lines with LF; where line ends are mixed they stay as they are. */
export function takeForm(text: string): { readonly form: LineForm; readonly lines: string } {
  if (text === '') return { form: USUAL, lines: '' };
  const bom = text.startsWith('\ufeff');
  const own = bom ? text.slice(1) : text;
  const crlf = own.includes('\r\n') && !/(?:^|[^\r])\n/.test(own);
  const lastEnd = own === '' || own.endsWith('\n');
  const plain = crlf ? own.replaceAll('\r\n', '\n') : own;
  return { form: { bom, crlf, lastEnd }, lines: lastEnd ? plain : `${plain}\n` };
}

/** The form that either side gave the file, where it is not that of what both began with. */
export function joinedForm(base: LineForm, ours: LineForm, theirs: LineForm): LineForm {
  const joined = (of: (form: LineForm) => boolean) =>
    of(ours) === of(base) ? of(theirs) : of(ours);
  return {
    bom: joined(({ bom }) => bom),
    crlf: joined(({ crlf }) => crlf),
    lastEnd: joined(({ lastEnd }) => lastEnd),
  };
}

export function giveForm(lines: string, { bom, crlf, lastEnd }: LineForm): string {
  const ended = lastEnd || !lines.endsWith('\n') ? lines : lines.slice(0, -1);
  const text = crlf ? ended.replace(/\r?\n/g, '\r\n') : ended;
  return bom ? `\ufeff${text}` : text;
}
