import { ABSENT, type Store } from '../../src/writing/store.ts';

/** A store without a disk. `meddle` runs between the reading and the writing, as an editor would. */
export function memoryStore(
  files: Map<string, string>,
  meddle: (files: Map<string, string>) => void = () => {},
): Store {
  const read = (path: string) => {
    const text = files.get(path);
    return text === undefined ? undefined : { bytes: new TextEncoder().encode(text), mark: text };
  };
  const write = (path: string, bytes: Uint8Array, mark: string) => {
    meddle(files);
    if ((files.get(path) ?? ABSENT) !== mark) return 'changed';
    files.set(path, new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
    return 'written';
  };
  return {
    read: async (path) => read(path),
    writeIfUnchanged: async (path, bytes, mark) => write(path, bytes, mark),
    settle: async () => {},
    whileLocked: (path, action) =>
      action({
        read: async () => read(path),
        writeIfUnchanged: async (bytes, mark) => write(path, bytes, mark),
      }),
  };
}
