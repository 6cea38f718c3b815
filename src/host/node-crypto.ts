import { createRequire } from 'node:module';

// Reports need nothing of it, and it takes a tenth of a start of Node to load: it comes with its first use.
const require = createRequire(import.meta.url);
const crypto = () => require('node:crypto') as typeof import('node:crypto');

/** So many bytes that nobody can guess, as hexadecimal digits, two a byte. */
export function randomHex(bytes: number): string {
  return crypto().randomBytes(bytes).toString('hex');
}

/** A mark by which a change of bytes shows: SHA-256 in hexadecimal digits. */
export function sha256Hex(bytes: Uint8Array): string {
  return crypto().createHash('sha256').update(bytes).digest('hex');
}
