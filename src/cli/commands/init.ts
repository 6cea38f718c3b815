import { join, resolve } from 'node:path';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { bearsAtFirst } from '../../model/bearing.ts';
import type { StarterFile } from '../../reading/starter-ledger.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import { DRIVER_COMMAND } from '../merge-driver.ts';

interface InitOptions {
  readonly title?: string;
  readonly fruit: string;
  readonly place?: string;
  readonly latitude?: number;
  readonly units?: 'metric' | 'imperial';
  readonly dryRun: boolean;
}

export function addInitCommand(program: Command, host: Host): void {
  program
    .command('init')
    .description('Begin a ledger: files with comments that tell what to type where.')
    .argument('[dir]', 'the folder of the ledger, made if there is none', '.')
    .addOption(named('--title <text>', 'what the trial is called'))
    .addOption(named('--fruit <word>', 'what is grown').default('fig', 'fig'))
    .addOption(named('--place <text>', 'where it is'))
    .addOption(
      new Option('--latitude <degrees>', 'negative south of the equator').argParser(parseLatitude),
    )
    .addOption(
      new Option(
        '--units <system>',
        'of typed numbers without a unit; tables tell g and cm (default: metric)',
      ).choices(['metric', 'imperial']),
    )
    .option('--dry-run', 'tell what would be written, and write nothing', false)
    .addHelpText('after', '\nExample:\n  pomary init figs --place "Tidewrack Lane" --latitude 52.1')
    .action(async (dir: string, options: InitOptions) => {
      const folder = resolve(host.cwd, dir);
      const files = await newFiles(host, options);
      const wanted = stillWanted(host, folder, dir, files);
      const verb = options.dryRun ? 'would write' : 'wrote';
      if (!options.dryRun) {
        host.files.writeAll(wanted.map(({ path, text }) => ({ path: join(folder, path), text })));
      }
      for (const { path } of wanted) host.stdout.write(`${verb} ${join(dir, path)}\n`);
      for (const { path } of files.filter((file) => !wanted.includes(file))) {
        const more = path === '.gitattributes' ? '; pomary merge --setup adds to it' : '';
        host.stdout.write(`left ${path} as it is${more}\n`);
      }
      if (!options.dryRun) host.stdout.write(nextSteps(dir, options.fruit));
    });
}

async function newFiles(host: Host, options: InitOptions): Promise<readonly StarterFile[]> {
  const { starterFiles } = await import('../../reading/starter-ledger.ts');
  const { jsonSchema } = await import('../../reading/json-schema.ts');
  const { SCHEMA_NAMES, schemaPath } = await import('../../reading/schema-files.ts');
  const { seasonOf } = await import('../../model/dates.ts');
  const { title, fruit, place, latitude, units } = options;
  const season = seasonOf(host.today(), latitude);
  const named = title ?? `Trial of ${fruit} cultivars`;
  return [
    ...starterFiles({ title: named, fruit, place, latitude, units, season }),
    ...SCHEMA_NAMES.map((name) => ({
      path: schemaPath(name),
      text: `${JSON.stringify(jsonSchema(name), null, 2)}\n`,
    })),
  ];
}

/** Files that a folder may have for reasons of its own, and that then stay as they are. */
const ALSO_OF_OTHERS: readonly string[] = ['.gitattributes', '.gitignore'];

/**
 * What is to be written: everything, or nothing where a file of the ledger is there already. Files
 * of git may be there for reasons of their own, and stay.
 */
function stillWanted(
  host: Host,
  folder: string,
  dir: string,
  files: readonly StarterFile[],
): readonly StarterFile[] {
  const there = files.filter(({ path }) => host.files.kind(join(folder, path)) !== 'none');
  const inTheWay = there.filter(({ path }) => !ALSO_OF_OTHERS.includes(path));
  if (inTheWay.some(({ path }) => path === 'ledger.yaml')) {
    throw new UsageError(`${join(dir, 'ledger.yaml')} is there already; nothing was written`);
  }
  if (inTheWay.length > 0) {
    const names = inTheWay.map(({ path }) => join(dir, path)).join(', ');
    throw new UsageError(`in the way: ${names}; nothing was written`);
  }
  return files.filter((file) => !there.includes(file));
}

function nextSteps(dir: string, fruit: string): string {
  const command = dir === '.' ? 'pomary' : `pomary --ledger ${dir}`;
  return `
Next: ${command} enter, and type what you have, a line each, as in
  cultivar Amber Lantern bears ${bearsAtFirst(fruit)}
  tree T1 Amber Lantern planted 2022
  taster mara Mara
or list them in ${join(dir, 'cultivars.yaml')} and ${join(dir, 'trees.yaml')},
by the examples in them, then: ${command} check

Keep the folder in git (git init, git add, git commit), so that nothing you
typed is ever lost. Where two people keep it, tell git once on each computer how
their entries are joined:
  ${DRIVER_COMMAND}
`;
}

function named(flags: string, description: string): Option {
  return new Option(flags, description).argParser((text: string) => {
    if (text.trim() !== '') return text.trim();
    throw new InvalidArgumentError('Write a word or more.');
  });
}

function parseLatitude(text: string): number {
  const degrees = /^[+-]?\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (degrees >= -90 && degrees <= 90) return degrees;
  throw new InvalidArgumentError('Write degrees from -90 to 90, as 52.1.');
}
