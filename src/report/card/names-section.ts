import { cropOutlook } from '../../model/bearing.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { type Fact, factsSection, type Section } from '../document.ts';
import { cultivarName } from '../names.ts';
import { sentence } from '../words.ts';

/** What a cultivar is called and what is doubtful about it. */
export function namesSection(ledger: Ledger, cultivar: Cultivar): Section {
  const { key, name, bears, also, note } = cultivar;
  const doubts = doubtsOf(ledger, cultivar);
  const outlook = CROPS.flatMap((crop) => {
    const told = cropOutlook(bears, crop, ledger.trial.pollinator);
    return told.expected ? [] : [{ crop, why: told.why }];
  });
  const facts: readonly (readonly [label: string, text: string | undefined])[] = [
    ['Name', name],
    ['Key', key],
    ['Also', also.join('; ')],
    ...doubts.map(({ words }) => ['In doubt', words] as const),
    [
      'Bears',
      [
        bears === 'unknown' ? 'not known' : bears,
        ...outlook.map(({ crop, why }) => `no ${crop} crop here: ${why}`),
      ].join('; '),
    ],
    ['Protected', cultivar.protected === undefined ? undefined : protection(cultivar.protected)],
    ['Note', note],
  ];
  return factsSection({
    key: 'names',
    heading: 'Names',
    facts: facts.flatMap(([label, text]): Fact[] =>
      text === undefined || text === '' ? [] : [{ label, text }],
    ),
    says: {
      key,
      name,
      also,
      perhaps: doubts.map(({ other, why, said }) => ({ cultivar: other.key, why, said })),
      bears,
      notExpected: outlook,
      protected: cultivar.protected ?? null,
      note: note ?? null,
    },
  });
}

function protection(isProtected: boolean): string {
  return isProtected ? "yes, breeders' rights rest on it" : 'no';
}

interface Doubt {
  readonly other: Cultivar;
  readonly why: string | null;
  /** Whose entry says so: this cultivar's or the other's. */
  readonly said: 'here' | 'there';
  readonly words: string;
}

/** Cultivars that may be the same, by its own entry or by theirs. */
function doubtsOf(ledger: Ledger, cultivar: Cultivar): readonly Doubt[] {
  const doubt = (other: Cultivar, why: string | undefined, said: Doubt['said']): Doubt => {
    const same = `perhaps the same as ${cultivarName(ledger, other)}`;
    const words = why === undefined ? same : `${same}: ${why}`;
    return { other, why: why ?? null, said, words: sentence(words) };
  };
  const own = ledger.cultivars.get(cultivar.perhaps?.sameAs ?? '');
  const others = [...ledger.cultivars.values()].filter(
    (one) => one.perhaps?.sameAs === cultivar.key,
  );
  return [
    ...(own === undefined ? [] : [doubt(own, cultivar.perhaps?.why, 'here')]),
    ...others.map((one) => doubt(one, one.perhaps?.why, 'there')),
  ];
}
