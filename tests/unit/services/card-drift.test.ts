import { describe, expect, it } from 'vitest';
import { referenceCard } from '../../../server/measure/card/card-layout.ts';
import { cardDrift } from '../../../server/services/card-drift.ts';

describe('the drift of a card', () => {
  const card = referenceCard();
  const asDrawn = new Map(card.patches.map(({ id, nominal }) => [id, nominal.lab]));

  it('is nothing when the card is as drawn', () => {
    expect(cardDrift(card, asDrawn)).toEqual({ median: 0, p95: 0, max: 0 });
  });

  it('shows one bad patch in the largest value alone', () => {
    const first = card.patches[0];
    const faded = new Map(asDrawn).set(first.id, { ...first.nominal.lab, L: first.nominal.lab.L > 50 ? 40 : 60 });
    const drift = cardDrift(card, faded);
    expect(drift).toMatchObject({ median: 0, p95: 0 });
    expect(drift.max).toBeGreaterThan(5);
  });

  it('cannot be told of a card without measured patches', () => {
    expect(() => cardDrift(card, new Map())).toThrow('measured patches');
  });
});
