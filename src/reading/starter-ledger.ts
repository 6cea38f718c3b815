import type { Starter } from './starter.ts';
import { starterCultivars, starterTrees } from './starter-collection.ts';
import { starterSeason } from './starter-season.ts';
import { starterTrial } from './starter-trial.ts';

export interface StarterFile {
  /** Relative to the ledger's folder. */
  readonly path: string;
  readonly text: string;
}

/** Lines end alike on every machine, so that git shows what was typed and nothing else. */
const ATTRIBUTES = `# Line ends are the same on every machine, so that a change shows as what was typed.
* text=auto eol=lf
`;

/** Files whose two versions git hands to `pomary merge`, where it has been told that there is one. */
export const MERGED_FILES = `# Entries of two people are joined one by one, once git knows how: pomary merge --setup
ledger.yaml merge=pomary
cultivars.yaml merge=pomary
trees.yaml merge=pomary
seasons/*.yaml merge=pomary
`;

/** What lies in the folder only while something is being typed or written. */
const IGNORED = `# Lines typed with pomary enter and not yet written, and files of a write under way.
.pomary-draft*
.*.lock
.*.tmp
`;

/**
 * The files of a new ledger. They can be read at once, hold no entry, and teach by examples in
 * comments that are right as they stand.
 */
export function starterFiles(starter: Starter): readonly StarterFile[] {
  return [
    { path: 'ledger.yaml', text: starterTrial(starter) },
    { path: 'cultivars.yaml', text: starterCultivars(starter) },
    { path: 'trees.yaml', text: starterTrees() },
    { path: `seasons/${starter.season}.yaml`, text: starterSeason(starter) },
    { path: '.gitattributes', text: `${ATTRIBUTES}\n${MERGED_FILES}` },
    { path: '.gitignore', text: IGNORED },
  ];
}
