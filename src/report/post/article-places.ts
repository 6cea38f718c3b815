import { RANK_SEED } from '../../judge/index/simulation.ts';
import { type Judgement, judge } from '../../judge/verdict/verdict.ts';
import { coversSeen } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import { allows, withEveryCultivar } from '../../measure/selection.ts';
import { type CropWords, tasteWords } from '../../measure/taste-words.ts';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { type Cover, CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { meanDay } from '../day-words.ts';
import { ripeningReport } from '../measured/ripening-report.ts';
import { soundnessReport } from '../measured/soundness-report.ts';
import { weightsReport } from '../measured/weights-report.ts';
import { yieldReport } from '../measured/yield-report.ts';
import { cultivarName } from '../names.ts';
import { numberIn, textIn } from '../row-columns.ts';
import type { Row } from '../table.ts';
import type { PostRequest } from './post-request.ts';

/** A crop, where what stands under different covers is told apart: under one of them. */
export interface JudgedPlace {
  readonly crop: Crop;
  /** Absent where all that was judged stood under the same. */
  readonly cover: Cover | undefined;
  /** Highest index first; what has none comes last. */
  readonly judged: readonly Judged[];
}

/** A verdict with the name of its cultivar, as the ledger writes it. */
export interface Judged extends Judgement {
  readonly name: string;
}

/** The same with what a reader wants to picture. */
export interface ArticlePlace extends JudgedPlace {
  readonly judged: readonly JudgedAtPlace[];
}

/** One cultivar at a place: the verdict, and what a reader wants to picture. */
export interface JudgedAtPlace extends Judged {
  /** Day by which half was picked, the mean of the seasons. */
  readonly half: IsoDate | undefined;
  /** g, of a fruit. */
  readonly weight: number | undefined;
  /** Share of picked fruit without a defect. */
  readonly sound: number | undefined;
  readonly perBranch: number | undefined;
  /** g, of all seasons. */
  readonly pickedWeight: number | undefined;
  /** What tasters said of it, wherever it stood. */
  readonly words: CropWords | undefined;
}

/** The places of an article with all that is told there. */
export async function articlePlaces(
  ledger: Ledger,
  request: PostRequest,
): Promise<readonly ArticlePlace[]> {
  const words = tasteWords(ledger, request.selection);
  const places = await judgedPlaces(ledger, request);
  return places.map((place): ArticlePlace => {
    const { crop, cover, judged } = place;
    const figures = figuresOf(ledger, request, crop, cover);
    return {
      ...place,
      judged: judged.map((one) => {
        const said = words.find((own) => own.cultivar === one.cultivar && own.crop === crop);
        return { ...one, words: said, ...figures(one.name) };
      }),
    };
  });
}

/** The places of an article: the early crop first, under the covers in the order of the ledger's sites. */
export async function judgedPlaces(
  ledger: Ledger,
  request: PostRequest,
): Promise<readonly JudgedPlace[]> {
  const { selection, confidence } = request;
  const covers = coversSeen(ledger, selection);
  const judged = await judge(ledger, withEveryCultivar(selection), {
    confidence,
    top: 1,
    seed: RANK_SEED,
    byCover: covers.length > 1,
    // Cards tell of each cultivar over all covers as well, and so do the tables of all that there is.
    bothWays: request.withCards === true || request.full,
  });
  const shown = judged.filter(({ cultivar }) => allows(selection.cultivars, cultivar.key));
  return CROPS.flatMap((crop) => {
    const own = shown.filter((one) => one.crop === crop);
    const isApart = own.some(({ cover }) => cover !== undefined);
    // What could not be ranked has one verdict, which is told under each cover that it was seen under.
    const homes = ({ cultivar }: Judgement): readonly (Cover | undefined)[] => {
      const its = { ...selection, cultivars: [cultivar.key] };
      const here = coversSeen(ledger, { ...its, crops: [crop] });
      const seen = here.length > 0 ? here : coversSeen(ledger, its);
      return seen.length > 0 ? seen : covers.slice(-1);
    };
    const told = own.flatMap(
      (one): { readonly one: Judgement; readonly home: Judgement['cover'] }[] => {
        if (one.cover !== undefined || !isApart) return [{ one, home: one.cover }];
        const all = homes(one);
        // Under one cover alone, all that was seen of it was seen there.
        return all.map((home) => ({ one: all.length === 1 ? { ...one, cover: home } : one, home }));
      },
    );
    const order: readonly (Cover | undefined)[] = covers;
    const places = [...groupBy(told, ({ home }) => home)];
    const inOrder = places.toSorted(([a], [b]) => order.indexOf(a) - order.indexOf(b));
    return inOrder.map(([cover, here]) => ({
      crop,
      cover,
      judged: here
        .map(({ one }) => ({ ...one, name: cultivarName(ledger, one.cultivar) }))
        .toSorted((a, b) => (b.index ?? -Infinity) - (a.index ?? -Infinity)),
    }));
  });
}

type Pictured = Pick<JudgedAtPlace, 'half' | 'weight' | 'sound' | 'perBranch' | 'pickedWeight'>;

/** What the measured reports say of a cultivar under a cover, by its name. */
function figuresOf(
  ledger: Ledger,
  { selection, confidence, today }: PostRequest,
  crop: Crop,
  cover: Cover | undefined,
): (name: string) => Pictured {
  const sites = [...ledger.trial.sites.values()]
    .filter((site) => cover === undefined || site.cover === cover)
    .filter(({ key }) => allows(selection.sites, key))
    .map(({ key }) => key);
  const asked = {
    selection: { ...selection, crops: [crop], ...(cover === undefined ? {} : { sites }) },
    confidence,
    today,
    by: ['cultivar'] as const,
  };
  const ripening = ripeningReport(ledger, { ...asked, by: ['cultivar', 'season'] });
  const [weights, soundness, yields] = [
    weightsReport(ledger, asked),
    soundnessReport(ledger, asked),
    yieldReport(ledger, asked),
  ];
  const rowOf = (rows: readonly Row[], name: string) =>
    rows.find(({ cultivar }) => cultivar === name) ?? {};
  return (name) => {
    const days = ripening.rows
      .filter(({ cultivar }) => cultivar === name)
      .flatMap((row) => {
        const day = parseIsoDate(textIn(row, 'p50'));
        return day === undefined ? [] : [[Number(textIn(row, 'season')), day] as const];
      });
    const yielded = rowOf(yields.rows, name);
    return {
      half: meanDay(ledger, days),
      weight: numberIn(rowOf(weights.rows, name), 'mean'),
      sound: numberIn(rowOf(soundness.rows, name), 'share'),
      perBranch: numberIn(yielded, 'fruitPerBranch'),
      pickedWeight: numberIn(yielded, 'pickedWeight'),
    };
  };
}
