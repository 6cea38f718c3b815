export { parseDocument } from 'yaml';
