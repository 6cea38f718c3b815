import { ABSENT, type Store } from '../../src/entry/store.ts';

/** A store without a disk. `meddle` runs between the reading and the writing, as an editor would. */
export function memoryStore(
  files: Map<string, string>,
  meddle: (files: Map<string, string>) => void = () => {},
): Store {
  return {
    read: async (path) => {
      const text = files.get(path);
      return text === undefined ? undefined : { bytes: new TextEncoder().encode(text), mark: text };
    },
    writeIfUnchanged: async (path, bytes, mark) => {
      meddle(files);
      if ((files.get(path) ?? ABSENT) !== mark) return 'changed';
      files.set(path, new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
      return 'written';
    },
    whileLocked: async (_, action) => action(),
  };
}
