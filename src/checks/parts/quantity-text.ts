import { bareUnit, type Dimension, parseQuantity, type UnitSystem } from '../../model/quantity.ts';

/**
 * A quantity as the ledger's bare numbers mean it, to a hundredth: `52.4 g`, or `1.85 oz` in an
 * imperial ledger.
 */
export function quantityText(
  value: number,
  dimension: Exclude<Dimension, 'temperature'>,
  system: UnitSystem,
): string {
  const size = parseQuantity(1, dimension, system) ?? 1;
  return `${Math.round((100 * value) / size) / 100} ${bareUnit(system, dimension)}`;
}
