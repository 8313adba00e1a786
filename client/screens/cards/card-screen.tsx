import type { ReactNode } from 'react';
import { useParams } from 'react-router';
import type { ShopCard } from '@domain/api/cards.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { Fold } from '../../components/fold.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/shop.css';
import { formatColourDifference } from '../../units/format-colour-difference.ts';
import { formatDay } from '../../units/format-moment.ts';
import { CardHealth } from './card-health.tsx';
import { RegisterValues } from './register-values.tsx';

export function CardScreen(): ReactNode {
  const { cardId = '' } = useParams();
  const card = useAnswer('readCard', { params: { cardId } });
  const mayRegister = useMayCall('registerCardValues');
  if (card.data === undefined) return <NotHereYet reading={card} />;
  const { name, note, values } = card.data;
  return (
    <Page title={name} above={{ to: '/cards', word: words.cards.title }} lead={note === '' ? undefined : note}>
      <CardFacts card={card.data} />
      <CardHealth cardId={cardId} drift={values?.drift.median ?? null} />
      {mayRegister ? <RegisterValues card={card.data} /> : null}
      <PutAwayKey card={card.data} />
    </Page>
  );
}

function CardFacts({ card: { edition, values } }: { card: ShopCard }): ReactNode {
  const facts: readonly (readonly [string, string])[] = [
    [words.cards.edition, String(edition)],
    [words.cards.colours, values === null ? words.cards.asDrawn : words.cards.measuredOn(formatDay(values.measuredOn))],
    ...(values === null
      ? []
      : ([
          [words.cards.instrument, values.instrument === '' ? words.cards.instrumentNone : values.instrument],
          [words.cards.patches, String(values.patchCount)],
          [words.cards.drift, driftWords(values.drift)],
        ] as const)),
  ];
  return (
    <div className="plate stack">
      <dl className="facts facts-wide">
        {facts.map(([term, fact]) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{fact}</dd>
          </div>
        ))}
      </dl>
      {values === null || values.assumed.length === 0 ? null : (
        <Fold title={words.cards.assumed}>
          <ul className="points">
            {values.assumed.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Fold>
      )}
    </div>
  );
}

const driftWords = ({ median, p95, max }: NonNullable<ShopCard['values']>['drift']): string =>
  words.cards.driftParts(formatColourDifference(median), formatColourDifference(p95), formatColourDifference(max));

function PutAwayKey({ card: { id, isPutAway } }: { card: ShopCard }): ReactNode {
  const change = useChange('changeCard');
  const mayChange = useMayCall('changeCard');
  if (!mayChange) return null;
  return (
    <div className="actions">
      <Button
        isBusy={change.isPending}
        onClick={() => {
          change.mutate({ params: { cardId: id }, body: { isPutAway: !isPutAway } });
        }}
      >
        {isPutAway ? words.cards.takeOut : words.cards.putAwayGo}
      </Button>
    </div>
  );
}
