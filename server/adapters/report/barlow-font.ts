import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { LetterWeight } from '../../measure/card/card-drawing.ts';

/** The Barlow typeface (SIL Open Font License 1.1), from the package that carries its files. */
const FILES: Readonly<Record<LetterWeight, string>> = {
  regular: '400Regular/Barlow_400Regular.ttf',
  semibold: '600SemiBold/Barlow_600SemiBold.ttf',
  bold: '700Bold/Barlow_700Bold.ttf',
};
const require = createRequire(import.meta.url);
const loaded = new Map<LetterWeight, Buffer>();

/** Bytes of the font file; read once. */
export function barlowFont(weight: LetterWeight): Buffer {
  const known = loaded.get(weight);
  if (known !== undefined) return known;
  const bytes = readFileSync(require.resolve(`@expo-google-fonts/barlow/${FILES[weight]}`));
  loaded.set(weight, bytes);
  return bytes;
}
