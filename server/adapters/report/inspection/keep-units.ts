/** A number and its unit stay on one line: the space between becomes one that does not break. */
export const keepUnits = (text: string): string =>
  text.replace(/(\d) (?=(?:%|°|µ|mm|cm|m²|in|ft|mil|min|ms|s|h|W|Hz|UTC)(?![a-z]))/g, '$1\u00a0');
