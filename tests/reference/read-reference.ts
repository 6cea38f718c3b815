import { readFileSync } from 'node:fs';

/** Fields whose shape depends on the topic: a test narrows the ones that it uses. */
export type ReferenceFields = Readonly<Record<string, unknown>>;

/** One published, certified or independently computed set of values. */
export interface ReferenceCase {
  readonly id: string;
  /** certified, published, exact or R-computed */
  readonly provenance: string;
  readonly source: string;
  /** how the expected values were had */
  readonly how: string;
  readonly data: ReferenceFields;
  readonly expected: ReferenceFields;
  /** greatest difference a test may allow, as `rel`, `abs` or a topic's own words */
  readonly tolerance: ReferenceFields;
}

/** One reference file: a topic and its cases. */
export interface Reference {
  readonly topic: string;
  readonly source?: string | readonly string[];
  readonly cases: readonly ReferenceCase[];
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const text = (value: unknown): string => (typeof value === 'string' ? value : '');

function toCase(value: unknown, name: string): ReferenceCase {
  if (!isRecord(value) || typeof value['id'] !== 'string') {
    throw new TypeError(`${name}.json holds a case without an id`);
  }
  const fields = (key: string): ReferenceFields => {
    const held = value[key];
    return isRecord(held) ? held : {};
  };
  return {
    id: value['id'],
    provenance: text(value['provenance']),
    source: text(value['source']),
    how: text(value['how']),
    data: fields('data'),
    expected: fields('expected'),
    tolerance: fields('tolerance'),
  };
}

/**
 * Reads `tests/reference/<name>.json`.
 *
 * @param name the file's name without `.json`
 * @throws TypeError if the file is not a topic with cases, or has none
 */
export function readReference(name: string): Reference {
  const parsed: unknown = JSON.parse(
    readFileSync(new URL(`./${name}.json`, import.meta.url), 'utf8'),
  );
  if (!isRecord(parsed) || !Array.isArray(parsed['cases']) || parsed['cases'].length === 0) {
    throw new TypeError(`${name}.json holds no cases`);
  }
  const source = parsed['source'];
  return {
    topic: text(parsed['topic']),
    ...(typeof source === 'string' || Array.isArray(source) ? { source } : {}),
    cases: parsed['cases'].map((value) => toCase(value, name)),
  };
}
