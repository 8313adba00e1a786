const UNIT = String.raw`%|°[CF]|µs|mm/s|in/s|mm|J/cm²|min/m²|min/ft²|m²|ft²|Hz|W`;
const BEFORE_UNIT = new RegExp(String.raw`(\d) (?=(?:${UNIT})(?![\w²/]))`, 'g');
const INSIDE_GRADE = /\b(Sa|SP|No\.) (?=\d)|(\d) (?=1\/2\b)/g;
const NO_BREAK = '\u00a0';

/** The same words with numbers held to their units, and the parts of a grade to each other, where a line ends. */
export const keptTogether = (sentence: string): string =>
  sentence
    .replace(BEFORE_UNIT, `$1${NO_BREAK}`)
    .replace(
      INSIDE_GRADE,
      (_found, name: string | undefined, digit: string | undefined) => `${name ?? digit}${NO_BREAK}`,
    );
