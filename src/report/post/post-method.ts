import { selectRecords } from '../../measure/crop-record.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type Block, paragraph, type Section } from '../document.ts';
import { cultivarName, DOUBT_MARK, doubtfulCultivars, siteName } from '../names.ts';
import type { Prose } from '../prose.ts';
import { counted, listed, namedAs, yearsInWords } from '../words.ts';
import type { PostMaterial, PostRequest } from './post-request.ts';
import { textsOf } from './post-tables.ts';
import { tasterNumberWords, tastingTotals } from './post-tastings.ts';

/** Scale, tastings, and how each kind of figure was had. */
export function methodSection(material: PostMaterial): Section {
  const { ledger, ranks, yields, weights, soundness, ripening, crops } = material;
  const reports = [ranks, yields, weights, soundness, ripening, crops];
  const texts = reports.flatMap((report) => textsOf(ledger, report, 'method'));
  // A post does not show that column.
  const shown = texts.filter((text) => !text.startsWith('Yield efficiency'));
  const lines = [...new Set(shown)];
  return {
    key: 'method',
    heading: 'How it was measured',
    blocks: [
      paragraph(scaleSentence(material), ' ', tastingSentence(material)),
      { kind: 'list', lines: lines.map((text): Prose => [text]) },
      ...partNote(material),
    ],
  };
}

/** What was left out, where not all of the trial is told. */
function partNote({ ledger, request }: PostMaterial): readonly Block[] {
  const { crops = [], sites = [], cultivars = [], trees = [] } = request.selection;
  const named = cultivars.flatMap((key) => {
    const cultivar = ledger.cultivars.get(key);
    return cultivar === undefined ? [] : [cultivarName(ledger, cultivar)];
  });
  const parts = [
    crops.length === 0 ? '' : `the ${listed(crops)} crop`,
    listed(sites.map((key) => siteName(ledger, key))),
    listed(named),
    trees.length === 0 ? '' : namedAs('tree', trees),
  ].filter((part) => part !== '');
  return parts.length === 0
    ? []
    : [paragraph(`Only a part of the trial is told here: ${parts.join('; ')}.`)];
}

function scaleSentence({ ledger, seasons }: PostMaterial): string {
  const { scale, traits } = ledger.trial;
  const tasted = traits.length === 0 ? '' : ` for ${listed(traits)}`;
  return `Seasons: ${yearsInWords(seasons)}. Fruit was scored from ${scale.low} to ${scale.high}${tasted}.`;
}

function tastingSentence({ ledger, request }: PostMaterial): string {
  const totals = tastingTotals(ledger, request);
  if (totals.sittings === 0) return 'Nothing was tasted.';
  const who = tasterNumberWords(totals.tasters, request.nameTasters);
  const orders = totals.orders === 0 ? '' : ` and ${counted(totals.orders, 'best-first order')}`;
  return `At ${counted(totals.sittings, 'sitting')}, ${who} gave ${counted(totals.scores, 'score')}${orders} for ${counted(totals.samples, 'sample')}.`;
}

/** Names that may be wrong, and other names that readers may know; undefined where there are none. */
/** Names in doubt, and other names, of the cultivars of a selection. */
export function doubtfulNamesSection(
  ledger: Ledger,
  { selection }: PostRequest,
): Section | undefined {
  const trees = selectRecords(ledger, selection).map(({ tree }) => tree);
  const shown = new Set(trees.map(({ cultivar }) => cultivarName(ledger, cultivar)));
  const isShown = (cultivar: Parameters<typeof cultivarName>[1]) =>
    shown.has(cultivarName(ledger, cultivar));
  const doubtful = doubtfulCultivars(ledger)
    .filter(isShown)
    .map((cultivar): Prose => {
      const { sameAs = '', why } = cultivar.perhaps ?? {};
      const other = ledger.cultivars.get(sameAs);
      const same = other === undefined ? sameAs : cultivarName(ledger, other);
      const reason = why === undefined ? '' : `: ${why}`;
      return [`${cultivarName(ledger, cultivar)} ${DOUBT_MARK} is perhaps ${same}${reason}`];
    });
  const others = [...ledger.cultivars.values()]
    .filter((cultivar) => cultivar.also.length > 0 && isShown(cultivar))
    .map(
      (cultivar): Prose => [`${cultivarName(ledger, cultivar)}: also ${listed(cultivar.also, 10)}`],
    );
  if (doubtful.length + others.length === 0) return undefined;
  const blocks: Block[] = [];
  if (doubtful.length > 0) {
    blocks.push(
      paragraph(`The mark ${DOUBT_MARK} behind a name means that the name is in doubt.`),
      { kind: 'list', lines: doubtful },
    );
  }
  if (others.length > 0) {
    blocks.push({ kind: 'subheading', text: 'Other names' }, { kind: 'list', lines: others });
  }
  return { key: 'names', heading: doubtful.length > 0 ? 'Names in doubt' : 'Names', blocks };
}
