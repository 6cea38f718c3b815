import type { Likely } from '../../judge/index/told-summary.ts';
import { type CropPool, TAKEN_AS_KNOWN } from '../../judge/pool/pool-crops.ts';
import { decimalText, numberWord } from '../number-words.ts';

/** The method at length, for those who ask. */
export function poolExplanation(): readonly string[] {
  const { shares, widths, errors } = TAKEN_AS_KNOWN;
  const [of, item, interaction] = [
    shares.item + shares.interaction,
    shares.item,
    shares.interaction,
  ].map(numberWord);
  // Two standard deviations of a logarithm.
  const within = Math.exp(2 * widths).toFixed(2);
  return [
    "Two stages (Piepho, Mohring, Schulz-Streeck and Ogutu 2012, Biometrical Journal 54:844-860; Buntaran, Piepho, Schmidt, Ryden, Halling and Forkman 2020, Crop Science 60:2221-2240). First each garden alone, by the joint model of rank: cultivar, season, site, tree and plate; what it says of each cultivar is freed from the shrinkage towards that garden's other cultivars. Then all gardens: value = level of the garden + spread of its marks x (cultivar + cultivar in that garden) + error, with the errors and their covariances from the first stage, which are themselves known only to a factor.",
    'Cultivars and what a garden is to one of them are random, their spreads drawn along; levels are free, so a garden of harsh tasters or good soil moves no cultivar against another. Gardens are taken as a random sample of gardens like these: what to expect in a garden not among them has the whole spread between gardens in it (Piepho et al. 2025 on predictions for new environments). Whoever chose gardens of one kind may tell only gardens of that kind.',
    'Seasons are told from gardens as if no two gardens shared their weather: what one year did to a cultivar in all gardens of a district counts as the cultivar where only that year was seen. "Here": the level and the marks of home, by what was seen at home and what the others say.',
    `What is taken as known beforehand: of the variance between cultivars in one garden ${item} parts in ${of} are the cultivar everywhere and ${interaction} the garden, worth as much as a few cultivars in many gardens; marks of a garden are spread by a factor within ${within} of the others, and how far all gardens together set cultivars apart is doubted as much; error variances of the first stage are less than it says, by a factor of about ${Math.exp(errors.mean).toFixed(2)}. Our own guesses, the last helped by simulated gardens.`,
    'In simulated gardens with known truth, intervals of 90 % held the middle in 93 of 100 with two gardens, 87 with four, 92 with eight and 89 with 20; a garden not among them in 95, 90, 91 and 88 (each give or take three). Where gardens hardly differ in what a cultivar is to them, a garden not among them is told wider than need be; where they differ very much, a few of them tell the next one a little too surely.',
  ];
}

/** What the draws say of the spreads of a crop. */
export function poolSpreadWords({ crop, spreads }: CropPool): readonly string[] {
  if (spreads === undefined) return [];
  const range = ({ middle, low, high }: Likely) =>
    `${decimalText(middle, 2)} (9 chances in 10: ${decimalText(low, 2)} to ${decimalText(high, 2)})`;
  const widths = spreads.widths.map((width) => decimalText(width, 2)).join(', ');
  return [
    `Spreads in the ${crop} crop, points: between cultivars ${range(spreads.item)}; of what a garden is to one of them ${range(spreads.interaction)}. How widely the marks of each garden are spread against the others: ${widths}.`,
  ];
}
