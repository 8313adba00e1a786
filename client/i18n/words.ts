import { english } from './english/english.ts';

/** Every word that the pages show. Another language is another object of this shape. */
export type Words = typeof english;
export const words: Words = english;
