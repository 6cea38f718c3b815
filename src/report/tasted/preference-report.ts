import { orderSheets } from '../../judge/orders/order-sheets.ts';
import {
  middlingChance,
  type Preferences,
  preferences,
  worthLimits,
} from '../../judge/orders/preferences.ts';
import { allows } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { selectedParts } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  intervalColumns,
  numberColumn,
  onAsking,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { cropWordsNote, doubtNote, note, notesInOrder, shownNote } from '../common-notes.ts';
import { withCropWords } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import { type ReportRequest, selectionWords } from '../report-request.ts';
import { forPeople, rowColumn } from '../row-columns.ts';
import { orderBlocks } from '../row-order.ts';
import type { Column, Report, Row } from '../table.ts';
import { sentence } from '../words.ts';
import {
  agreementNote,
  orderEvidenceNote,
  type PreferenceAsked,
  preferenceGroupNotes,
  preferenceMethodNotes,
  topPairNotes,
  unsettledNote,
} from './preference-notes.ts';
import { nothingTastedNote, ripenessWords } from './tasted-notes.ts';

/** What tasters' best-first orders add up to: how each cultivar stands against the others. */
export function preferenceReport(
  ledger: Ledger,
  request: ReportRequest,
  asked: PreferenceAsked,
): Report {
  const selection = { ...request.selection, ripeness: asked.ripeness };
  const all = preferences(ledger, orderSheets(ledger, selection, asked.from), asked.prior);
  const columns = preferenceColumns(request.confidence, all);
  const blocks = all.flatMap((one) => cropRows(ledger, request, one));
  const isApart = all.some(({ groups }) => groups.length > 1);
  const { rows, cut } = orderBlocks(columns, blocks, isApart ? 'crop and group' : 'crop', request);
  const sheets = all.flatMap((one) => one.sheets);
  const where = selectedParts(
    ledger,
    request,
    sheets.map(({ tasting }) => tasting.season),
    rows,
  );
  return {
    report: 'preference',
    title: ['Preference', ...where].join(', '),
    ledgerTitle: ledger.trial.title,
    selection: {
      ...selectionWords(request, ['cultivar']),
      from: asked.from,
      prior: asked.prior,
      ripeness: asked.ripeness,
    },
    columns: withCropWords(ledger, request.selection, forPeople(columns, rows, ['cultivar']), rows),
    rows,
    notes:
      rows.length === 0
        ? [nothingTastedNote(ledger, 'orders of two cultivars or more')]
        : notesInOrder([
            cropWordsNote(ledger),
            ...preferenceMethodNotes(request, asked),
            ...topPairNotes(ledger, request, all),
            orderEvidenceNote(ledger, all),
            note('evidence', `${sentence(ripenessWords(asked.ripeness))} fruit only.`),
            agreementNote(ledger, sheets),
            unsettledNote(ledger, all, asked.prior),
            cut === undefined ? undefined : shownNote('evidence', cut),
            ...preferenceGroupNotes(ledger, all, asked.prior),
            note(
              'caution',
              'These intervals speak of the plates and tasters so far, not of other trees or years.',
            ),
            doubtNote(
              ledger,
              all
                .flatMap(({ cultivars }) => cultivars)
                .filter(({ key }) => allows(request.selection.cultivars, key)),
            ),
          ]),
  };
}

function preferenceColumns(confidence: number, all: readonly Preferences[]): Column[] {
  const before = shareColumn('before', 0, { label: 'Before a middling one', drop: 0 });
  const logWorth = numberColumn('logWorth', 2, { label: 'Log worth', drop: 5 });
  const group = countColumn('group', { label: 'Group', drop: 0 });
  return [
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    all.some(({ groups }) => groups.length > 1) ? group : { ...group, machineOnly: true },
    before,
    ...intervalColumns(before, ['beforeLow', 'beforeHigh'], confidence, 1),
    shareColumn('worth', 1, { label: 'First of all', drop: 2 }),
    onAsking(logWorth),
    onAsking(numberColumn('se', 2, { label: 'SE', drop: 7 })),
    ...intervalColumns(logWorth, ['low', 'high'], confidence, 6).map(onAsking),
    countColumn('orders', { label: 'Orders', drop: 3 }),
    numberColumn('wins', 1, { label: 'Wins', drop: 4 }),
  ];
}

/** Rows of a crop, a list a group that can be compared, the greatest worth first in each. */
function cropRows(ledger: Ledger, request: ReportRequest, preference: Preferences): Row[][] {
  const { crop, cultivars, groups, model, errors, orders } = preference;
  return groups.map((members, group) =>
    members
      .filter((at) => allows(request.selection.cultivars, cultivars[at]?.key ?? ''))
      .toSorted((a, b) => (model.logWorths[b] ?? 0) - (model.logWorths[a] ?? 0))
      .map((at) => {
        const cultivar = cultivars[at];
        const limits = worthLimits(preference, at, request.confidence);
        const isAlone = members.length < 2;
        const before = middlingChance(preference, at, request.confidence);
        return {
          cultivar: cultivar === undefined ? null : cultivarName(ledger, cultivar),
          crop,
          group: group + 1,
          before: isAlone ? null : cell(before.chance),
          beforeLow: cell(before.low),
          beforeHigh: cell(before.high),
          worth: isAlone ? null : cell(model.worths[at]),
          logWorth: isAlone ? null : cell(model.logWorths[at]),
          se: cell(errors[at]),
          low: cell(limits?.low),
          high: cell(limits?.high),
          orders: cell(orders[at]),
          wins: cell(model.wins[at]),
        };
      }),
  );
}
