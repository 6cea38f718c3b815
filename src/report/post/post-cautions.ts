import { selectRecords } from '../../measure/crop-record.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Block, Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import type { Prose } from '../prose.ts';
import type { Cell } from '../table.ts';
import { listed } from '../words.ts';
import type { PostMaterial, PostRequest } from './post-request.ts';
import { textsOf } from './post-tables.ts';

/** What holds here need not hold elsewhere. */
export const ELSEWHERE = 'Another climate, another rank.';

/** What may mislead a reader, and what may harm one. */
export function cautionsSection(material: PostMaterial): Section {
  const { ledger, ranks, crops } = material;
  const misleading = textsOf(ledger, ranks, 'caution').filter(
    (text) => !text.startsWith('Names in doubt'),
  );
  return {
    key: 'cautions',
    heading: 'Before you act on this',
    blocks: [
      listOf([
        ELSEWHERE,
        ...misleading,
        ...harms(ledger, guardedOf(ledger, new Set(crops.rows.map((row) => row['cultivar'])))),
      ]),
    ],
  };
}

/** The same where only the article stands: what sets cultivars apart is told in its figures. */
export function harmsSection(ledger: Ledger, { selection }: PostRequest): Section {
  const trees = selectRecords(ledger, selection).map(({ tree }) => tree);
  const names = new Set(trees.map(({ cultivar }) => cultivarName(ledger, cultivar)));
  return {
    key: 'cautions',
    heading: 'Before you act on this',
    blocks: [listOf([ELSEWHERE, ...harms(ledger, guardedOf(ledger, names))])],
  };
}

function listOf(texts: readonly string[]): Block {
  return { kind: 'list', lines: texts.map((text): Prose => [text]) };
}

/** Names of those on which breeders' rights are known to rest. */
function guardedOf(ledger: Ledger, shown: ReadonlySet<Cell | undefined>): readonly string[] {
  return [...ledger.cultivars.values()]
    .filter((one) => one.protected === true && shown.has(cultivarName(ledger, one)))
    .map((one) => cultivarName(ledger, one));
}

/** @param guarded names of those on which breeders' rights are known to rest */
export function harms(ledger: Ledger, guarded: readonly string[]): readonly string[] {
  const noted = guarded.length === 0 ? '' : ` (noted for ${listed(guarded, 12)})`;
  const sap =
    ledger.trial.fruit === 'fig'
      ? ['Fig sap burns skin in sunlight; latex and fruit can bring on allergy.']
      : [];
  return [
    ...sap,
    "Do not taste mouldy, soured or sprayed fruit; heed the label's waiting time. Mind ladders.",
    `Before plants change hands, check plant-health rules and breeders' rights where you live${noted}. Local rules and qualified advice come first.`,
  ];
}
