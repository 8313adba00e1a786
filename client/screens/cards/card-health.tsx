import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { CardHealth as Health } from '@domain/api/cards.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { niceTicks } from '../../charts/nice-ticks.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { Fold } from '../../components/fold.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/chart.css';
import { formatColourDifference } from '../../units/format-colour-difference.ts';
import { formatDay } from '../../units/format-moment.ts';

type Reading = Health['items'][number];
/** As many photos as a phone can show apart. */
const MOST_READINGS = 40;
const BOX = { width: 560, height: 240, left: 44, right: 16, top: 14, bottom: 34 } as const;

/** Colour error of the card photo by photo, oldest at the left, and the same as a table. */
export function CardHealth({ cardId, drift }: { cardId: string; drift: number | null }): ReactNode {
  const health = useAnswer('readCardHealth', { params: { cardId }, query: { limit: MOST_READINGS } });
  if (health.data === undefined) return <NotHereYet reading={health} />;
  const readings = health.data.items.toReversed();
  return (
    <section className="stack">
      <h2>{words.cards.health}</h2>
      <p className="muted">{words.cards.healthLead}</p>
      {readings.length === 0 ? (
        <EmptyState title={words.cards.health}>
          <p>{words.cards.healthNone}</p>
        </EmptyState>
      ) : (
        <>
          <figure className="plate">
            <HealthDrawing readings={readings} drift={drift} />
            <figcaption className="muted small">
              {words.cards.healthMarks}
              {drift === null ? '' : ` ${words.cards.healthDrift(`ΔE₀₀ ${formatColourDifference(drift)}`)}`}
            </figcaption>
          </figure>
          <Fold title={words.cards.healthTable}>
            <HealthTable readings={readings} />
          </Fold>
        </>
      )}
    </section>
  );
}

function HealthDrawing({ readings, drift }: { readings: readonly Reading[]; drift: number | null }): ReactNode {
  const highest = Math.max(drift ?? 0, ...readings.map(({ colourErrorDeltaE00 }) => colourErrorDeltaE00.p95));
  const ticks = niceTicks(highest);
  const top = Math.max(...ticks);
  const innerWidth = BOX.width - BOX.left - BOX.right;
  const x = (index: number): number => BOX.left + ((index + 0.5) / readings.length) * innerWidth;
  const y = (error: number): number => BOX.height - BOX.bottom - (error / top) * (BOX.height - BOX.top - BOX.bottom);
  const days = [readings[0], readings[readings.length - 1]].map(({ at }) => formatDay(at));
  return (
    <svg className="chart" viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={words.cards.healthAlt}>
      {ticks.map((tick) => (
        <g key={tick}>
          <path d={`M${BOX.left} ${y(tick)}H${BOX.width - BOX.right}`} className="chart-grid" />
          <text x={BOX.left - 8} y={y(tick) + 5} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {drift === null ? null : <path d={`M${BOX.left} ${y(drift)}H${BOX.width - BOX.right}`} className="chart-line" />}
      {readings.map(({ assessmentId, colourErrorDeltaE00: { median, p95 } }, index) => (
        <g key={assessmentId}>
          <path d={`M${x(index)} ${y(median)}V${y(p95)}m-6 0h12`} className="chart-whisker" />
          <circle cx={x(index)} cy={y(median)} r="6" className="chart-point" />
        </g>
      ))}
      <text x={BOX.left} y={BOX.height - 10}>
        {days[0]}
      </text>
      {readings.length < 2 ? null : (
        <text x={BOX.width - BOX.right} y={BOX.height - 10} textAnchor="end">
          {days[1]}
        </text>
      )}
    </svg>
  );
}

function HealthTable({ readings }: { readings: readonly Reading[] }): ReactNode {
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label={words.cards.health}>
      <table className="small">
        <thead>
          <tr>
            <th scope="col">{words.cards.healthWhen}</th>
            <th scope="col">{words.cards.healthZone}</th>
            <th scope="col">{words.cards.healthMedian}</th>
            <th scope="col">{words.cards.healthP95}</th>
            <th scope="col">{words.cards.healthMax}</th>
          </tr>
        </thead>
        <tbody>
          {readings.map(({ assessmentId, at, zoneName, colourErrorDeltaE00: { median, p95, max } }) => (
            <tr key={assessmentId}>
              <th scope="row">{formatDay(at)}</th>
              <td>
                <Link to={`/assessments/${assessmentId}`}>{zoneName}</Link>
              </td>
              <td>{formatColourDifference(median)}</td>
              <td>{formatColourDifference(p95)}</td>
              <td>{formatColourDifference(max)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
