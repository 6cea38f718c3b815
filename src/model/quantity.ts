/** Units that numbers in a ledger may carry, and their exact size in the unit pomary counts in. */
export type Dimension = 'weight' | 'girth' | 'width' | 'height' | 'temperature' | 'volume';

interface Unit {
  readonly names: readonly string[];
  /** Size in the base unit, as an exact decimal. */
  readonly factor: string;
}

/**
 * International yard and pound agreement (1959): 1 lb = 0.45359237 kg, 1 in = 25.4 mm, both exact.
 * US gallon = 231 cubic inches = 3.785411784 L; imperial gallon = 4.54609 L (UK Units of
 * Measurement Regulations 1995). NIST Special Publication 811, appendix B.
 */
const WEIGHTS: readonly Unit[] = [
  { names: ['g'], factor: '1' },
  { names: ['kg'], factor: '1000' },
  { names: ['mg'], factor: '0.001' },
  { names: ['oz'], factor: '28.349523125' },
  { names: ['lb', 'lbs'], factor: '453.59237' },
];
const LENGTHS_MM: readonly Unit[] = [
  { names: ['mm'], factor: '1' },
  { names: ['cm'], factor: '10' },
  { names: ['m'], factor: '1000' },
  { names: ['in', '"'], factor: '25.4' },
  { names: ['ft', "'"], factor: '304.8' },
];
const LENGTHS_CM: readonly Unit[] = [
  { names: ['mm'], factor: '0.1' },
  { names: ['cm'], factor: '1' },
  { names: ['m'], factor: '100' },
  { names: ['in', '"'], factor: '2.54' },
  { names: ['ft', "'"], factor: '30.48' },
];
const VOLUMES: readonly Unit[] = [
  { names: ['L', 'l', 'litre', 'litres', 'liter', 'liters'], factor: '1' },
  { names: ['ml', 'mL'], factor: '0.001' },
  { names: ['US gal'], factor: '3.785411784' },
  { names: ['UK gal'], factor: '4.54609' },
];

/** Units by dimension; the first is the one pomary counts in. */
const UNITS: Readonly<Record<Exclude<Dimension, 'temperature'>, readonly Unit[]>> = {
  weight: WEIGHTS,
  girth: LENGTHS_CM,
  width: LENGTHS_MM,
  height: LENGTHS_CM,
  volume: VOLUMES,
};

/** What a bare number means, by the ledger's `units`. */
export type UnitSystem = 'metric' | 'imperial';

const BARE: Readonly<Record<UnitSystem, Readonly<Record<Dimension, string>>>> = {
  metric: { weight: 'g', girth: 'cm', width: 'mm', height: 'cm', temperature: 'degC', volume: 'L' },
  imperial: {
    weight: 'oz',
    girth: 'in',
    width: 'in',
    height: 'in',
    temperature: 'degF',
    volume: 'UK gal',
  },
};

export function bareUnit(system: UnitSystem, dimension: Dimension): string {
  return BARE[system][dimension];
}

/** The unit that pomary counts in. */
export function baseUnit(dimension: Dimension): string {
  if (dimension === 'temperature') return 'degC';
  return UNITS[dimension].find(({ factor }) => factor === '1')?.names[0] ?? '';
}

/** The units one may write for a dimension, for messages. */
export function unitNames(dimension: Dimension): readonly string[] {
  if (dimension === 'temperature') return ['degC', 'degF'];
  return UNITS[dimension].flatMap((unit) => unit.names.slice(0, 1));
}

/**
 * A quantity in pomary's unit for its dimension (g, cm for girth and height, mm for width, degC,
 * L), or undefined if the text is none. The conversion is done in whole numbers and rounded once,
 * so `"1.5 lb"` is exactly the double nearest to 680.388555.
 */
