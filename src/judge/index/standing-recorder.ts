import type { JointDraw } from '../../stats/joint/joint-draws.ts';
import type { JointTrial } from '../../stats/joint/joint-trial.ts';
import { SEASON, TREE } from '../../stats/joint/joint-trial.ts';
import type { PartChain } from '../../stats/joint/part-chain.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import type { LaidValues } from './lay-out.ts';

/** The sites that figures are told for, each counting alike. */
export type View = readonly number[];

/** A trial in the model, with how figures of its parts are had. */
interface Laid {
  readonly trial: JointTrial;
  /** In the order of the parts of `trial`. */
  readonly parts: readonly LaidValues[];
}

/** Draws of a part's figures, by item of the model. */
export type FigureDraws = readonly Float64Array[];

const NEW = [SEASON, TREE];

/**
 * Puts what the chain draws on the scale of figures: for each view and part the figure of each item over its sites and
 * over new trees and swings, in the seasons that were seen; and that of one new tree in a new season at one of the
 * sites, which all items share in a draw.
 */
export class StandingRecorder {
  /** By view and part. */
  readonly lasting: readonly (readonly FigureDraws[])[];
  readonly fresh: readonly (readonly FigureDraws[])[];
  readonly #laid: Laid;
  readonly #views: readonly View[];
  /** By part: views that each of its sites belongs to, found with the first draw. */
  readonly #viewsOf: (readonly (readonly number[])[])[] = [];
  readonly #counts: Int32Array;
  readonly #sums: readonly Float64Array[];
  readonly #means: Float64Array;
  readonly #offsets: readonly Float64Array[];
  readonly #moved: Float64Array;
  readonly #noise: Float64Array;
  readonly #factor: Float64Array;

