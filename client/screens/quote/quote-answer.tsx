import type { ReactNode } from 'react';
import type { Measured } from '@domain/measured.ts';
import type { Quote } from '@domain/quote.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';

/** Hours and cost with their range, ready to print. */
export function QuoteAnswer({ quote }: { quote: Quote }): ReactNode {
  const units = useUnits();
  const hours = (value: number): string => words.quote.hoursOf(formatNumber(value, 1));
  const money = (value: number): string => `${formatNumber(value, 0)} ${quote.currency ?? ''}`.trim();
  return (
    <section className="stack">
      <h2>
        {units.area(quote.areaM2)}, {quote.surfaceKind}
      </h2>
      <dl className="facts">
        <RangeFact title={words.quote.hours} measured={quote.hours} likely={quote.likely.hours} write={hours} />
        <RangeFact title={words.quote.cost} measured={quote.cost} likely={quote.likely.cost} write={money} />
        <RangeFact
          title={words.quote.perArea}
          measured={quote.minutesPerSquareMetre}
          write={(minutes) => units.rate(minutes)}
        />
        <div>
          <dt>{words.quote.reachable}</dt>
          <dd>{formatShare(quote.probabilityReachable)}</dd>
        </div>
      </dl>
      <p>{sentenceInUnits(quote.because, units)}</p>
      <h3>{words.quote.rangeTitle}</h3>
      <p>{sentenceInUnits(quote.rangeBecause, units)}</p>
      <h3>{words.quote.assumptions}</h3>
      <ul className="points">
        {quote.assumptions.map((assumption) => (
          <li key={assumption}>{assumption}</li>
        ))}
      </ul>
      <p className="muted small">{words.planned.predicted}</p>
      <div className="quote-print">
        <Button
          icon="print"
          onClick={() => {
            window.print();
          }}
        >
          {words.quote.print}
        </Button>
      </div>
    </section>
  );
}

function RangeFact({
  title,
  measured: { value, low, high },
  likely,
  write,
}: {
  title: string;
  measured: Measured;
  likely?: { low: number; high: number };
  write: (value: number) => string;
}): ReactNode {
  return (
    <div>
      <dt>{title}</dt>
      <dd className="fact-large">{write(value)}</dd>
      {likely === undefined ? null : <dd>{words.quote.likely(write(likely.low), write(likely.high))}</dd>}
      <dd className="muted">{words.quote.range(write(low), write(high))}</dd>
    </div>
  );
}
