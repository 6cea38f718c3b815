import type { Condition } from './condition.ts';
import { HELP } from './help.ts';
import { LANGUAGES } from './languages.ts';
import { LIBRARY } from './library.ts';
import { MARKED, MARKED_WINDOWS_LINES, WINDOWS_LINES } from './line-ends.ts';
import { MAIN_JOB } from './main-job.ts';
import { NO_NETWORK } from './no-network.ts';
import { OTHER_VARIABLES } from './other-variables.ts';
import { BELOW, HOMES, NFC_PATH, NFD_PATH } from './places.ts';
import { READ_ONLY_DISK, READ_ONLY_FILES } from './read-only.ts';
import { REPORTS, SAME_IN_EVERY_NODE } from './reports.ts';
import { STREAMS } from './streams.ts';
import { AT_A_TERMINAL, COLOUR_FORCED, NO_COLOUR, NO_UTF8, WIDTHS } from './terminals.ts';
import { TIME_ZONES } from './time-zones.ts';

export const CONDITIONS: readonly Condition[] = [
  MAIN_JOB,
  HELP,
  REPORTS,
  SAME_IN_EVERY_NODE,
  LIBRARY,
  NFC_PATH,
  NFD_PATH,
  BELOW,
  HOMES,
  ...LANGUAGES,
  ...TIME_ZONES,
  WINDOWS_LINES,
  MARKED,
  MARKED_WINDOWS_LINES,
  READ_ONLY_FILES,
  READ_ONLY_DISK,
  NO_NETWORK,
  NO_COLOUR,
  COLOUR_FORCED,
  NO_UTF8,
  WIDTHS,
  AT_A_TERMINAL,
  STREAMS,
  OTHER_VARIABLES,
];
