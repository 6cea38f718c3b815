/**
 * The path of a photo from the ledger's folder to somewhere below it, with slashes and without
 * detours; undefined where it leads out of the folder, on any kind of machine.
 */
export function photoInside(path: string): string | undefined {
  // A scheme (https:, data:) or a drive (C:), a root, or somebody's home.
  if (/^(?:[a-z][a-z\d+.-]*:|[\\/~])/i.test(path)) return undefined;
  const steps: string[] = [];
  for (const step of path.split(/[\\/]/)) {
    if (step === '..' && steps.pop() === undefined) return undefined;
    if (step !== '..' && step !== '' && step !== '.') steps.push(step);
  }
  return steps.length === 0 ? undefined : steps.join('/');
}
