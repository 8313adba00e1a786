import type { BridgeRow } from './search-bridge-photo.ts';
import type { ComparisonRow, PairRow } from './measure-comparison.ts';
import type { GaugeRow } from './measure-gauge.ts';
import type { SceneRow, StreakRow } from './measure-scene.ts';
import { LIMITS } from './limits.ts';
import { percentile } from '../support/percentile.ts';

/** One line of the table. `holds` is null where there was nothing to judge. */
export interface SummaryLine {
  readonly what: string;
  readonly value: string;
  readonly limit: string;
  readonly cases: number;
  readonly holds: boolean | null;
}

const line = (what: string, value: number, [word, limit]: Limit, cases: number): SummaryLine => ({
  what,
  value: value.toFixed(4),
  limit: `${word} ${limit}`,
  cases,
  holds: cases === 0 ? null : word === 'at most' ? value <= limit : value >= limit,
});

type Limit = ['at most' | 'at least', number];

/** The part of the rows that hit. */
function partLine<Row>(what: string, rows: readonly Row[], isHit: (row: Row) => boolean, limit: Limit): SummaryLine {
  const part = rows.length === 0 ? Number.NaN : rows.filter(isHit).length / rows.length;
  return line(what, part, limit, rows.length);
}

/** What this part of the errors does not exceed. */
const errorLine = (what: string, errors: readonly number[], part: 0.5 | 0.95, most: number): SummaryLine =>
  line(`${what}, ${part === 0.5 ? 'median' : '95 %'}`, percentile(errors, part), ['at most', most], errors.length);

export function summariseScenes(rows: readonly SceneRow[]): SummaryLine[] {
  const colours = rows.flatMap((row) => row.colourErrors);
  const scale = rows.flatMap((row) => (row.scaleError !== null && row.tiltDegrees <= 30 ? [row.scaleError] : []));
  const residues = rows.flatMap(({ residue }) => (residue === null ? [] : [residue]));
  const residueErrors = residues.map((r) => Math.abs(r.value - r.true));
  const squares = rows.flatMap(({ worstSquare: w }) => (w === null ? [] : [Math.abs(w.value - w.true)]));
  const isCovered = (r: (typeof residues)[number]): boolean => r.low <= r.true && r.true <= r.high;
  return [
    partLine('card found', rows, (row) => row.isCardFound, ['at least', LIMITS.cardFound]),
    errorLine('held-out patches, CIEDE2000', colours, 0.5, LIMITS.colourMedian),
    errorLine('held-out patches, CIEDE2000', colours, 0.95, LIMITS.colourP95),
    errorLine('scale near the card, scenes of tilt to 30 degrees', scale, 0.5, LIMITS.scale),
    errorLine('scale near the card, scenes of tilt to 30 degrees', scale, 0.95, LIMITS.scale),
    errorLine('residue error', residueErrors, 0.5, LIMITS.residueMedian),
    errorLine('residue error', residueErrors, 0.95, LIMITS.residueP95),
    partLine('residue interval covers', residues, isCovered, ['at least', LIMITS.coverageLow]),
    partLine('residue interval covers', residues, isCovered, ['at most', LIMITS.coverageHigh]),
    errorLine('worst square error', squares, 0.95, LIMITS.worstSquareP95),
  ];
}

const LEAST_PITCH_MM = 1.5;
const LEAST_PITCH_PX = 8;
/** Where the zone lies between two seams, or within one band, there is nothing to be seen. */
const LEAST_COVER = 0.02;
const KIND_RIGHT = 0.9;

