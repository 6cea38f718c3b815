import type {
  CultivarFigure,
  DayFigure,
  Figure,
  PoolFigure,
  RanksFigure,
  RipeningFigure,
  WeightsFigure,
} from '../../src/report/figures/figure.ts';

const words = {
  title: 'A figure',
  reading: 'What its marks mean.',
  alt: ['What it shows.'],
  description: ['All of it in words.'],
};

export function ranksSample(name = 'Amber Lantern'): RanksFigure {
  return {
    ...words,
    kind: 'ranks',
    key: 'ranks-main',
    scale: { low: 1, high: 10 },
    panels: [
      {
        heading: 'Main crop',
        rows: [
          { name, rank: 1, value: 7.75, low: 7, high: 8.5, letters: 'a' },
          { name: 'Slate Quay', rank: 2, value: 5.5, low: 4, high: 7.1, letters: 'ab' },
          {
            name: 'Penny Wherry',
            rank: 3,
            value: 3.25,
            low: undefined,
            high: undefined,
            letters: '',
          },
        ],
      },
    ],
  };
}

export function ripeningSample(name = 'Amber Lantern'): RipeningFigure {
  return {
    ...words,
    kind: 'ripening',
    key: 'ripening-2026-main',
    panels: [
      {
        heading: 'Main crop, 2026',
        from: '2026-08-01',
        to: '2026-11-09',
        frost: '2026-10-29',
        rows: [
          {
            ...{ name, first: '2026-08-11', p10: '2026-08-21', p50: '2026-08-31' },
            ...{ p90: '2026-09-20', last: '2026-10-10' },
          },
        ],
      },
    ],
  };
}

export function weightsSample(name = 'Amber Lantern'): WeightsFigure {
  return {
    ...words,
    kind: 'weights',
    key: 'weights-main',
    panels: [
      {
        heading: 'Main crop',
        rows: [
          { name, kind: 'box', min: 20, q1: 30, median: 40, q3: 50, max: 80 },
          { name: 'Slate Quay', kind: 'fruit', weights: [25, 35.5] },
        ],
      },
    ],
  };
}

export function daySample(name = 'Amber Lantern'): DayFigure {
  const counted = { remark: '', counts: true };
  return {
    ...words,
    kind: 'day',
    key: 'day-2026-07-29',
    scale: { low: 1, high: 10 },
    panels: [
      {
        heading: 'Early crop: marks',
        measure: 'marks',
        rows: [
          { ...counted, name, place: 1, value: 7.75, others: [5.5, 10] },
          {
            name: 'Slate Quay',
            place: undefined,
            remark: 'overripe',
            counts: false,
            value: 4,
            others: [],
          },
        ],
      },
      {
        heading: 'Early crop: weight',
        measure: 'weight',
        rows: [{ ...counted, name, place: 1, value: 50, others: [40] }],
      },
    ],
  };
}

export function cultivarSample(name = 'Amber Lantern'): CultivarFigure {
  const early = { crop: 'early' as const, points: [{ season: 2025, value: 2, low: 1, high: 3 }] };
  const main = {
    crop: 'main' as const,
    points: [
      { season: 2025, value: 4, low: undefined, high: undefined },
      { season: 2026, value: 5, low: 4.5, high: 5.5 },
    ],
  };
  const days = {
    crop: 'main' as const,
    points: [{ season: 2026, value: 20_696, low: undefined, high: undefined }],
  };
  return {
    ...words,
    title: name,
    kind: 'cultivar',
    key: 'cultivar-amber-lantern',
    panels: [
      {
        heading: 'Index',
        values: 'number',
        domain: [1, 10],
        seasons: [2025, 2026],
        lines: [early, main],
      },
      { heading: 'Half picked by', values: 'day', seasons: [2025, 2026], lines: [days] },
    ],
  };
}

/** A figure of each kind with a name of one's own in it. */
export function poolSample(name = 'Amber Lantern'): PoolFigure {
  return {
    ...words,
    kind: 'pool',
    key: 'pool-main',
    scale: { low: 1, high: 10 },
    panels: [
      {
        heading: 'Main crop',
        rows: [
          {
            name,
            rank: 1,
            value: 7,
            low: 6,
            high: 8,
            newLow: 5,
            newHigh: 9,
            gardens: [
              { name: 'Home', value: 7.5, isHome: true },
              { name: 'Hill', value: 6.5, isHome: false },
            ],
          },
          {
            name: 'Slate Quay',
            rank: 2,
            value: 4,
            low: 3,
            high: 5,
            newLow: 2,
            newHigh: 6,
            gardens: [{ name: 'Hill', value: 4.5, isHome: false }],
          },
        ],
      },
    ],
  };
}

export function figureSamples(name?: string): readonly Figure[] {
  return [
    ranksSample(name),
    ripeningSample(name),
    weightsSample(name),
    cultivarSample(name),
    daySample(name),
    poolSample(name),
  ];
}
