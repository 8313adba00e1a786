import { describe, expect, it } from 'vitest';
import { followLine } from '../../../../../server/measure/streaks/bands/follow-line.ts';
import { extentOf } from '../../../../../server/measure/streaks/bands/strip-profiles.ts';
import { throughEvidence, witnessLine } from '../../../../../server/measure/streaks/bands/through-evidence.ts';
import {
  bestLine,
  lineStrips,
  throughLines,
  throughScore,
} from '../../../../../server/measure/streaks/bands/through-lines.ts';
import type { LineStrips, ThroughLine } from '../../../../../server/measure/streaks/bands/through-lines.ts';
import type { StreakSignal } from '../../../../../server/measure/streaks/surface/streak-signal.ts';
import { seededRandom } from '../../../../support/seeded-random.ts';

const SIDE = 180;
const STEP_MM = 0.55;
const HALF_MM = (SIDE * STEP_MM) / 2;
const DEGREE = Math.PI / 180;

/** Darkness at a place, mm from the middle: along 35 degrees and across. */
type Drawing = (along: number, across: number) => number;

/** A surface of 99 mm with noise of one dE00 a cell, in which a drawing darkens. */
function surface(drawing: Drawing, degrees = 35): StreakSignal {
  const random = seededRandom(5);
  const [cos, sin] = [Math.cos(degrees * DEGREE), Math.sin(degrees * DEGREE)];
  const lightness = new Float32Array(SIDE * SIDE);
  for (let row = 0, i = 0; row < SIDE; row++) {
    for (let column = 0; column < SIDE; column++, i++) {
      const x = (column + 0.5) * STEP_MM - HALF_MM;
      const y = (row + 0.5) * STEP_MM - HALF_MM;
      lightness[i] = 3 * (random() - 0.5) - drawing(x * cos + y * sin, y * cos - x * sin);
    }
  }
  const weight = new Float32Array(SIDE * SIDE).fill(1);
  return { width: SIDE, height: SIDE, stepMm: STEP_MM, weight, lightness, chroma: new Float32Array(SIDE * SIDE) };
}

const stripsOf = (signal: StreakSignal): LineStrips => lineStrips(signal, extentOf(signal));

function first(strips: LineStrips): ThroughLine {
  const [line] = throughLines(strips, 1);
  return line;
}

const evidenceOf = (strips: LineStrips, line: ThroughLine): number => throughEvidence(line, witnessLine(strips, line));

const seam: Drawing = (_, across) => (Math.abs(across - 12) < 2.5 ? 2.5 : 0);
/** Patches far darker than the seam, in a quarter of the surface. */
const patches: Drawing = (along, across) => (Math.sin(along / 7) * Math.sin(across / 9) > 0.6 ? 9 : 0);

describe('throughLines', () => {
  it('finds a faint seam at its place and in its direction', () => {
    const strips = stripsOf(surface(seam));
    const line = first(strips);
    expect(line.look).toBe('darker');
    expect(Math.abs(line.frame.angle / DEGREE - 35)).toBeLessThan(1.6);
    expect(Math.abs(line.placeMm - 12)).toBeLessThan(1.5);
    expect(evidenceOf(strips, line)).toBeGreaterThan(0);
  });

  it('finds it among patches that are far darker', () => {
    const strips = stripsOf(surface((along, across) => Math.max(seam(along, across), patches(along, across))));
    const line = first(strips);
    expect(Math.abs(line.frame.angle / DEGREE - 35)).toBeLessThan(3);
  });

  it('has no evidence of a line in noise, nor in a row of patches', () => {
    for (const drawing of [() => 0, patches]) {
      const strips = stripsOf(surface(drawing));
      for (const line of throughLines(strips, 3)) expect(evidenceOf(strips, line)).toBeLessThan(0);
    }
  });

  it('has none in grooves, whose light lines are as deep as the dark ones', () => {
    const strips = stripsOf(surface((_, across) => 2 * Math.sin(across * 1.1)));
    const line = first(strips);
    expect(throughScore(line)).toBeGreaterThan(4);
    expect(evidenceOf(strips, line)).toBeLessThan(0);
  });

  it('has less the shorter a line is', () => {
    const evidences = [70, 25].map((length) => {
      const strips = stripsOf(surface((along, across) => (Math.abs(along) < length ? seam(along, across) : 0)));
      return Math.max(...throughLines(strips, 2).map((line) => evidenceOf(strips, line)));
    });
    expect(evidences[0]).toBeGreaterThan(evidences[1]);
  });
});

describe('followLine', () => {
  it.each([-2, 1.5])('turns a frame that is %d degrees off to within half a degree', (off) => {
    const strips = stripsOf(surface(seam));
    const line = bestLine(strips, { angle: (35 + off) * DEGREE, bendPerMm: 0 });
    expect(line).not.toBeNull();
    if (line === null) return;
    expect(Math.abs(followLine(strips, line).angle / DEGREE - 35)).toBeLessThan(0.5);
  });

  it('follows a bend', () => {
    const strips = stripsOf(surface((along, across) => seam(along, across - (along * along) / 2 / 900)));
    let line: ThroughLine | null = first(strips);
    for (let round = 0; round < 4 && line !== null; round++) line = bestLine(strips, followLine(strips, line));
    expect(Math.abs((line?.frame.bendPerMm ?? 0) * 900 - 1)).toBeLessThan(0.5);
  });
});
