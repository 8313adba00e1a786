import type { CardPrinter } from '../../services/ports.ts';
import { cardPdf } from './card-pdf.ts';
import { cardPng } from './card-png.ts';

export function cardPrinter(): CardPrinter {
  return { pdf: (card, paper) => cardPdf(card, paper), png: cardPng };
}
