import { RANK_SEED } from '../../judge/index/simulation.ts';
import { type CropPool, poolCrops } from '../../judge/pool/pool-crops.ts';
import { cropHeading } from '../crop-words.ts';
import type { PooledSpot, PoolFigure } from '../figures/figure.ts';
import { decimal, joined, type Prose } from '../prose.ts';
import { percent } from '../report-request.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';
import { manyGardens } from './pool-title.ts';

/** Each cultivar's gardens and their middle; undefined where nothing can be pooled. */
export function poolFigure(
  material: PoolMaterial,
  request: PoolReportRequest,
): PoolFigure | undefined {
  const { gardens, same, isHomeIn } = material;
  const { confidence, selection, seed = RANK_SEED } = request;
  const asked = { crops: selection.crops, confidence, top: 1, seed };
  return poolFigureOf(material, request, poolCrops(gardens, same, asked, isHomeIn));
}

/** The same of what has been judged; `top` cuts what is drawn. */
export function poolFigureOf(
  { gardens, same }: PoolMaterial,
  { confidence, top, rows: shown }: Pick<PoolReportRequest, 'confidence' | 'top' | 'rows'>,
  pools: readonly CropPool[],
): PoolFigure | undefined {
  const [home] = gardens;
  if (home === undefined) return undefined;
  const crops = pools.flatMap(({ crop, ranked }) => {
    const rows = ranked
      .filter(({ cultivar }) => shown?.has(same.cultivars.indexOf(cultivar)) ?? true)
      .slice(0, top)
      .map(({ cultivar, index, at, ...one }): PooledSpot => {
        const worth = at.map(({ garden, index: value }) => ({
          name: gardens[garden]?.name ?? '',
          value,
          isHome: garden === 0,
        }));
        return { ...one, name: cultivar.name, value: index, gardens: worth };
      });
    return rows.length === 0 ? [] : [{ crop, heading: cropHeading(home.ledger, crop), rows }];
  });
  if (crops.length === 0) return undefined;
  const pooled = new Set(pools.flatMap((pool) => pool.gardens));
  return {
    kind: 'pool',
    key: ['pool', ...crops.map(({ crop }) => crop)].join('-'),
    title: `Index in ${manyGardens(pooled.size)}${crops.length === 1 ? `, ${crops[0]?.crop} crop` : ''}`,
    reading: `Dot: index in the middle of gardens like these; thick line: its ${percent(confidence)} % interval; thin line: a garden not among them. Below it the gardens, each by its own fruit and what the others say; square: ${home.name}.`,
    alt: joined(crops.map(({ heading, rows }) => altOf(heading, rows))),
    description: joined(crops.map(({ heading, rows }) => told(heading, rows))),
    scale: home.ledger.trial.scale,
    panels: crops.map(({ heading, rows }) => ({ heading, rows })),
  };
}

function altOf(heading: string, rows: readonly PooledSpot[]): Prose {
  const [best] = rows;
  if (best === undefined) return [];
  return [
    `${heading}: ${rows.length} cultivars; the highest index over the gardens is ${best.name}'s, `,
    decimal(best.value, 1),
    '.',
  ];
}

function told(heading: string, rows: readonly PooledSpot[]): Prose {
  const each = rows.map(({ rank, name, value, low, high, newLow, newHigh, gardens }): Prose => {
    const places = gardens.map(
      ({ name: garden, value: worth }): Prose => [`${garden} `, decimal(worth, 1)],
    );
    return [
      `${rank} ${name} `,
      decimal(value, 1),
      ' (',
      decimal(low ?? value, 1),
      ' to ',
      decimal(high ?? value, 1),
      '; elsewhere ',
      decimal(newLow, 1),
      ' to ',
      decimal(newHigh, 1),
      '; ',
      ...joined(places, ', '),
      ')',
    ];
  });
  return [`${heading}: `, ...joined(each, '; '), '.'];
}
