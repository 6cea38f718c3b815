import { type ScoreAgreement, scoreAgreement } from '../../judge/scores/score-agreement.ts';
import type { ScoredBy, ScoreModel } from '../../judge/scores/score-models.ts';
import type { ScoreUnit } from '../../judge/scores/score-unit.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Ledger } from '../../model/ledger.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase } from '../crop-words.ts';
import { cultivarName, siteName } from '../names.ts';
import { decimalText } from '../number-words.ts';
import { percent } from '../report-request.ts';
import type { Note } from '../table.ts';
import { counted, listed, sentence } from '../words.ts';

/** On how much a table of scores rests, crop by crop. */
export function scoreEvidenceNote(ledger: Ledger, models: readonly ScoreModel[]): Note {
  const crops = [...groupBy(models, ({ crop }) => crop)].map(([crop, own]) => {
    const all = own.flatMap(({ subjects }) => subjects).flatMap(({ scores }) => scores);
    const sittings = new Set(all.map(({ tasting }) => tasting)).size;
    const tasters = new Set(all.map(({ score }) => score.taster.key)).size;
    return `${cropPhrase(ledger, crop)}: ${counted(all.length, 'score')} by ${counted(tasters, 'taster')} at ${counted(sittings, 'sitting')}`;
  });
  return shownNote('evidence', `${sentence(crops.join('; '))}.`);
}

/** Which cultivars must not be compared, as nothing joins them. */
export function scoreGroupNotes(ledger: Ledger, models: readonly ScoreModel[]): Note[] {
  const apart = models.filter(({ groups }) => groups.length > 1);
  const told = groupBy(
    apart,
    (model) => `${cropPhrase(ledger, model.crop)}|${partition(ledger, model)}`,
  );
  return [...told].map(([key, own]) => {
    const [crop = '', groups = ''] = key.split('|');
    const traits = listed(own.map(({ trait }) => trait));
    return shownNote(
      'caution',
      `${sentence(crop)}, ${traits}: these groups were never tasted together, not even by way of others, so they must not be compared: ${groups}. A sitting with some of each would join them.`,
      `${sentence(crop)}, ${traits}: groups never tasted together must not be compared. A sitting with some of each would join them.`,
    );
  });
}

function partition(ledger: Ledger, model: ScoreModel): string {
  const groups = model.groups.map(({ members }, place) => {
    const names = members.map((member) => subjectName(ledger, model, member));
    return `group ${place + 1}: ${listed(names, 12)}`;
  });
  return groups.join('; ');
}

/** A cultivar by name, a tree by id with its cultivar's name. */
function subjectName(ledger: Ledger, { subjects }: ScoreModel, at: number): string {
  const subject = subjects[at];
  if (subject === undefined) return '';
  const name = cultivarName(ledger, subject.cultivar);
  return subject.tree === undefined ? name : `${subject.tree.id} (${name})`;
}

const TOO_FEW: Readonly<Record<ScoreUnit, string>> = {
  plate:
    'too few plates to tell how far two plates of the same fruit differ. The same cultivars on another day would tell.',
  score:
    'too few scores to tell how far tasters scatter. More tasters at the same plates, or more plates, would tell.',
};

/** Where no standard error can be had, and why. */
export function unsureNotes(ledger: Ledger, models: readonly ScoreModel[]): Note[] {
  const where = (why: ScoreModel['unsure']) =>
    listed(
      models
        .filter(({ unsure }) => unsure === why)
        .map(({ crop, trait }) => `${trait} of the ${cropPhrase(ledger, crop)}`),
      8,
    );
  const [few, flat] = [where('too few'), where('no spread')];
  return [
    few === ''
      ? undefined
      : shownNote('evidence', `No interval for ${few}: ${TOO_FEW[models[0]?.unit ?? 'plate']}`),
    flat === ''
      ? undefined
      : note(
          'evidence',
          `No interval for ${flat}: the few scores fit without any scatter, which is chance rather than precision.`,
        ),
  ].filter((one) => one !== undefined);
}

/** Figures that lie past the ends of the scale. */
export function offScaleNote(
  ledger: Ledger,
  figures: readonly (number | undefined)[],
): Note | undefined {
  const { low, high } = ledger.trial.scale;
  const off = figures.some((figure) => figure !== undefined && (figure < low || figure > high));
  return off
    ? note(
        'evidence',
        `A mean or limit beyond the scale of ${low} to ${high} is what the sums come to; read it as the end of the scale.`,
      )
    : undefined;
}

