import { type PlainShapes, plainShapes } from './plain-shape.ts';
import { SCHEMAS } from './schema/schemas.ts';

/** The shapes of all files. The build puts them in as data, so that the schemas load only when something is wrong. */
export const PLAIN_SHAPES: PlainShapes = plainShapes(SCHEMAS);
