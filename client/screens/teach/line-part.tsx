import type { ReactNode } from 'react';
import type { ShopMachine } from '@domain/api/machines.ts';
import { minutesPerSquareMetreOf } from '@domain/kinematics/area-rate.ts';
import { edgeGap, linePitch } from '@domain/kinematics/line-pitch.ts';
import { strokeOverlap } from '@domain/kinematics/overlap.ts';
import { strokesPerSecond } from '@domain/kinematics/strokes-per-second.ts';
import type { Settings } from '@domain/settings.ts';
import type { Streaks } from '@domain/streaks.ts';
import { StandingMark } from '../../components/standing-mark.tsx';
import { words } from '../../i18n/words.ts';
import { formatNumber, formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { LineDrawing, SpotDrawing } from './line-drawing.tsx';

interface LineProps {
  readonly settings: Settings;
  readonly machine: ShopMachine['machine'];
}

/** The largest thing on the screen: whether the strokes meet, as the dials stand. */
export function LinePlate({ settings, machine, streaks }: LineProps & { streaks: Streaks | null }): ReactNode {
  const units = useUnits();
  const pitchMm = linePitch(settings, machine);
  const gapMm = pitchMm - machine.spotDiameterMm;
  const measured = streaks?.kind === 'line-pitch' ? streaks.pitchMm : null;
  const { headline, inShort, beside, besideSpeed } = words.teach;
  const speed = streaks?.travelSpeedMmPerS ?? null;
  return (
    <section className="answer-plate" aria-label={words.teach.line}>
      <p className="answer-big teach-big" role="status">
        <StandingMark mark={gapMm > 0 ? 'round' : 'done'} size={48} />
        <span>
          {gapMm > 0
            ? headline.gap(units.fineLength(gapMm))
            : headline.overlap(formatShare(strokeOverlap(settings, machine)))}
        </span>
      </p>
      <p className="answer-short">{inShort(units.fineLength(pitchMm), units.fineLength(machine.spotDiameterMm))}</p>
      {measured === null ? null : (
        <p>
          {beside(units.fineLength(measured.value), units.fineLength(pitchMm))}{' '}
          {speed === null ? '' : besideSpeed(units.speed(speed.value))}
        </p>
      )}
    </section>
  );
}

/** The line drawn to scale and what it comes to in numbers. */
export function LinePictures({ settings, machine }: LineProps): ReactNode {
  return (
    <section className="stack">
      <h2>{words.teach.line}</h2>
      <figure className="plate stack stack-tight">
        <LineDrawing settings={settings} machine={machine} />
        <figcaption className="muted small">{words.teach.toScale}</figcaption>
      </figure>
      <figure className="plate stack stack-tight">
        <SpotDrawing settings={settings} machine={machine} />
        <figcaption className="muted small">{words.teach.detail}</figcaption>
      </figure>
      <LineFacts settings={settings} machine={machine} />
      <p className="muted small">{words.teach.ends}</p>
    </section>
  );
}

function LineFacts({ settings, machine }: LineProps): ReactNode {
  const units = useUnits();
  const pitchMm = linePitch(settings, machine);
  const gapMm = pitchMm - machine.spotDiameterMm;
  const { facts } = words.teach;
  const shown: readonly (readonly [string, string])[] = [
    [facts.strokes, words.teach.perSecond(formatNumber(strokesPerSecond(settings, machine), 1))],
    [facts.pitch, units.fineLength(pitchMm)],
    [facts.spot, units.fineLength(machine.spotDiameterMm)],
    gapMm > 0 ? [facts.gap, units.fineLength(gapMm)] : [facts.overlap, formatShare(strokeOverlap(settings, machine))],
    [facts.ends, units.fineLength(edgeGap(settings, machine))],
    [facts.work, units.rate(minutesPerSquareMetreOf(settings))],
  ];
  return (
    <dl className="facts plate">
      {shown.map(([term, fact]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{fact}</dd>
        </div>
      ))}
    </dl>
  );
}
