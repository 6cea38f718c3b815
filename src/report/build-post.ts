import { selectRecords } from '../measure/crop-record.ts';
import type { Ledger } from '../model/ledger.ts';
import { emptyNote } from './common-notes.ts';
import { cropsReport } from './crops-report.ts';
import { type Document, paragraph, type Section } from './document.ts';
import { siteName } from './names.ts';
import { cautionsSection } from './post-cautions.ts';
import { changesSection } from './post-changes.ts';
import { growingSection } from './post-growing.ts';
import { ripeningSection, soundnessSection, yieldSection } from './post-harvest.ts';
import { methodSection, namesSection } from './post-method.ts';
import { ranksSection } from './post-ranks.ts';
import type { PostMaterial, PostRequest } from './post-request.ts';
import { summarySection } from './post-summary.ts';
import { rankReport } from './rank-report.ts';
import { selectionWords } from './report-request.ts';
import { ripeningReport } from './ripening-report.ts';
import { soundnessReport } from './soundness-report.ts';
import { weightsReport } from './weights-report.ts';
import { counted, listed, yearsInWords } from './words.ts';
import { yieldReport } from './yield-report.ts';

/** A report for readers on the selected seasons. */
export async function buildPost(ledger: Ledger, request: PostRequest): Promise<Document> {
  const material = await gathered(ledger, request);
  const sections = material.seasons.length === 0 ? empty(material) : await full(material);
  return {
    report: 'post',
    title: request.title ?? usualTitle(material),
    ledgerTitle: ledger.trial.title,
    selection: selectionWords(request, []),
    published: {
      description: descriptionOf(material),
      date: request.date,
      tags: request.tags,
    },
    sections: [...sections, ...licence(ledger)],
    notes: [],
  };
}

async function gathered(ledger: Ledger, request: PostRequest): Promise<PostMaterial> {
  const { selection, confidence, today } = request;
  const plain = { selection, confidence, today, by: ['cultivar'] as const };
  const records = selectRecords(ledger, selection);
  return {
    ledger,
    request,
    seasons: [...new Set(records.map(({ season }) => season))].toSorted((a, b) => a - b),
    ranks: await rankReport(ledger, { ...plain, by: [] }),
    crops: cropsReport(ledger, plain),
    yields: yieldReport(ledger, plain),
    weights: weightsReport(ledger, plain),
    soundness: soundnessReport(ledger, plain),
    ripening: ripeningReport(ledger, { ...plain, by: ['cultivar', 'season'] }),
  };
}

async function full(material: PostMaterial): Promise<readonly Section[]> {
  const sections = [
    summarySection(material),
    ranksSection(material),
    await changesSection(material),
    ripeningSection(material),
    yieldSection(material),
    soundnessSection(material),
    growingSection(material),
    namesSection(material),
    methodSection(material),
    cautionsSection(material),
  ];
  return sections
    .filter((section) => section !== undefined)
    .filter(({ blocks }) => blocks.length > 0);
}

function empty({ ledger, request }: PostMaterial): readonly Section[] {
  const why = emptyNote(ledger, request.selection).text;
  return [{ key: 'empty', heading: 'Nothing to report', blocks: [paragraph(why)] }];
}

function usualTitle({ ledger, request, seasons }: PostMaterial): string {
  const { crops = [], sites = [] } = request.selection;
  const parts = [
    yearsInWords(seasons),
    crops.length === 1 ? `${crops.join()} crop` : '',
    listed(sites.map((key) => siteName(ledger, key))),
  ].filter((part) => part !== '');
  return [ledger.trial.title, ...parts].join(', ');
}

function descriptionOf({ ledger, request, seasons }: PostMaterial): string {
  const trees = new Set(selectRecords(ledger, request.selection).map(({ tree }) => tree));
  const cultivars = new Set([...trees].map(({ cultivar }) => cultivar));
  const { name, climate } = ledger.trial.place;
  const where = [name, climate].filter((part) => part !== undefined).join(', ');
  const what = `${counted(cultivars.size, 'cultivar')} compared on ${counted(trees.size, 'tree')}`;
  const when = seasons.length === 0 ? '' : `, ${yearsInWords(seasons)}`;
  return `${what}${when}${where === '' ? '' : ` (${where})`}.`;
}

function licence(ledger: Ledger): readonly Section[] {
  const { licence: name } = ledger.trial;
  if (name === undefined) return [];
  return [
    { key: 'licence', heading: 'Licence', blocks: [paragraph(`Licence of the entries: ${name}.`)] },
  ];
}
