import { diagnose } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import {
  orderRepeat,
  orderStranger,
  sampleTwice,
  scoreOffScale,
  scoreStranger,
  tasterUnknown,
  traitUnknown,
} from '../diagnostics/words/naming.ts';
import type { RawTasting } from '../entries/derive/schemas.ts';
import { byLabel, bySheet, bySpeaker, byTaster } from '../model/canonical-order.ts';
import type { Order, Sample, Score, Taster, TasteWords, Tasting } from '../model/entries.ts';
import { keyIn, type Spot, spotIn } from '../source/source-file.ts';
import { lookUp, quantityAt } from './building.ts';
import { cropAt, entryOf, type SeasonContext, treeAt } from './season-context.ts';

/** The samples on the table, by label; labels of samples that cannot be used are kept apart. */
interface Served {
  readonly byLabel: Map<string, Sample>;
  readonly faulty: Set<string>;
}

export function buildTasting(
  raw: RawTasting,
  season: number,
  at: Spot,
  context: SeasonContext,
): Tasting {
  const served = buildSamples(raw, at, context);
  return {
    ...entryOf(raw, season, at),
    samples: Object.freeze(byLabel([...served.byLabel.values()])),
    scores: Object.freeze(bySheet(buildScores(raw, served, at, context), context.trial.traits)),
    words: Object.freeze(bySpeaker(buildWords(raw, served, at, context))),
    orders: Object.freeze(byTaster(buildOrders(raw, served, at, context))),
  };
}

function buildSamples(raw: RawTasting, at: Spot, context: SeasonContext): Served {
  const served: Served = { byLabel: new Map(), faulty: new Set() };
  for (const [index, entry] of raw.samples.entries()) {
    const where = spotIn(at, 'samples', index);
    const label = String(entry.as ?? entry.tree);
    if (served.byLabel.has(label) || served.faulty.has(label)) {
      const spot = spotIn(where, entry.as === undefined ? 'tree' : 'as');
      context.report(diagnose(sampleTwice, spot, { label }));
      continue;
    }
    const tree = treeAt(context, entry.tree, where);
    const crop = cropAt(context, entry.crop, where);
    const eye = quantityAt(context, entry.eye, 'width', where, 'eye');
    if (tree === undefined || crop === undefined) {
      served.faulty.add(label);
      continue;
    }
    const sample: Sample = {
      at: where,
      label,
      tree,
      crop,
      ripeness: entry.ripeness,
      brix: entry.brix,
      eye,
      note: entry.note ?? undefined,
      photo: entry.photo ?? undefined,
    };
    served.byLabel.set(label, Object.freeze(sample));
  }
  return served;
}

function buildScores(raw: RawTasting, served: Served, at: Spot, context: SeasonContext): Score[] {
  const scores: Score[] = [];
  for (const [key, sheet] of Object.entries(raw.scores ?? {})) {
    const where = spotIn(at, 'scores', key);
    const taster = tasterAt(context, key, where);
    for (const label of Object.keys(sheet)) {
      const spot = spotIn(where, label);
      const sample = served.byLabel.get(label);
      if (sample === undefined) tellStranger(context, served, label, taster?.name ?? key, spot);
      else addScores(scores, sheet[label] ?? {}, { at: spot, taster, sample }, context);
    }
  }
  return scores;
}

function tellStranger(
  context: SeasonContext,
  served: Served,
  label: string,
  taster: string,
  spot: Spot,
): void {
  if (served.faulty.has(label)) return;
  const facts = { ...stranger(label, served), taster };
  context.report(diagnose(scoreStranger, { ...spot, part: 'key' }, facts));
}

/** The scores that one taster gave one sample. */
function addScores(
  scores: Score[],
  values: Readonly<Record<string, number>>,
  { at, taster, sample }: Pick<Score, 'at' | 'sample'> & { readonly taster: Taster | undefined },
  context: SeasonContext,
): void {
  for (const trait of Object.keys(values)) {
    const value = values[trait] as number;
    if (isScore(context, trait, value, at) && taster !== undefined) {
      scores.push(Object.freeze({ at, taster, sample, trait, value }));
    }
  }
}

/** Whether a trait is one of the ledger's and its score is on the scale; a complaint if not. */
function isScore(context: SeasonContext, trait: string, value: number, at: Spot): boolean {
  const { traits, scale } = context.trial;
  if (!traits.includes(trait)) {
    if (!context.unsure.has('traits')) {
      const nearest = didYouMean(trait, traits);
      context.report(diagnose(traitUnknown, keyIn(at, trait), { name: trait, nearest }));
    }
    return false;
  }
  if (context.unsure.has('scale') || (value >= scale.low && value <= scale.high)) return true;
  context.report(diagnose(scoreOffScale, spotIn(at, trait), { trait, value, ...scale }));
  return false;
}

function buildWords(
  raw: RawTasting,
  served: Served,
  at: Spot,
  context: SeasonContext,
): TasteWords[] {
  const all: TasteWords[] = [];
  for (const [key, sheet] of Object.entries(raw.words ?? {})) {
    const where = spotIn(at, 'words', key);
    const taster = tasterAt(context, key, where);
    for (const [label, words] of Object.entries(sheet)) {
      const spot = spotIn(where, label);
      const sample = served.byLabel.get(label);
      if (sample === undefined) tellStranger(context, served, label, taster?.name ?? key, spot);
      else if (taster !== undefined && words.length > 0) {
        all.push(Object.freeze({ at: spot, taster, sample, words: Object.freeze([...words]) }));
      }
    }
  }
  return all;
}

function buildOrders(raw: RawTasting, served: Served, at: Spot, context: SeasonContext): Order[] {
  const orders: Order[] = [];
  for (const [key, list] of Object.entries(raw.order ?? {})) {
    const where = spotIn(at, 'order', key);
    const taster = tasterAt(context, key, where);
    const name = taster?.name ?? key;
    const seen = new Set<string>();
    const place = (label: string, spot: Spot): Sample | undefined => {
      const sample = served.byLabel.get(label);
      if (sample === undefined) {
        if (served.faulty.has(label)) return undefined;
        context.report(diagnose(orderStranger, spot, { ...stranger(label, served), taster: name }));
        return undefined;
      }
      if (seen.has(label)) {
        context.report(diagnose(orderRepeat, spot, { name: label, taster: name }));
        return undefined;
      }
      seen.add(label);
      return sample;
    };
    const ranks: (readonly Sample[])[] = [];
    for (const [index, step] of list.entries()) {
      const spot = spotIn(where, index);
      const tied = Array.isArray(step)
        ? step.map((label, tie) => place(String(label), spotIn(spot, tie)))
        : [place(String(step), spot)];
      const placed = tied.filter((sample) => sample !== undefined);
      if (placed.length > 0) ranks.push(Object.freeze(byLabel(placed)));
    }
    if (taster !== undefined && ranks.length > 0) {
      orders.push(Object.freeze({ at: where, taster, ranks: Object.freeze(ranks) }));
    }
  }
  return orders;
}

function tasterAt(context: SeasonContext, key: string, at: Spot): Taster | undefined {
  const { listed, faulty } = context.tasters;
  return lookUp(context, tasterUnknown, key, listed, faulty, { ...at, part: 'key' });
}

/** What may be meant by a label that was not served: a tree under a blind label, or a slip. */
function stranger(label: string, served: Served) {
  for (const sample of served.byLabel.values()) {
    if (sample.tree.id === label) return { name: label, served: sample.label, nearest: undefined };
  }
  return { name: label, served: undefined, nearest: didYouMean(label, served.byLabel.keys()) };
}
