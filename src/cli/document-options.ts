import { type Command, Option } from 'commander';
import { DOCUMENT_FORMATS } from '../render/document.ts';
import { fileOption, groundOption, parseConfidence, parseCount } from './options.ts';

/** How sure, in which form, and where to, for what is not a single table. */
export function withDocumentOutput(command: Command): Command {
  return command
    .addOption(
      new Option('--confidence <percent>', 'of every interval')
        .argParser(parseConfidence)
        .default(0.95, '95'),
    )
    .addOption(
      new Option('--format <form>', 'form of the page (default: by the file, else text)').choices(
        DOCUMENT_FORMATS,
      ),
    )
    .addOption(groundOption('what a page of HTML stands on'))
    .addOption(fileOption('--output <file>', 'write to a file instead of the screen'));
}

export function countOption(flags: string, description: string, usual: number): Option {
  return new Option(flags, description).argParser(parseCount).default(usual);
}
