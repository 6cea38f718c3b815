/**
 * Text as one YAML scalar that any reader of YAML 1.1 or 1.2 takes for that same text: bare where
 * it is plain words, else in double quotes, whose escapes YAML shares with JSON.
 */
export function yamlScalar(text: string): string {
  return WORDS.test(text) && !RESERVED.test(text) ? text : JSON.stringify(text);
}

const WORDS = /^\p{L}[\p{L}\p{M}\p{N}]*(?:[ '’-][\p{L}\p{N}][\p{L}\p{M}\p{N}]*)*$/u;
const RESERVED = /^(?:true|false|null|yes|no|on|off|y|n)$/i;