  constructor(laid: Laid, views: readonly View[], draws: number) {
    const { items, parts } = laid.trial;
    const figures = () =>
      views.map(() =>
        parts.map(() => Array.from({ length: items }, () => new Float64Array(draws))),
      );
    this.lasting = figures();
    this.fresh = figures();
    this.#laid = laid;
    this.#views = views;
    this.#counts = new Int32Array(views.length);
    this.#sums = views.map(() => new Float64Array(items));
    this.#means = new Float64Array(items);
    this.#offsets = parts.map(
      ({ block }) => new Float64Array(block.reduce((most, one) => Math.max(most, one + 1), 0)),
    );
    this.#moved = new Float64Array(items * parts.length);
    this.#noise = new Float64Array(items * parts.length);
    this.#factor = new Float64Array(parts.length ** 2);
  }

  keep(draw: JointDraw, at: number): void {
    this.#drawMoved(draw);
    // One number for all views: what is drawn of a view does not hang on which others are told of.
    const place = draw.random.uniform();
    const sites = this.#views.map((view) => view[Math.floor(place * view.length)]);
    this.#laid.parts.forEach((part, k) => {
      this.#setOffsets(draw, k);
      this.#keepLasting(draw, part, k, at);
      this.#views.forEach((_, view) => {
        this.#keepFresh(draw, part, k, at, view, sites[view] ?? 0);
      });
    });
  }

  /** How a new tree in a new season differs from what its cultivar is worth there: a vector over the parts each. */
  #drawMoved({ sampler, random, isMirror }: JointDraw): void {
    const [count, moved, noise, factor] = [
      sampler.parts.length,
      this.#moved,
      this.#noise,
      this.#factor,
    ];
    if (isMirror) {
      for (let at = 0; at < moved.length; at++) moved[at] = -(moved[at] as number);
      return;
    }
    sampler.spreadFactor(NEW, factor);
    random.normals(noise, noise.length);
    for (let from = 0; from < moved.length; from += count) {
      for (let k = 0; k < count; k++) {
        let sum = 0;
        for (let l = 0; l <= k; l++) {
          sum += (factor[k * count + l] as number) * (noise[from + l] as number);
        }
        moved[from + k] = sum;
      }
    }
  }

  #setOffsets({ sampler }: JointDraw, k: number): void {
    const { cells, levels } = sampler.parts[k] as PartChain;
    const offsets = this.#offsets[k] as Float64Array;
    for (let b = 0; b < offsets.length; b++) {
      offsets[b] = cells.middle + (levels.block[b] as number);
    }
  }

  #keepLasting(draw: JointDraw, part: LaidValues, k: number, at: number): void {
    const { sampler } = draw;
    const chain = sampler.parts[k] as PartChain;
    const { sites } = chain.cells;
    const viewsOf = this.#viewsOf[k] ?? viewsOfSites(this.#views, sites);
    this.#viewsOf[k] = viewsOf;
    const counts = this.#counts.fill(0);
    for (const sums of this.#sums) sums.fill(0);
    const swing =
      sampler.spread(k, SEASON) ** 2 + sampler.spread(k, TREE) ** 2 + chain.plate * chain.plate;
    for (let column = 0; column < sites.length; column++) {
      const inViews = viewsOf[column] as readonly number[];
      if (inViews.length === 0) continue;
      this.#setMeans(draw, k, sites[column] as number, column, false);
      this.#toFigures(part, k, swing);
      for (const view of inViews) {
        counts[view] = (counts[view] as number) + 1;
        addTo(this.#sums[view] as Float64Array, this.#means);
      }
    }
    this.#views.forEach((_, view) => {
      keepEach(
        (this.lasting[view] as readonly FigureDraws[])[k] as FigureDraws,
        this.#sums[view] as Float64Array,
        counts[view] as number,
        at,
      );
    });
  }

  #keepFresh(
    draw: JointDraw,
    part: LaidValues,
    k: number,
    at: number,
    view: number,
    site: number,
  ): void {
    const chain = draw.sampler.parts[k] as PartChain;
    // Of a part that was never seen there the level of another site has to do.
    const column = Math.max(0, chain.cells.sites.indexOf(site));
    this.#setMeans(draw, k, site, column, true);
    this.#toFigures(part, k, chain.plate ** 2);
    const into = (this.fresh[view] as readonly FigureDraws[])[k] as FigureDraws;
    keepEach(into, this.#means, 1, at);
  }

  #setMeans(
    { sampler, standing }: JointDraw,
    k: number,
    site: number,
    column: number,
    isNew: boolean,
  ): void {
    const { levels } = sampler.parts[k] as PartChain;
    const [count, sites] = [sampler.parts.length, this.#laid.trial.sites];
    const [means, moved] = [this.#means, this.#moved];
    const level = levels.column[column] as number;
    for (let item = 0; item < means.length; item++) {
      means[item] =
        level +
        (standing[(item * sites + site) * count + k] as number) +
        (isNew ? (moved[item * count + k] as number) : 0);
    }
  }

  /** Puts figures in place of values on the scale of the model, over the seasons or sittings that were seen. */
  #toFigures({ measured }: LaidValues, k: number, swing: number): void {
    const offsets = this.#offsets[k] as Float64Array;
    if (measured !== undefined) {
      measured.scale.around(this.#means, offsets, measured.scale.swing(swing));
      return;
    }
    const middle = meanOfDraws(offsets);
    for (let item = 0; item < this.#means.length; item++) {
      this.#means[item] = (this.#means[item] as number) + middle;
    }
  }
}

/** By site of a part, the views that take it in; a view of which the part was seen nowhere takes all. */
function viewsOfSites(views: readonly View[], sites: Int32Array): readonly (readonly number[])[] {
  const isSeen = views.map((view) => view.some((site) => sites.includes(site)));
  return Array.from(sites, (site) =>
    [...views.keys()].filter((at) => !isSeen[at] || views[at]?.includes(site)),
  );
}

function addTo(sums: Float64Array, values: Float64Array): void {
  for (let at = 0; at < sums.length; at++) {
    sums[at] = (sums[at] as number) + (values[at] as number);
  }
}

function keepEach(into: FigureDraws, sums: Float64Array, count: number, at: number): void {
  for (let item = 0; item < sums.length; item++) {
    (into[item] as Float64Array)[at] = (sums[item] as number) / count;
  }
}
