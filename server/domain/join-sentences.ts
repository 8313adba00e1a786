/** Those that say something, one behind the other. */
export const joinSentences = (...sentences: readonly string[]): string =>
  sentences.filter((sentence) => sentence !== '').join(' ');
