import type { SurfaceKind } from '../surface-kind-words.ts';

/** First match wins: the words that make the laser's work harder stand first. */
const WORDS: readonly (readonly [SurfaceKind, RegExp])[] = [
  [
    'tight oxide',
    /tight|smooth (black )?oxide|mill coat|black oxide|magnetite|bluing|blued|firm(ly)? bonded|oxide film/,
  ],
  ['mill scale', /mill[\s-]*scale|hot[\s-]*roll|walzhaut|zunder/],
  ['heavy pitted rust', /pit|heavy|heavily|thick|severe|scab|layered|deep rust|flak/],
  ['paint', /paint|coat|primer|epoxy|lacquer|varnish|enamel/],
  ['light rust', /light|flash|surface rust|bloom|thin rust|fresh rust|rust/],
  ['mill scale', /scale/],
  ['tight oxide', /oxide/],
];

/** What the operator wrote about the surface, read leniently; anything that says nothing known is "unknown". */
export function surfaceKindOf(text: string | undefined): SurfaceKind {
  const words = (text ?? '').toLowerCase();
  return WORDS.find(([, pattern]) => pattern.test(words))?.[0] ?? 'unknown';
}
