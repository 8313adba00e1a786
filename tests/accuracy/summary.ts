import type { BridgeRow } from './search-bridge-photo.ts';
import type { ComparisonRow, PairRow } from './measure-comparison.ts';
import type { GaugeRow } from './measure-gauge.ts';
import type { SceneRow, StreakRow } from './measure-scene.ts';
import { LIMITS } from './limits.ts';
import { quantile } from './scene-truth.ts';

/** One line of the table. `holds` is null where there was nothing to judge. */
export interface SummaryLine {
  readonly what: string;
  readonly value: string;
  readonly limit: string;
  readonly cases: number;
  readonly holds: boolean | null;
}

const line = (
  what: string,
  value: number,
  [word, limit]: ['at most' | 'at least', number],
  cases: number,
): SummaryLine => ({
  what,
  value: value.toFixed(4),
  limit: `${word} ${limit}`,
  cases,
  holds: cases === 0 ? null : word === 'at most' ? value <= limit : value >= limit,
});
const share = (rows: readonly unknown[], hits: number): number => (rows.length === 0 ? Number.NaN : hits / rows.length);

export function summariseScenes(rows: readonly SceneRow[]): SummaryLine[] {
  const errors = rows.flatMap((row) => row.colourErrors);
  const scale = rows.flatMap((row) => (row.scaleError !== null && row.tiltDegrees <= 30 ? [row.scaleError] : []));
  const residues = rows.flatMap(({ residue }) => (residue === null ? [] : [residue]));
  const residueErrors = residues.map((r) => Math.abs(r.value - r.true));
  const covered = share(residues, residues.filter((r) => r.low <= r.true && r.true <= r.high).length);
  const squares = rows.flatMap(({ worstSquare: w }) => (w === null ? [] : [Math.abs(w.value - w.true)]));
  return [
    line(
      'card found',
      share(rows, rows.filter((row) => row.isCardFound).length),
      ['at least', LIMITS.cardFound],
      rows.length,
    ),
    line('held-out patches, CIEDE2000, median', quantile(errors, 0.5), ['at most', LIMITS.colourMedian], errors.length),
    line('held-out patches, CIEDE2000, 95 %', quantile(errors, 0.95), ['at most', LIMITS.colourP95], errors.length),
    line(
      'scale near the card, tilt to 30 degrees, median of scenes',
      quantile(scale, 0.5),
      ['at most', LIMITS.scale],
      scale.length,
    ),
    line(
      'scale near the card, tilt to 30 degrees, 95 % of scenes',
      quantile(scale, 0.95),
      ['at most', LIMITS.scale],
      scale.length,
    ),
    line('residue error, median', quantile(residueErrors, 0.5), ['at most', LIMITS.residueMedian], residues.length),
    line('residue error, 95 %', quantile(residueErrors, 0.95), ['at most', LIMITS.residueP95], residues.length),
    line('residue interval covers', covered, ['at least', LIMITS.coverageLow], residues.length),
    line('residue interval covers', covered, ['at most', LIMITS.coverageHigh], residues.length),
    line('worst square error, 95 %', quantile(squares, 0.95), ['at most', LIMITS.worstSquareP95], squares.length),
  ];
}

const LEAST_PITCH_MM = 1.5;
const LEAST_PITCH_PX = 8;

export function summariseStreaks(all: readonly SceneRow[]): SummaryLine[] {
  const rows = all.flatMap(({ streaks }) => (streaks === null ? [] : [streaks]));
  const isVisible = (s: StreakRow): boolean =>
    s.truePitchMm === null || (s.truePitchMm >= LEAST_PITCH_MM && s.truePitchMm * s.photoPxPerMm >= LEAST_PITCH_PX);
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
  const kinds = found.filter((s) => s.kind === s.trueKind).length;
  return [
    line(
      'streaks found, contrast 3 or more',
      share(clear, found.length),
      ['at least', LIMITS.streakRecall],
      clear.length,
    ),
    line('pitch error, 95 %', quantile(pitches, 0.95), ['at most', LIMITS.pitchP95], pitches.length),
    line(
      'direction error, degrees, 95 %',
      quantile(directions, 0.95),
      ['at most', LIMITS.directionP95],
      directions.length,
    ),
    line('streak kind right', share(found, kinds), ['at least', 0.9], found.length),
    line(
      'streak false alarms',
      share(none, none.filter((s) => s.found).length),
      ['at most', LIMITS.falseAlarms],
      none.length,
    ),
  ];
}

const angleBetween = (a: number, b: number): number => Math.abs(((a - b + 270) % 180) - 90);

export function summariseComparisons(rows: readonly ComparisonRow[]): SummaryLine[] {
  const pairs = rows.flatMap((row) => row.pairs);
  const residue = pairs.filter(
    (p) => !p.isHalved && Math.abs(p.trueResidue[0] - p.trueResidue[1]) >= LIMITS.compareResidue,
  );
  const residueRight = residue.filter(
    (p) => p.residue === (p.trueResidue[0] < p.trueResidue[1] ? 'a cleaner' : 'b cleaner'),
  );
  const texture = pairs.filter((p) => !p.isHalved && textureRatio(p) >= LIMITS.compareTexture);
  const textureRight = texture.filter(
    (p) => p.texture === ((p.trueTexture[0] ?? 0) < (p.trueTexture[1] ?? 0) ? 'a smoother' : 'b smoother'),
  );
  const halves = pairs.filter((p) => p.isHalved && Math.abs(p.trueResidue[0] - p.trueResidue[1]) < SAME_RESIDUE);
  const same = halves.filter((p) => p.residue === 'no real difference');
  const sameTexture = halves.filter((p) => p.texture === 'no real difference');
  return [
    line(
      'compare: cleaner patch called right',
      share(residue, residueRight.length),
      ['at least', LIMITS.compareRight],
      residue.length,
    ),
    line(
      'compare: smoother patch called right',
      share(texture, textureRight.length),
      ['at least', LIMITS.compareRight],
      texture.length,
    ),
    line(
      'compare: halves of one patch, residue the same',
      share(halves, same.length),
      ['at least', LIMITS.compareSame],
      halves.length,
    ),
    line(
      'compare: halves of one patch, texture the same',
      share(halves, sameTexture.length),
      ['at least', LIMITS.compareSame],
      halves.length,
    ),
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
