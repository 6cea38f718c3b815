import { editorLine } from './schema-files.ts';
import type { Starter } from './starter.ts';

/** `cultivars.yaml` of a new ledger. */
export function starterCultivars({ fruit = 'fig' }: Starter): string {
  const isFig = fruit.toLowerCase() === 'fig';
  const bears = isFig ? 'common' : 'main';
  const kinds = isFig
    ? `# bears says how its fruit set: common (both crops without a pollinator), san-pedro (only the early
# crop without one), smyrna (none without one) or caprifig; unknown where you do not know.`
    : '# bears says which crops it has: early, main or both; unknown where you do not know.';
  return `${editorLine('cultivars')}
# What is being compared: one entry a cultivar, under a short key of your own that never changes.
# Write the name as you received it, doubts and all: a name can be put right later, a lost one not.
${kinds}
#
# amber-lantern: { name: Amber Lantern, bears: ${bears}, also: [Lantern Yellow] }
# old-wall-brown:
#   name: Old Wall Brown
#   bears: ${bears}
#   perhaps: { same_as: amber-lantern, why: same leaf and a week later }
#   protected: false
#   note: From the wall behind the chapel, which is gone.
`;
}

/** `trees.yaml` of a new ledger. */
export function starterTrees(): string {
  return `${editorLine('trees')}
# Every tree, under the id on its label. It keeps the id for life; when it moves, enter the move
# under events in the season. Dates may be a day, a month or a year.
#
# T1:
#   cultivar: amber-lantern
#   received_as: Lantern, yellow
#   from: swap table, Harrow's End
#   received: 2021-10
#   planted: 2022-04-16
#   site: garden
#   container: ground
# T2: { cultivar: old-wall-brown, planted: 2023, site: garden, container: "20 L" }
`;
}
