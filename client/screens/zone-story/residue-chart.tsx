import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { Fold } from '../../components/fold.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/chart.css';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { chartScale } from './chart-scale.ts';

/** As many rounds have room for their names. */
const MOST_NAMED = 6;
const formatTick = (share: number): string => `${Number((100 * share).toPrecision(3))} %`;
const BOX = { width: 480, height: 250, left: 52, right: 20, top: 14, bottom: 36 } as const;

/** Residue after each round with its interval, and the same numbers as a table. */
export function ResidueChart({ rounds, target }: { rounds: readonly ZoneRound[]; target: string | null }): ReactNode {
  const oldestFirst = rounds.toReversed();
  return (
    <section className="stack">
      <h2>{words.story.chartTitle}</h2>
      <figure className="plate">
        <ChartDrawing rounds={oldestFirst} />
        <figcaption className="muted small">
          {words.story.chartMeasured} {words.story.target}: {target ?? words.story.noTarget}
        </figcaption>
      </figure>
      <Fold title={words.story.chartTable}>
        <ChartTable rounds={oldestFirst} />
      </Fold>
    </section>
  );
}

function ChartDrawing({ rounds }: { rounds: readonly ZoneRound[] }): ReactNode {
  const measured = rounds.flatMap(({ id, number, latest }) =>
    latest === null || latest.residue === null ? [] : [{ id, number, ...latest.residue }],
  );
  const { top, ticks } = chartScale(Math.max(...measured.map(({ high }) => high)));
  const innerWidth = BOX.width - BOX.left - BOX.right;
  const x = (index: number): number => BOX.left + ((index + 0.5) / measured.length) * innerWidth;
  const y = (share: number): number => BOX.height - BOX.bottom - (share / top) * (BOX.height - BOX.top - BOX.bottom);
  const everyRounds = Math.ceil(measured.length / MOST_NAMED);
  const line = measured.map(({ value }, index) => `${x(index)} ${y(value)}`).join('L');
  return (
    <svg className="chart" viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={words.story.chartAlt}>
      {ticks.map((tick) => (
        <g key={tick}>
          <path d={`M${BOX.left} ${y(tick)}H${BOX.width - BOX.right}`} className="chart-grid" />
          <text x={BOX.left - 8} y={y(tick) + 5} textAnchor="end">
            {formatTick(tick)}
          </text>
        </g>
      ))}
      {measured.length < 2 ? null : <path d={`M${line}`} className="chart-line" />}
      {measured.map(({ id, number, low, value, high }, index) => (
        <g key={id}>
          <path
            d={`M${x(index)} ${y(low)}V${y(high)}M${x(index) - 8} ${y(low)}h16M${x(index) - 8} ${y(high)}h16`}
            className="chart-whisker"
          />
          <circle cx={x(index)} cy={y(value)} r="6" className="chart-point" />
          {index % everyRounds === 0 ? (
            <text x={x(index)} y={BOX.height - 12} textAnchor="middle">
              {words.story.round(number)}
            </text>
          ) : null}
        </g>
      ))}
    </svg>
  );
}

function ChartTable({ rounds }: { rounds: readonly ZoneRound[] }): ReactNode {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{words.story.timeline}</th>
          <th scope="col">{words.story.residue}</th>
          <th scope="col">{words.answer.interval}</th>
          <th scope="col">{words.story.stain}</th>
        </tr>
      </thead>
      <tbody>
        {rounds.map((round) => (
          <ChartRow key={round.id} round={round} />
        ))}
      </tbody>
    </table>
  );
}

function ChartRow({ round: { number, latest } }: { round: ZoneRound }): ReactNode {
  const [residue, stain] = [latest?.residue ?? null, latest?.stain ?? null];
  return (
    <tr>
      <th scope="row">{words.story.round(number)}</th>
      <td>{residue === null ? '' : formatShare(residue.value)}</td>
      <td>{residue === null ? '' : formatShareInterval(residue)}</td>
      <td>{stain === null ? '' : formatShare(stain.value)}</td>
    </tr>
  );
}
