import type { IconName } from '../components/icon.tsx';
import { words } from '../i18n/words.ts';

export interface Place {
  readonly to: string;
  readonly word: string;
  readonly icon: IconName;
  /** Beginnings of addresses that belong to this place. */
  readonly holds: readonly string[];
}

/** The bar at the thumb, and at the left on a wide screen. */
export const PLACES: readonly Place[] = [
  { to: '/', word: words.nav.check, icon: 'check', holds: ['/rounds', '/assessments'] },
  { to: '/zones', word: words.nav.zones, icon: 'zones', holds: ['/zones'] },
  { to: '/jobs', word: words.nav.jobs, icon: 'jobs', holds: ['/jobs'] },
  { to: '/more', word: words.nav.more, icon: 'more', holds: ['/more'] },
];

/** Places of single roles, listed under "More"; an entry comes with its screen. */
export const FURTHER_PLACES: readonly (Place & { readonly hint: string })[] = [];

const CHECKING = /^\/zones\/[^/]+\/check$/;

/** The way to an answer belongs to the first place, also where its address begins with a zone. */
export function isAt({ to, holds }: Place, path: string): boolean {
  if (CHECKING.test(path)) return to === '/';
  return path === to || holds.some((beginning) => path.startsWith(beginning));
}