/** Cultivars whose plates came from one site only, so that a difference may be the site's. */
export function tastedSitesNote(
  ledger: Ledger,
  models: readonly ScoreModel[],
  by: ScoredBy,
): Note | undefined {
  if (by === 'tree') {
    const all = models.flatMap(({ subjects }) => subjects).flatMap(({ scores }) => scores);
    return new Set(all.map(({ site }) => site)).size < 2
      ? undefined
      : note('caution', 'The trees stand at different sites: a difference may be the site.');
  }
  const crops = [...groupBy(models, ({ crop }) => crop)].flatMap(([crop, own]) => {
    const words = oneSiteWords(ledger, own);
    return words === '' ? [] : [`${cropPhrase(ledger, crop)}, ${words}`];
  });
  return crops.length === 0
    ? undefined
    : shownNote(
        'caution',
        `Tasted from one site only: ${crops.join('; ')}. What sets them apart may be the site.`,
        'Not all were tasted from the same sites: what sets them apart may be the site.',
      );
}

/** "glasshouse: A and B; south wall: C"; empty where everything came from one site. */
function oneSiteWords(ledger: Ledger, models: readonly ScoreModel[]): string {
  const sites = new Map<string, Set<string>>();
  for (const { cultivar, scores } of models.flatMap(({ subjects }) => subjects)) {
    const name = cultivarName(ledger, cultivar);
    const own = sites.get(name) ?? new Set();
    for (const { site } of scores) own.add(site);
    sites.set(name, own);
  }
  if (new Set([...sites.values()].flatMap((own) => [...own])).size < 2) return '';
  const only = groupBy(
    [...sites].filter(([, own]) => own.size === 1),
    ([, own]) => [...own].join(),
  );
  return [...only]
    .map(([site, own]) => `${siteName(ledger, site)}: ${listed(own.map(([name]) => name))}`)
    .join('; ');
}

/** How much of what sets marks apart is the plate, and how much the taster. */
export function scoreAgreementNote(
  ledger: Ledger,
  models: readonly ScoreModel[],
  confidence: number,
  explain: boolean,
): Note | undefined {
  const all = scoreAgreement(models, confidence);
  const crops = all.map((one) => sentence(agreementWords(ledger, one, confidence, explain)));
  const brief = all.map(({ crop, one: { estimate } }) => {
    const tenths = Math.round(10 * Math.max(0, estimate));
    return `${cropPhrase(ledger, crop)} ${tenths} in 10`;
  });
  return crops.length === 0
    ? undefined
    : shownNote(
        'evidence',
        crops.join(' '),
        `How much of what sets a taster's marks apart is the fruit and not the taster: ${brief.join(', ')}.`,
      );
}

function agreementWords(
  ledger: Ledger,
  { crop, tasters, plates, one, mean, fair }: ScoreAgreement,
  confidence: number,
  explain: boolean,
): string {
  const names = listed(
    tasters.map(({ name }) => name),
    4,
  );
  const both = tasters.length === 2 ? 'both' : 'all';
  const limits =
    one.low === undefined || one.high === undefined
      ? ''
      : `, ${percent(confidence)} % ${decimalText(one.low, 2)} to ${decimalText(one.high, 2)}`;
  const rest = explain ? `; harshness set aside, ICC(3,1) ${decimalText(fair.estimate, 2)}` : '';
  const figures = `(ICC(2,1) ${decimalText(one.estimate, 2)}${limits}; ${counted(plates, 'plate')} that ${names} ${both} scored${rest})`;
  const plate = Math.round(100 * one.estimate);
  if (plate < 1) {
    return `${cropPhrase(ledger, crop)}: tasters' marks do not show that they see the same in a plate ${figures}.`;
  }
  const pooled = `the mean of ${both === 'both' ? 'the two' : `these ${tasters.length}`} is about ${decimalText(mean.estimate, 0, 2)} % the plate`;
  return `${cropPhrase(ledger, crop)}: of what sets one taster's marks apart, about ${plate} % is the plate and ${100 - plate} % the taster's own view, harshness included ${figures}; ${pooled}.`;
}

/** How it is had. */
export function scoreAgreementMethodNote(): Note {
  return note(
    'method',
    'Plate and taster: intraclass correlation, tasters taken as a sample of tasters, so that harshness counts as their own view (Shrout & Fleiss 1979, Psychological Bulletin 86:420-428), of the mean over the traits that most plates were scored for, on the most plates that the same tasters all scored.',
  );
}
