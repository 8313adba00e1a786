import type { z } from 'zod';
import type {
  cardChangeSchema,
  CardHealth,
  cardHealthQuerySchema,
  cardsQuerySchema,
  cardValuesBodySchema,
  newCardSchema,
  ShopCard,
} from '../domain/api/cards.ts';
import type { Page } from '../domain/api/paging.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import { referenceCard } from '../measure/card/card-layout.ts';
import { readCardValues } from '../measure/card/read-card-values.ts';
import { cardDrift } from './card-drift.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Clock, TokenMaker } from './people-ports.ts';
import type { CardPrinter, PaperSize } from './ports.ts';

export interface CardPorts {
  readonly ledger: Pick<Ledger, 'cards' | 'assessments'>;
  readonly cardPrinter: Pick<CardPrinter, 'pdf'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface Cards {
  list(query: z.output<typeof cardsQuerySchema>): Promise<Page<ShopCard>>;
  read(id: string): Promise<Outcome<ShopCard>>;
  add(body: z.output<typeof newCardSchema>): Promise<Outcome<ShopCard>>;
  change(id: string, change: z.output<typeof cardChangeSchema>): Promise<Outcome<ShopCard>>;
  registerValues(id: string, body: z.output<typeof cardValuesBodySchema>): Promise<Outcome<ShopCard>>;
  removeValues(id: string): Promise<Outcome<ShopCard>>;
  health(id: string, query: z.output<typeof cardHealthQuerySchema>): Promise<Outcome<CardHealth>>;
  sheet(paper: PaperSize): Promise<Uint8Array>;
}

export function keepCards({ ledger, cardPrinter, tokens, clock }: CardPorts): Cards {
  const read = async (id: string): Promise<Outcome<ShopCard>> => {
    const card = await ledger.cards.find(id);
    return card === null ? absent('card', id) : success(card);
  };
  return {
    read,
    list: (query) => ledger.cards.list(query),
    async add({ name, note, id = tokens.newId() }) {
      await ledger.cards.add({ id, name, note, edition: referenceCard().edition, createdAt: nowOf(clock) });
      return read(id);
    },
    async change(id, change) {
      await ledger.cards.change(id, change, nowOf(clock));
      return read(id);
    },
    async registerValues(id, { text, instrument, measuredOn }) {
      const card = referenceCard();
      const reading = readCardValues(text, card);
      if (!reading.ok) return reading;
      const { patches, assumed } = reading.value;
      const described = { instrument, measuredOn, patchCount: patches.size, assumed: [...assumed] };
      const drift = cardDrift(card, patches);
      await ledger.cards.setValues(id, { ...described, drift, text }, nowOf(clock));
      return read(id);
    },
    async removeValues(id) {
      await ledger.cards.setValues(id, null, nowOf(clock));
      return read(id);
    },
    async health(id, query) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const { items, nextCursor } = await ledger.assessments.cardReadings(id, query);
      return success({ items: [...items], nextCursor });
    },
    sheet: (paper) => cardPrinter.pdf(referenceCard(), paper),
  };
}