export function parseQuantity(
  written: number | string,
  dimension: Dimension,
  system: UnitSystem,
): number | undefined {
  // Most numbers in a ledger are bare and in the unit that pomary counts in already.
  if (isPlain(written) && BARE_IS_BASE[system][dimension]) return written;
  const text = plainDecimal(written);
  const found = /^\s*([+-]?\d+(?:\.\d+)?|[+-]?\.\d+)\s*([^\d\s].*?)?\s*$/.exec(text);
  if (found === null) return undefined;
  const [, amount = '', unitName] = found;
  const unit = unitName ?? bareUnit(system, dimension);
  if (dimension === 'temperature') return celsius(amount, unit);
  const size = UNITS[dimension].find((one) => one.names.includes(unit));
  return size === undefined
    ? inTwoUnits(text, dimension)
    : exactProduct(scaled(amount), size.factor);
}

/** What is told in two units at once, and how many of the second make one of the first. */
const PAIRS = [
  { first: /^\s*(\d+)\s*lbs?,?\s*(\d.*)$/, second: 'oz', each: 16 },
  { first: /^\s*(\d+)\s*(?:ft|')\s*(\d.*)$/, second: 'in', each: 12 },
];

/** Whether a text is one quantity in two units, as `1 lb 2 oz`, so that no word of it stands alone. */
export function isInTwoUnits(text: string, dimension: Dimension): boolean {
  return dimension !== 'temperature' && inTwoUnits(text, dimension) !== undefined;
}

/** `1 lb 2 oz` or `5 ft 3 in`, added up in the smaller unit and so rounded once. */
function inTwoUnits(
  text: string,
  dimension: Exclude<Dimension, 'temperature'>,
): number | undefined {
  for (const { first, second, each } of PAIRS) {
    const [, greater, rest = ''] = first.exec(text) ?? [];
    const [, less, unit = ''] = /^(\d+(?:\.\d+)?)\s*(\S+)\s*$/.exec(rest) ?? [];
    const size = UNITS[dimension].find(({ names }) => names.includes(second));
    if (greater === undefined || less === undefined || !size?.names.includes(unit)) continue;
    if (Number(less) >= each) return undefined;
    const [digits, places] = scaled(less);
    const total = BigInt(greater) * BigInt(each) * 10n ** BigInt(places) + digits;
    return exactProduct([total, places], size.factor);
  }
  return undefined;
}

const BARE_IS_BASE = {
  metric: basesOf('metric'),
  imperial: basesOf('imperial'),
};

function basesOf(system: UnitSystem): Readonly<Record<Dimension, boolean>> {
  const isBase = (dimension: Dimension) => isBaseUnit(bareUnit(system, dimension), dimension);
  return {
    weight: isBase('weight'),
    girth: isBase('girth'),
    width: isBase('width'),
    height: isBase('height'),
    temperature: isBase('temperature'),
    volume: isBase('volume'),
  };
}

/** Whether a number is one whose digits would come back as the same number; those printed with an exponent are not. */
function isPlain(written: number | string): written is number {
  if (typeof written !== 'number') return false;
  const size = Math.abs(written);
  return size >= 1e-6 && size < 1e21;
}

function isBaseUnit(unit: string, dimension: Dimension): boolean {
  if (dimension === 'temperature') return unit === 'degC';
  return UNITS[dimension].some(({ names, factor }) => factor === '1' && names.includes(unit));
}

function plainDecimal(written: number | string): string {
  if (typeof written === 'string') return written;
  const text = String(written);
  // Numbers printed with an exponent are far outside anything a fruit trial measures.
  return /e/i.test(text) ? '' : text;
}

function celsius(amount: string, unit: string): number | undefined {
  if (['degC', 'C', '°C'].includes(unit)) return Number(amount);
  // (F - 32) x 5 / 9 has no finite decimal in general: one correctly rounded division.
  if (['degF', 'F', '°F'].includes(unit)) return ((Number(amount) - 32) * 5) / 9;
  return undefined;
}

/** Product of two decimals, rounded once to the nearest double. */
function exactProduct([left, leftPlaces]: [bigint, number], factor: string): number {
  const [right, rightPlaces] = scaled(factor);
  return Number(`${left * right}e-${leftPlaces + rightPlaces}`);
}

function scaled(decimal: string): [bigint, number] {
  const sign = decimal.startsWith('-') ? -1n : 1n;
  const [whole = '', fraction = ''] = decimal.replace(/^[+-]/, '').split('.');
  return [sign * BigInt(`${whole}${fraction}` || '0'), fraction.length];
}
