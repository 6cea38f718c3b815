const [LINE_FEED, RETURN, SPACE, DASH] = [10, 13, 32, 45];

/** How many spaces a line begins with. */
export function indentAt(text: string, line: number): number {
  let at = line;
  while (text.charCodeAt(at) === SPACE) at++;
  return at - line;
}

/** Whether an item of a list begins at an offset. */
export function isItem(text: string, at: number): boolean {
  return text.charCodeAt(at) === DASH && text.charCodeAt(at + 1) === SPACE;
}

/** Where the next line begins if nothing but spaces is left of this one; -1 otherwise. */
export function endOfLine(text: string, at: number): number {
  let end = at;
  while (text.charCodeAt(end) === SPACE) end++;
  if (end === text.length) return end;
  if (text.charCodeAt(end) === RETURN) end++;
  return text.charCodeAt(end) === LINE_FEED ? end + 1 : -1;
}

/** Where the line after that of an offset begins. */
export function lineAfter(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end + 1;
}
