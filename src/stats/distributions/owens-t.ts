import { requireFinite } from '../numbers/require-finite.ts';
import { normalCdf } from './normal-cdf.ts';

/**
 * Owen's T function: the chance that X > h and 0 < Y < a X for independent standard normals X and Y.
 *
 * Formula: T(h, a) = 1 / (2 pi) x integral from 0 to a of exp(-h^2 (1 + x^2) / 2) / (1 + x^2) dx (Owen 1956, Annals of
 * Mathematical Statistics 27:1075-1090), by Gauss-Legendre quadrature of 20 points for a up to 1, and beyond by
 * T(h, a) = (F(h) + F(a h)) / 2 - F(h) F(a h) - T(a h, 1 / a) for h from 0 (Patefield and Tandy 2000, Journal of
 * Statistical Software 5(5), formula 1.4). Absolute error below 1e-14 for h up to 8.
 *
 * @throws RangeError if h or a is not finite
 * @example owensT(0, 1) // => 0.125
 */
export function owensT(h: number, a: number): number {
  requireFinite('h, a', [h, a]);
  // Even in h, odd in a.
  return Math.sign(a) * upward(Math.abs(h), Math.abs(a));
}

function upward(h: number, a: number): number {
  if (a <= 1) return quadrature(h, a);
  // Upper tails, which lose nothing where h is large: F(h) = 1 - p gives (p + q) / 2 - p q.
  const p = normalCdf(-h);
  const q = normalCdf(-a * h);
  return (p + q) / 2 - p * q - quadrature(a * h, 1 / a);
}

/** Abscissas and weights for 20 points (Abramowitz and Stegun 1964, table 25.4), one half of them. */
const POINTS: readonly (readonly [at: number, weight: number])[] = [
  [0.07652652113349734, 0.15275338713072584],
  [0.22778585114164507, 0.14917298647260374],
  [0.37370608871541955, 0.14209610931838204],
  [0.5108670019508271, 0.13168863844917664],
  [0.636053680726515, 0.11819453196151841],
  [0.7463319064601508, 0.10193011981724044],
  [0.8391169718222188, 0.08327674157670475],
  [0.912234428251326, 0.06267204833410907],
  [0.9639719272779138, 0.04060142980038694],
  [0.9931285991850949, 0.017614007139152118],
];

function quadrature(h: number, a: number): number {
  const half = a / 2;
  const rate = -0.5 * h * h;
  let sum = 0;
  for (const [at, weight] of POINTS) {
    const above = (half * (1 + at)) ** 2;
    const below = (half * (1 - at)) ** 2;
    sum += weight * (Math.exp(rate * above) / (1 + above) + Math.exp(rate * below) / (1 + below));
  }
  return (half * Math.exp(rate) * sum) / (2 * Math.PI);
}
