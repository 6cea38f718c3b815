import { fullDisk, links, readOnly, vanished } from './harm-by-disk.ts';
import { beginTogether, crowd, killed, killedAmongOthers } from './harm-by-others.ts';
import { cutSave, emptySave, savesAmongWriters } from './harm-by-saving.ts';
import type { Fault } from './outcome.ts';

export const FAULTS: readonly Fault[] = [
  crowd,
  beginTogether,
  killed,
  killedAmongOthers,
  fullDisk,
  readOnly,
  links,
  vanished,
  emptySave,
  cutSave,
  savesAmongWriters,
];
