import { diagnose } from '../diagnostics/diagnostic.ts';
import { eventTwoTargets } from '../diagnostics/words/reading.ts';
import type { RawEvent } from '../entries/derive/schemas.ts';
import { EVENTS } from '../entries/event-kinds.ts';
import type { Fields } from '../entries/field.ts';
import type { EventSays, EventTarget, FieldEvent } from '../model/entries.ts';
import { WHOLE_TRIAL } from '../model/touches.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import { containerAt, quantityAt } from './building.ts';
import { type entryOf, type SeasonContext, siteAt, treeAt } from './season-context.ts';

export function buildEvent(
  raw: RawEvent,
  base: ReturnType<typeof entryOf>,
  at: Spot,
  context: SeasonContext,
): FieldEvent | undefined {
  if (raw.kind === 'move') {
    const tree = treeAt(context, raw.tree, at);
    const site = siteAt(context, raw.site, at);
    return (
      tree &&
      site && {
        ...base,
        target: Object.freeze({ kind: 'tree', tree }),
        kind: 'move',
        site: site.key,
      }
    );
  }
  const target = targetOf(raw, at, context);
  if (target === undefined) return undefined;
  switch (raw.kind) {
    case 'water':
    case 'prune':
      return { ...base, target, kind: raw.kind, product: raw.product };
    case 'repot': {
      const container = containerAt(context, raw.container, at, 'container');
      return { ...base, target, kind: 'repot', container };
    }
    case 'spray':
      return {
        ...base,
        target,
        kind: 'spray',
        product: raw.product,
        waitDays: raw.wait_days,
        after: raw.after,
      };
    case 'frost': {
      const low = quantityAt(context, raw.low, 'temperature', at, 'low');
      return { ...base, target, kind: 'frost', low };
    }
    case 'winter-damage': {
      const dieback = quantityAt(context, raw.dieback, 'height', at, 'dieback');
      return { ...base, target, kind: 'winter-damage', dieback };
    }
    default:
      return { ...base, target, kind: 'told', word: raw.kind, says: saysOf(raw, at, context) };
  }
}

/** What an event says besides where, of which the model has no more than that. */
function saysOf(raw: RawEvent, at: Spot, context: SeasonContext): EventSays {
  const { tree: _, site: __, ...own }: Fields = EVENTS[raw.kind].fields;
  const says = Object.entries(own).map(([key, { holds }]) => {
    const said = (raw as EventSays)[key];
    const isAmount = holds.kind === 'amount';
    return [key, isAmount ? quantityAt(context, said, holds.dimension, at, key) : said];
  });
  return Object.freeze(Object.fromEntries(says));
}

function targetOf(
  raw: Exclude<RawEvent, { kind: 'move' }>,
  at: Spot,
  context: SeasonContext,
): EventTarget | undefined {
  const site = 'site' in raw ? raw.site : undefined;
  if (raw.tree !== undefined && site !== undefined) {
    context.report(diagnose(eventTwoTargets, spotIn(at, 'site'), { kind: raw.kind }));
    return undefined;
  }
  if (raw.tree !== undefined) {
    const tree = treeAt(context, raw.tree, at);
    return tree && Object.freeze({ kind: 'tree', tree });
  }
  if (site === WHOLE_TRIAL && !context.sites.listed.has(WHOLE_TRIAL)) {
    return Object.freeze({ kind: 'trial', said: true });
  }
  if (site !== undefined) {
    const found = siteAt(context, site, at);
    return found && Object.freeze({ kind: 'site', site: found.key });
  }
  return Object.freeze({ kind: 'trial', said: false });
}
