import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { ShopCard } from '@domain/api/cards.ts';
import { urlOf } from '../../api/call.ts';
import { useAnswer, usePages } from '../../api/use-answer.ts';
import { FileLink, LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { FindAndShowRow, useFindAndShow } from '../../components/find-and-show.tsx';
import { Listing } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/shop.css';
import { formatColourDifference } from '../../units/format-colour-difference.ts';
import { formatDay } from '../../units/format-moment.ts';

export function CardsScreen(): ReactNode {
  const list = useFindAndShow();
  const cards = usePages('listCards', { query: { q: list.q, putAway: list.shown } });
  const mayAdd = useMayCall('addCard');
  return (
    <Page title={words.cards.title} lead={words.cards.lead}>
      <PrintSection />
      <section className="stack">
        <h2>{words.cards.list}</h2>
        <FindAndShowRow
          list={list}
          findLabel={words.cards.searchLabel}
          showLabel={words.machines.showLabel}
          showWords={words.machines.show}
        />
        <Listing
          pages={cards}
          row={(card) => <CardRow card={card} />}
          empty={
            <EmptyState title={words.cards.none}>
              <p>{list.isNarrowed ? words.cards.noneFound : words.cards.noneHint}</p>
            </EmptyState>
          }
        />
      </section>
      {mayAdd ? (
        <div className="actions">
          <LinkButton to="/cards/new" icon="plus">
            {words.cards.add}
          </LinkButton>
        </div>
      ) : null}
    </Page>
  );
}

function PrintSection(): ReactNode {
  const shop = useAnswer('readShop', {}, { staleTime: 300_000 });
  const usual = shop.data?.paper ?? 'a4';
  const other = usual === 'a4' ? 'letter' : 'a4';
  return (
    <section className="plate stack">
      <h2>{words.cards.print}</h2>
      <ol className="points">
        {words.cards.printPoints.map((point) => (
          <li key={point}>{point}</li>
        ))}
      </ol>
      <div className="row">
        {([usual, other] as const).map((paper) => (
          <FileLink
            key={paper}
            icon="print"
            look={paper === usual ? 'primary' : 'quiet'}
            href={urlOf('readCardSheet', { query: { paper } })}
          >
            {words.cards.printPaper[paper]}
          </FileLink>
        ))}
      </div>
    </section>
  );
}

function CardRow({ card: { id, name, values, isPutAway } }: { card: ShopCard }): ReactNode {
  const facts =
    values === null
      ? words.cards.asDrawn
      : [
          words.cards.measuredOn(formatDay(values.measuredOn)),
          words.cards.driftShort(`ΔE₀₀ ${formatColourDifference(values.drift.median)}`),
        ].join(' · ');
  return (
    <Link to={`/cards/${id}`} className="row-link">
      <span className="row-name">{name}</span>
      {isPutAway ? <span className="tag">{words.machines.away}</span> : <span />}
      <span className="muted small">{facts}</span>
    </Link>
  );
}
