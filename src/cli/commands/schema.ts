import { join, resolve } from 'node:path';
import { Argument, type Command } from 'commander';
import type { OwnWords } from '../../reading/json-schema.ts';
import {
  DESCRIBED_FILES,
  editorLine,
  SCHEMA_NAMES,
  type SchemaName,
  schemaPath,
} from '../../reading/schema-files.ts';
import { UsageError } from '../exit.ts';
import { findLedger, readFiles } from '../find-ledger.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { fileOption } from '../options.ts';

interface SchemaOptions extends GlobalOptions {
  readonly output?: string;
  readonly write: boolean;
}

export function addSchemaCommand(program: Command, host: Host): void {
  program
    .command('schema')
    .description('Describe the files of a ledger to an editor, as JSON Schema.')
    .addArgument(new Argument('[file]', 'which kind of file').choices(SCHEMA_NAMES))
    .addOption(fileOption('--output <file>', 'write to a file instead of the screen'))
    .option('--write', "put all of them into the ledger's folder, as schema/*.json", false)
    .addHelpText('after', '\nExample:\n  pomary schema --write')
    .action(async (name: SchemaName | undefined, _options: unknown, command: Command) => {
      const options = command.optsWithGlobals<SchemaOptions>();
      if (options.write) return writeAll(host, name, options);
      if (name === undefined) return list(host, options);
      const text = await schemaText(name);
      if (options.output === undefined) host.stdout.write(text);
      else host.files.write(resolve(host.cwd, options.output), text);
    });
}

/** Loaded when it is asked for: the schemas bring zod along. */
async function schemaText(name: SchemaName, words?: OwnWords): Promise<string> {
  const { jsonSchema } = await import('../../reading/json-schema.ts');
  return `${JSON.stringify(jsonSchema(name, words), null, 2)}\n`;
}

function list(host: Host, { output }: SchemaOptions): void {
  if (output !== undefined) {
    throw new UsageError(`name the one to write to ${output}: ${SCHEMA_NAMES.join(', ')}`);
  }
  const lines = SCHEMA_NAMES.map((name) => `${name.padEnd(10)} ${DESCRIBED_FILES[name]}`);
  lines.push('', 'pomary schema NAME prints one; --write puts all into the folder of the ledger.');
  host.stdout.write(`${lines.join('\n')}\n`);
}

async function writeAll(
  host: Host,
  name: SchemaName | undefined,
  options: SchemaOptions,
): Promise<void> {
  if (name !== undefined || options.output !== undefined) {
    throw new UsageError('--write writes all schemas into the ledger; leave the rest out');
  }
  const folder = findLedger(host, options.ledger);
  const words = await wordsOf(host, folder);
  const files = await Promise.all(
    SCHEMA_NAMES.map(async (one) => ({
      path: join(folder, schemaPath(one)),
      text: await schemaText(one, words),
    })),
  );
  host.files.writeAll(files);
  for (const one of SCHEMA_NAMES) host.stdout.write(`wrote ${schemaPath(one)}\n`);
  for (const line of unnamed(host, folder)) host.stdout.write(`${line}\n`);
}

/** What the ledger calls its things, as far as it can be read. */
async function wordsOf(host: Host, folder: string): Promise<OwnWords | undefined> {
  const [{ readLedger }, { ownWords }] = await Promise.all([
    import('../../reading/read-ledger.ts'),
    import('../../reading/json-schema.ts'),
  ]);
  const { ledger } = readLedger(readFiles(host, folder));
  return ledger && ownWords(ledger);
}

/** What to type where a file of the ledger does not yet name its schema. */
function unnamed(host: Host, folder: string): readonly string[] {
  const decoder = new TextDecoder();
  const wanting = new Map<string, string[]>();
  for (const { path, bytes } of readFiles(host, folder)) {
    const name = SCHEMA_NAMES.find((one) => matches(DESCRIBED_FILES[one], path));
    if (name === undefined || decoder.decode(bytes).includes('yaml-language-server:')) continue;
    wanting.set(editorLine(name), [...(wanting.get(editorLine(name)) ?? []), path]);
  }
  return [...wanting].flatMap(([line, paths]) => [
    `first line of ${paths.join(', ')}:`,
    `  ${line}`,
  ]);
}

function matches(described: string, path: string): boolean {
  return described === path.replace(/^seasons\/\d{4}\.yaml$/, DESCRIBED_FILES.season);
}
