import { SURFACE_KIND_WORDS } from '@domain/surface-kind-words.ts';
import type { Choice } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';

/** Kinds of surface to choose from; the stored word is the one that the advice knows. */
export const KIND_CHOICES: readonly Choice[] = SURFACE_KIND_WORDS.map((kind) => ({
  value: kind,
  word: words.kinds[kind],
}));
