import type { EndpointName } from '@domain/api/endpoints.ts';
import type { IconName } from '../components/icon.tsx';
import { words } from '../i18n/words.ts';

export interface Place {
  readonly to: string;
  readonly word: string;
  readonly icon: IconName;
  /** Beginnings of addresses that belong to this place. */
  readonly holds: readonly string[];
}

export const MORE = '/more';

/** The bar at the thumb, and at the left on a wide screen. */
export const PLACES: readonly Place[] = [
  { to: '/', word: words.nav.check, icon: 'check', holds: ['/rounds', '/assessments'] },
  { to: '/zones', word: words.nav.zones, icon: 'zones', holds: ['/zones'] },
  { to: '/jobs', word: words.nav.jobs, icon: 'jobs', holds: ['/jobs'] },
  { to: MORE, word: words.nav.more, icon: 'more', holds: ['/more'] },
];

export interface FurtherPlace extends Place {
  readonly hint: string;
  /** Offered to whoever may call this. */
  readonly needs: EndpointName;
}

/** Places that are opened now and then, some of them by single roles: under "More" on a phone, below the others at a desk. */
export const FURTHER_PLACES: readonly FurtherPlace[] = [
  {
    to: '/trials',
    word: words.trials.title,
    hint: words.planningPlaces.trialsHint,
    icon: 'patches',
    holds: ['/trials'],
    needs: 'listTrials',
  },
  {
    to: '/dose',
    word: words.dose.title,
    hint: words.planningPlaces.doseHint,
    icon: 'stripes',
    holds: ['/dose'],
    needs: 'drawDose',
  },
  {
    to: '/quote',
    word: words.quote.title,
    hint: words.planningPlaces.quoteHint,
    icon: 'quote',
    holds: ['/quote'],
    needs: 'makeQuote',
  },
  {
    to: '/learned',
    word: words.learned.title,
    hint: words.planningPlaces.learnedHint,
    icon: 'learned',
    holds: ['/learned'],
    needs: 'listLearned',
  },
  {
    to: '/inspect',
    word: words.inspect.title,
    hint: words.inspect.hint,
    icon: 'inspect',
    holds: ['/inspect'],
    needs: 'addCorrection',
  },
  {
    to: '/records',
    word: words.records.title,
    hint: words.records.placeHint,
    icon: 'record',
    holds: ['/records'],
    needs: 'listRecords',
  },
  {
    to: '/compare',
    word: words.compare.title,
    hint: words.compare.hint,
    icon: 'panes',
    holds: ['/compare'],
    needs: 'addComparison',
  },
  {
    to: '/teach',
    word: words.teach.title,
    hint: words.teach.hint,
    icon: 'teach',
    holds: ['/teach'],
    needs: 'listLessons',
  },
  {
    to: '/machines',
    word: words.machines.title,
    hint: words.places.machinesHint,
    icon: 'dial',
    holds: ['/machines'],
    needs: 'listMachines',
  },
  {
    to: '/cards',
    word: words.cards.title,
    hint: words.places.cardsHint,
    icon: 'card',
    holds: ['/cards'],
    needs: 'listCards',
  },
  {
    to: '/people',
    word: words.people.title,
    hint: words.places.peopleHint,
    icon: 'person',
    holds: ['/people'],
    needs: 'listPeople',
  },
  {
    to: '/shop',
    word: words.shop.title,
    hint: words.places.shopHint,
    icon: 'shop',
    holds: ['/shop'],
    needs: 'changeShop',
  },
  {
    to: '/audit',
    word: words.audit.title,
    hint: words.audit.placeHint,
    icon: 'story',
    holds: ['/audit'],
    needs: 'listAuditLog',
  },
];

const CHECKING = /^\/zones\/[^/]+\/check$/;

/** The way to an answer belongs to the first place, also where its address begins with a zone. */
export function isAt({ to, holds }: Place, path: string): boolean {
  if (CHECKING.test(path)) return to === '/';
  return path === to || holds.some((beginning) => path.startsWith(beginning));
}
