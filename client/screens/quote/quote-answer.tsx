import type { ReactNode } from 'react';
import type { Measured } from '@domain/measured.ts';
import type { Quote } from '@domain/quote.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';

/** Hours and cost with their range, ready to print. */
export function QuoteAnswer({ quote, asked }: { quote: Quote; asked: string }): ReactNode {
  const units = useUnits();
  const currency = quote.currency ?? '';
  return (
    <section className="stack">
      <h2>
        {units.area(quote.areaM2)}, {quote.surfaceKind}
      </h2>
      <p className="muted">{asked}</p>
      <dl className="facts facts-quote">
        <RangeFact title={words.quote.hours} unit="h" decimals={1} measured={quote.hours} likely={quote.likely.hours} />
        <RangeFact
          title={words.quote.cost}
          unit={currency}
          decimals={0}
          measured={quote.cost}
          likely={quote.likely.cost}
        />
        <RangeFact
          title={words.quote.perArea}
          unit={units.rateUnit}
          decimals={1}
          measured={inShownRate(quote.minutesPerSquareMetre, units)}
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
          <li key={assumption}>{sentenceInUnits(assumption, units)}</li>
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

const inShownRate = ({ value, low, high, coverage }: Measured, units: ShownUnits): Measured => ({
  value: units.rateOf(value),
  low: units.rateOf(low),
  high: units.rateOf(high),
  coverage,
});

function RangeFact({
  title,
  unit,
  decimals,
  measured: { value, low, high },
  likely,
}: {
  title: string;
  unit: string;
  decimals: number;
  measured: Measured;
  likely?: { low: number; high: number };
}): ReactNode {
  const plain = (number: number): string => formatNumber(number, decimals);
  const write = (number: number): string => `${plain(number)} ${unit}`.trim();
  return (
    <div>
      <dt>{title}</dt>
      <dd className="fact-large">{write(value)}</dd>
      {likely === undefined ? null : <dd>{words.quote.likely(plain(likely.low), write(likely.high))}</dd>}
      <dd className="muted">{words.quote.range(plain(low), write(high))}</dd>
    </div>
  );
}
