/** The endings of files, by the form that they ask for. */
const ENDINGS: Readonly<Record<string, RegExp>> = {
  markdown: /\.(md|markdown)$/i,
  html: /\.html?$/i,
  json: /\.json$/i,
  csv: /\.csv$/i,
  svg: /\.svg$/i,
  png: /\.png$/i,
};

/** The form that the name of a file asks for, among those that there are; else the first of them. */
export function formatOfFile<Format extends string>(
  file: string | undefined,
  formats: readonly [Format, ...Format[]],
): Format {
  return formats.find((format) => ENDINGS[format]?.test(file ?? '')) ?? formats[0];
}
