import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { dayCount } from '../diagnostics/phrases.ts';
import { safeFrom, sprayDiary } from '../measure/spray-diary.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

interface Sprayed {
  readonly tree: string;
  readonly what: 'picked' | 'tasted';
  readonly on: string;
  readonly product: string;
  readonly sprayedOn: string;
  readonly waitDays: number;
  readonly safeFrom: string;
}

const sprayNowhereWords = wording<{ product: string }>({
  rule: 'spray-nowhere',
  severity: 'warning',
  why: 'A spray that names no tree and no site may be a slip of the keyboard. Until it says more, its waiting time is kept for every tree.',
  message: ({ product }) =>
    `the spray of ${product} names neither a tree nor a site, so it is taken for the whole trial`,
  advice: () => 'write site: all if every tree was sprayed, else the tree or the site',
});

export const sprayNowhere: Rule = { words: [sprayNowhereWords], check: findSprayNowhere };

function* findSprayNowhere(ledger: Ledger): Generator<Diagnostic> {
  for (const { events } of ledger.seasons) {
    for (const event of events) {
      if (event.kind !== 'spray' || event.target.kind !== 'trial' || event.target.said) continue;
      yield diagnose(sprayNowhereWords, spotIn(event.at, 'kind'), { product: event.product });
    }
  }
}

const sprayWaitWords = wording<Sprayed>({
  rule: 'spray-wait',
  severity: 'error',
  why: 'Fruit must not be picked for eating or tasted within the waiting time on the label of what was sprayed. Trees are taken to stand where trees.yaml and the moves put them on the day of the spray.',
  message: ({ tree, what, on, product, sprayedOn, waitDays, safeFrom }) =>
    `tree ${tree} is ${what} on ${on}, within the ${dayCount(waitDays)} after ${product} was sprayed on ${sprayedOn}; first safe date ${safeFrom}`,
  advice: ({ what }) =>
    what === 'picked'
      ? 'do not eat this fruit; enter fruit that was thrown away under `drops`, or correct a date; the label and local rules come first'
      : 'do not taste this fruit; take the sample out, or correct a date; the label and local rules come first',
});

const spraySameDayWords = wording<Sprayed>({
  rule: 'spray-same-day',
  severity: 'warning',
  why: 'Fruit picked in the morning is clear of what is sprayed in the evening; fruit picked after the spray is not.',
  message: ({ tree, what, on, product }) =>
    `tree ${tree} is ${what} on ${on}, the day ${product} was sprayed: which came first?`,
  advice: ({ safeFrom }) =>
    `if this fruit was picked before the spray, write after: picks into the spray (after picks on a typed line); if not, do not eat it (first safe date ${safeFrom}): the label and local rules come first`,
});

export const sprayWait: Rule = { words: [sprayWaitWords, spraySameDayWords], check: findSprayWait };

interface Eaten {
  readonly what: 'picked' | 'tasted';
  readonly tree: Tree;
  readonly on: IsoDate;
  readonly at: Spot;
  /** What of the entry to point at. */
  readonly key: 'on' | 'tree';
}

function* findSprayWait(ledger: Ledger): Generator<Diagnostic> {
  const sprayOver = sprayDiary(ledger);
  for (const { what, tree, on, at, key } of eaten(ledger)) {
    const before = sprayOver(tree, on, (spray) => spray.on < on);
    // On the day itself nobody knows which came first, unless the spray says so.
    const spray = before ?? sprayOver(tree, on, ({ after }) => after === undefined);
    if (spray === undefined) continue;
    const facts = {
      tree: tree.id,
      what,
      on,
      product: spray.product,
      sprayedOn: spray.on,
      waitDays: spray.waitDays,
      safeFrom: safeFrom(spray),
    };
    const words = before === undefined ? spraySameDayWords : sprayWaitWords;
    yield diagnose(words, spotIn(at, key), facts, [{ at: spray.at, label: 'sprayed here' }]);
  }
}

function* eaten(ledger: Ledger): Generator<Eaten> {
  for (const season of ledger.seasons) {
    for (const { tree, on, at, fruit } of season.picks) {
      if (fruit > 0) yield { what: 'picked', tree, on, at, key: 'on' };
    }
    for (const { on, samples } of season.tastings) {
      for (const { tree, at } of samples) {
        yield { what: 'tasted', tree, on, at, key: 'tree' };
      }
    }
  }
}
