import type { SHOP_ENDPOINTS } from '../../domain/api/shop-endpoints.ts';
import { success } from '../../domain/index.ts';
import type { Cards } from '../../services/keep-cards.ts';
import type { Comparisons } from '../../services/keep-comparisons.ts';
import type { Lessons } from '../../services/keep-lessons.ts';
import type { Machines } from '../../services/keep-machines.ts';
import type { ShopSettings } from '../../services/keep-shop.ts';
import type { LabelPrinter } from '../../services/label-ports.ts';
import type { ProgressBoard } from '../../services/progress-board.ts';
import type { HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';
import { progressFeed } from './progress-feed.ts';

export interface ShopRoutesParts {
  readonly shop: ShopSettings;
  readonly machines: Machines;
  readonly cards: Cards;
  readonly lessons: Lessons;
  readonly comparisons: Comparisons;
  readonly board: ProgressBoard;
  readonly labels: LabelPrinter;
  /** Addresses of this machine on its networks. */
  readonly addresses: () => readonly string[];
}

type Names = Extract<HandledEndpointName, keyof typeof SHOP_ENDPOINTS>;

export function shopRoutes(parts: ShopRoutesParts): HandlersOf<Names> {
  const { shop, machines, cards, lessons, comparisons, board, labels } = parts;
  return {
    readOverview: async () => success(await shop.overview()),
    readShop: async () => success(await shop.read()),
    changeShop: ({ body }) => shop.change(body),
    listAddresses: async () => {
      const items = parts.addresses().map(async (url) => ({ url, qrSvg: await labels.qrSvg(url) }));
      return success({ items: await Promise.all(items) });
    },
    listMachines: async ({ query }) => success(await machines.list(query)),
    addMachine: ({ body }) => machines.add(body),
    readMachine: ({ params }) => machines.read(params.machineId),
    changeMachine: ({ params, body }) => machines.change(params.machineId, body),
    removeMachine: ({ params }) => machines.remove(params.machineId),
    readCardSheet: async ({ query }) =>
      success({
        mediaType: 'application/pdf',
        body: await cards.sheet(query.paper),
        fileName: `bareplate-card-${query.paper}.pdf`,
        isImmutable: false,
      }),
    listCards: async ({ query }) => success(await cards.list(query)),
    addCard: ({ body }) => cards.add(body),
    readCard: ({ params }) => cards.read(params.cardId),
    changeCard: ({ params, body }) => cards.change(params.cardId, body),
    registerCardValues: ({ params, body }) => cards.registerValues(params.cardId, body),
    removeCardValues: ({ params }) => cards.removeValues(params.cardId),
    readCardHealth: ({ params, query }) => cards.health(params.cardId, query),
    listLessons: async ({ query }) => success(await lessons.list(query)),
    addLesson: ({ body, caller }) => lessons.add(body, actorOf(caller)),
    readLesson: ({ params }) => lessons.read(params.lessonId),
    changeLesson: ({ params, body }) => lessons.change(params.lessonId, body),
    removeLesson: ({ params }) => lessons.remove(params.lessonId),
    listComparisons: async ({ query }) => success(await comparisons.list(query)),
    addComparison: ({ body, caller }) => comparisons.add(body, actorOf(caller)),
    readComparison: ({ params }) => comparisons.read(params.comparisonId),
    followComparison: ({ params: { comparisonId } }) =>
      Promise.resolve(success(progressFeed(comparisonId, board, () => comparisons.progress(comparisonId)))),
    removeComparison: ({ params }) => comparisons.remove(params.comparisonId),
  };
}
