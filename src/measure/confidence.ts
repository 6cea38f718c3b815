/** Of every interval, as a fraction, where nobody asks for another. */
export const CONFIDENCE = 0.95;
