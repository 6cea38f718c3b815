import type { Block, Section } from './document.ts';
import { cultivarName } from './names.ts';
import type { PostMaterial } from './post-request.ts';
import { ownNotes } from './post-tables.ts';
import type { Prose } from './prose.ts';
import { listed } from './words.ts';

/** What may mislead a reader, and what may harm one. */
export function cautionsSection(material: PostMaterial): Section {
  const { ledger, ranks } = material;
  const misleading = ownNotes(ledger, ranks, 'caution')
    .map(({ text }) => text)
    .filter((text) => !text.startsWith('Names in doubt'));
  return {
    key: 'cautions',
    heading: 'Before you act on this',
    blocks: [
      listOf([
        'These are the trees of one place. Another climate, another rank.',
        ...misleading,
        ...harms(material),
      ]),
    ],
  };
}

function listOf(texts: readonly string[]): Block {
  return { kind: 'list', lines: texts.map((text): Prose => [text]) };
}

function harms({ ledger, crops }: PostMaterial): readonly string[] {
  const shown = new Set(crops.rows.map((row) => row['cultivar']));
  const guarded = [...ledger.cultivars.values()]
    .filter((one) => one.protected === true && shown.has(cultivarName(ledger, one)))
    .map((one) => cultivarName(ledger, one));
  const noted =
    guarded.length === 0 ? '' : ` The ledger notes such rights for ${listed(guarded, 12)}.`;
  const sap =
    ledger.trial.fruit === 'fig'
      ? [
          'Fig sap burns skin in sunlight: cover up and wash it off. Fig latex and fruit can bring on allergy.',
        ]
      : [];
  return [
    ...sap,
    'Do not taste mouldy, soured or sprayed fruit; keep to the waiting time on the label. Mind ladders.',
    `Before giving away or selling plants, check plant-health movement rules and breeders' rights where you live.${noted}`,
    'Local rules and qualified advice come first.',
  ];
}