export function summariseStreaks(all: readonly SceneRow[]): SummaryLine[] {
  const rows = all.flatMap(({ streaks }) => (streaks === null ? [] : [streaks]));
  const isVisible = (s: StreakRow): boolean =>
    s.trueCover >= LEAST_COVER &&
    s.trueCover <= 1 - LEAST_COVER &&
    (s.truePitchMm === null || (s.truePitchMm >= LEAST_PITCH_MM && s.truePitchMm * s.photoPxPerMm >= LEAST_PITCH_PX));
  const clear = rows.filter((s) => s.trueKind !== null && s.trueContrast >= LIMITS.streakContrast && isVisible(s));
  const found = clear.filter((s) => s.found);
  const none = rows.filter((s) => s.trueKind === null);
  const pitches = found.flatMap((s) =>
    s.trueKind === 'line-pitch' && s.truePitchMm !== null && s.pitchMm !== null
      ? [Math.abs(s.pitchMm / s.truePitchMm - 1)]
      : [],
  );
  const directions = found.flatMap((s) =>
    s.trueDirection === null || s.direction === null ? [] : [angleBetween(s.direction, s.trueDirection)],
  );
  return [
    partLine('streaks found, contrast 3 or more', clear, (s) => s.found, ['at least', LIMITS.streakRecall]),
    errorLine('pitch error', pitches, 0.95, LIMITS.pitchP95),
    errorLine('direction error, degrees', directions, 0.95, LIMITS.directionP95),
    partLine('streak kind right', found, (s) => s.kind === s.trueKind, ['at least', KIND_RIGHT]),
    partLine('streak false alarms', none, (s) => s.found, ['at most', LIMITS.falseAlarms]),
  ];
}

const angleBetween = (a: number, b: number): number => Math.abs(((a - b + 270) % 180) - 90);

export function summariseComparisons(rows: readonly ComparisonRow[]): SummaryLine[] {
  const pairs = rows.flatMap((row) => row.pairs);
  const residueApart = ({ trueResidue: [a, b] }: PairRow): number => Math.abs(a - b);
  const unlike = pairs.filter((p) => !p.isHalved);
  const halves = pairs.filter((p) => p.isHalved && residueApart(p) < SAME_RESIDUE);
  const residue = unlike.filter((p) => residueApart(p) >= LIMITS.compareResidue);
  const texture = unlike.filter((p) => textureRatio(p) >= LIMITS.compareTexture);
  const isCleaner = ({ trueResidue: [a, b], residue: called }: PairRow): boolean =>
    called === (a < b ? 'a cleaner' : 'b cleaner');
  const isSmoother = ({ trueTexture: [a, b], texture: called }: PairRow): boolean =>
    called === ((a ?? 0) < (b ?? 0) ? 'a smoother' : 'b smoother');
  const right: Limit = ['at least', LIMITS.compareRight];
  const same: Limit = ['at least', LIMITS.compareSame];
  return [
    partLine('compare: cleaner patch called right', residue, isCleaner, right),
    partLine('compare: smoother patch called right', texture, isSmoother, right),
    partLine('compare: halves of one patch, residue the same', halves, (p) => p.residue === 'no real difference', same),
    partLine('compare: halves of one patch, texture the same', halves, (p) => p.texture === 'no real difference', same),
  ];
}

/** Halves of one patch are alike only where chance left them alike. */
const SAME_RESIDUE = 0.005;

function textureRatio({ trueTexture: [a, b] }: PairRow): number {
  if (a === null || b === null || a <= 0 || b <= 0) return 1;
  return Math.max(a / b, b / a);
}

export function summariseGauges(rows: readonly GaugeRow[]): SummaryLine[] {
  return rows.map((row) => {
    const mean = row.residues.reduce((sum, r) => sum + r, 0) / row.residues.length;
    const variance = row.residues.reduce((sum, r) => sum + (r - mean) ** 2, 0) / Math.max(1, row.residues.length - 1);
    const what = `gauge study, surface ${row.task.seed} (true ${row.trueResidue.toFixed(3)}, mean ${mean.toFixed(3)}): standard deviation`;
    return line(what, Math.sqrt(variance), ['at most', LIMITS.gauge], row.residues.length);
  });
}

export function summariseBridge(rows: readonly BridgeRow[]): SummaryLine[] {
  const looked = rows.reduce((sum, row) => sum + row.looked, 0);
  const alarms = rows.reduce((sum, row) => sum + row.alarms.length, 0);
  return [line('cards seen in bridge photos that hold none', alarms, ['at most', 0], looked)];
}
