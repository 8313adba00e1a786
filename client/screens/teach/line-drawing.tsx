import { useId } from 'react';
import type { ReactNode } from 'react';
import { linePitch } from '@domain/kinematics/line-pitch.ts';
import type { Machine } from '@domain/machine.ts';
import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';

interface DrawingProps {
  readonly settings: Settings;
  readonly machine: Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>;
}

/** Part of the line's width that is drawn along the travel. */
const DEPTH_SHARE = 0.42;
/** More strokes than this are a grey field to any eye and only cost time. */
const MOST_STROKES = 400;
/** Room for the words, as a part of the width. */
const ROOM = 0.09;

/** The strokes of one pass from above, in millimetres: the swept line, the pitch and the spot in their true proportions. */
export function LineDrawing({ settings, machine }: DrawingProps): ReactNode {
  const units = useUnits();
  const clip = useId();
  const { scanWidthMm, travelSpeedMmPerS } = settings;
  const pitchMm = linePitch(settings, machine);
  const { spotDiameterMm } = machine;
  const left = 0 - spotDiameterMm / 2;
  const depth = scanWidthMm * DEPTH_SHARE;
  const room = scanWidthMm * ROOM;
  const strokes = Math.min(MOST_STROKES, Math.ceil(depth / pitchMm) + 2);
  const corner = (index: number): string => `${index % 2 === 0 ? 0 : scanWidthMm} ${(index - 1) * pitchMm}`;
  const path = `M${Array.from({ length: strokes + 1 }, (_, index) => corner(index)).join('L')}`;
  const size = room * 0.42;
  return (
    <svg
      className="line-drawing"
      viewBox={`${-room} 0 ${scanWidthMm + 2 * room} ${depth + room}`}
      role="img"
      aria-label={words.teach.drawingAlt(
        units.length(scanWidthMm),
        units.fineLength(pitchMm),
        units.fineLength(spotDiameterMm),
      )}
    >
      <clipPath id={clip}>
        <rect x={left} y="0" width={scanWidthMm + spotDiameterMm} height={depth} />
      </clipPath>
      <g clipPath={`url(#${clip})`}>
        <rect x={left} y="0" width={scanWidthMm + spotDiameterMm} height={depth} className="line-missed" />
        <path d={path} className="line-stroke" style={{ strokeWidth: spotDiameterMm }} />
      </g>
      <g className="line-dimension">
        <path
          d={`M0 ${depth + room * 0.3}H${scanWidthMm}M0 ${depth + room * 0.12}v${room * 0.36}M${scanWidthMm} ${depth + room * 0.12}v${room * 0.36}`}
        />
        <path
          d={`M${-room * 0.6} ${depth * 0.12}V${depth * 0.4}m${-room * 0.18} ${-room * 0.24}l${room * 0.18} ${room * 0.24}l${room * 0.18} ${-room * 0.24}`}
        />
      </g>
      <text x={scanWidthMm / 2} y={depth + room * 0.86} fontSize={size} textAnchor="middle">
        {units.length(scanWidthMm)}
      </text>
      <text
        x={-room * 0.6}
        y={depth * 0.46}
        fontSize={size}
        transform={`rotate(90 ${-room * 0.6} ${depth * 0.46})`}
        dominantBaseline="middle"
      >
        {words.teach.travel} {units.speed(travelSpeedMmPerS)}
      </text>
    </svg>
  );
}

const SPOTS = 5;

/** Spots of neighbouring strokes in the middle of the line, enlarged: pitch against spot. */
export function SpotDrawing({ settings, machine }: DrawingProps): ReactNode {
  const units = useUnits();
  const pitchMm = linePitch(settings, machine);
  const { spotDiameterMm } = machine;
  const radius = spotDiameterMm / 2;
  const length = (SPOTS - 1) * pitchMm + spotDiameterMm;
  const room = length * 0.12;
  const size = Math.max(room * 0.5, spotDiameterMm * 0.16);
  const height = spotDiameterMm + 2 * size * 2;
  const middle = size * 2 + radius;
  const at = (index: number): number => radius + index * pitchMm;
  return (
    <svg
      className="line-drawing spot-drawing"
      viewBox={`${-room} 0 ${length + 2 * room} ${height}`}
      role="img"
      aria-label={words.teach.detailAlt(units.fineLength(pitchMm), units.fineLength(spotDiameterMm))}
    >
      <rect x={-room} y={size * 2} width={length + 2 * room} height={spotDiameterMm} className="line-missed" />
      {Array.from({ length: SPOTS }, (_, index) => (
        <circle key={index} cx={at(index)} cy={middle} r={radius} className="line-spot" />
      ))}
      <g className="line-dimension">
        <path
          d={`M${at(1)} ${size * 1.6}H${at(2)}M${at(1)} ${size * 1.3}V${middle}M${at(2)} ${size * 1.3}V${middle}`}
        />
        <path
          d={`M${at(3) - radius} ${height - size * 1.6}H${at(3) + radius}M${at(3) - radius} ${middle}V${height - size * 1.3}M${at(3) + radius} ${middle}V${height - size * 1.3}`}
        />
      </g>
      <text x={(at(1) + at(2)) / 2} y={size * 1.05} fontSize={size} textAnchor="middle">
        {words.teach.facts.pitch} {units.fineLength(pitchMm)}
      </text>
      <text x={at(3)} y={height - size * 0.4} fontSize={size} textAnchor="middle">
        {words.teach.facts.spot} {units.fineLength(spotDiameterMm)}
      </text>
    </svg>
  );
}
