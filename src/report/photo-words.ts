import type { TreePhoto } from '../judge/photos.ts';
import type { Ledger } from '../model/ledger.ts';
import { dayInWords } from './day-words.ts';
import type { Block } from './document.ts';
import { cultivarName } from './names.ts';

const SEEN: Readonly<Record<TreePhoto['what'], string>> = {
  plate: 'as tasted',
  pick: 'as picked',
  count: 'as it hung',
  drop: 'as it had dropped',
  tree: 'the tree',
};

/** A photo with what is seen on it: "Ferry Bell, early crop of Y6, as tasted on 29 July 2026". */
export function photoBlock(ledger: Ledger, { path, on, tree, crop, what }: TreePhoto): Block {
  const whose = crop === undefined ? tree.id : `${crop} crop of ${tree.id}`;
  const day = `${dayInWords(on)} ${on.slice(0, 4)}`;
  const alt = `${cultivarName(ledger, tree.cultivar)}, ${whose}, ${SEEN[what]} on ${day}`;
  return { kind: 'photo', photo: { path, alt } };
}
