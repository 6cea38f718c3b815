import { groupBy } from '../../measure/group-by.ts';
import { oldestFirst } from '../../measure/load.ts';
import type { Container, Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Count } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { bareUnit, parseQuantity } from '../../model/quantity.ts';
import { shortDayAndYear } from '../day-words.ts';
import { counted } from '../words.ts';

export interface Known {
  /** "in the ground", "pot of 20 L". */
  container(tree: Tree): string | undefined;
  /** The last count and the last girth, a sentence each. */
  facts(tree: Tree): readonly string[];
  /** Unit of a girth to take: one was taken in an earlier season and none in this one. */
  girthDue(tree: Tree): string | undefined;
}

/** What a ledger knows of a tree up to a day. */
export function knownOf(ledger: Ledger, on: IsoDate, season: number): Known {
  const upTo = <Entry extends { readonly on: IsoDate }>(entries: readonly Entry[]) =>
    oldestFirst(entries.filter((entry) => entry.on <= on));
  const all = ledger.seasons;
  const counts = groupBy(upTo(all.flatMap((one) => one.counts)), ({ tree }) => tree);
  const girths = groupBy(
    upTo(all.flatMap((one) => one.growth)).filter(({ girth }) => girth !== undefined),
    ({ tree }) => tree,
  );
  const pots = groupBy(upTo(all.flatMap((one) => one.events)), (event) =>
    event.kind === 'repot' && event.target.kind === 'tree' ? event.target.tree : undefined,
  );
  const unit = bareUnit(ledger.trial.units, 'girth');
  return {
    container: (tree) => {
      const repotted = pots.get(tree)?.findLast((event) => event.kind === 'repot');
      const last = repotted?.kind === 'repot' ? repotted.container : undefined;
      return containerWords(last ?? tree.container);
    },
    facts: (tree) => {
      const count = counts.get(tree)?.at(-1);
      const girth = girths.get(tree)?.at(-1);
      return [
        ...(count === undefined ? [] : [countWords(count, ledger.trial.cropNames[count.crop])]),
        ...(girth?.girth === undefined
          ? []
          : [`Girth ${inUnit(girth.girth, unit)} ${unit}, ${shortDayAndYear(girth.on)}.`]),
      ];
    },
    girthDue: (tree) => {
      const last = girths.get(tree)?.at(-1);
      return last !== undefined && last.season < season ? unit : undefined;
    },
  };
}

function countWords({ on, fruit, branches }: Count, crop: string): string {
  const over = branches === undefined ? '' : ` on ${counted(branches, 'branch', 'branches')}`;
  return `Counted ${shortDayAndYear(on)}: ${crop} ${fruit}${over}.`;
}

function containerWords(container: Container | undefined): string | undefined {
  if (container === undefined) return undefined;
  return container.kind === 'ground'
    ? 'in the ground'
    : `pot of ${/[a-z]/i.test(container.text) ? container.text : `${Number(container.litres.toPrecision(3))} L`}`;
}

/** A length in cm, as people measure it: to a tenth of their unit. */
function inUnit(cm: number, unit: string): number {
  const size = parseQuantity(`1 ${unit}`, 'girth', 'metric') ?? 1;
  return Number((cm / size).toFixed(1));
}
