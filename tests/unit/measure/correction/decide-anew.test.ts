import { describe, expect, it } from 'vitest';
import { goldenRecord } from '../../../../fixtures/golden-records.ts';
import { sharpClassMapReader } from '../../../../server/adapters/objects/sharp-class-map-reader.ts';
import type { PaintMark } from '../../../../server/domain/api/corrections.ts';
import type { DecidedAnew } from '../../../../server/domain/api/corrections.ts';
import { OUTSIDE_CODE, paintClassMap } from '../../../../server/domain/paint-class-map.ts';
import type { ClassMap } from '../../../../server/domain/paint-class-map.ts';
import { surfacePoint } from '../../../../server/domain/index.ts';
import type { SurfaceInPhoto } from '../../../../server/domain/index.ts';
import { correctSurface } from '../../../../server/measure/correction/correct-surface.ts';
import { decideAnew } from '../../../../server/measure/correction/decide-anew.ts';
import { paintedPixels } from '../../../../server/measure/correction/painted-pixels.ts';
import { homography, invertHomography, project } from '../../../../server/measure/geometry/homography.ts';
import { goldenInspection } from '../../../support/evidence-tools.ts';

const { assessment, after: photo } = goldenInspection('stern-plate').rounds[0];
const { surface: measured, grades } = { surface: assessment.after, grades: assessment.grades };
const inPhoto = sure(photo.surface);
const toPhoto = homography(inPhoto.toIdealPx);
const corners = inPhoto.zoneMm.map(([x, y]): [number, number] => {
  const [u, v] = project(toPhoto, surfacePoint(x, y));
  return [u, v];
});
const map = await measuredMap();

function sure(surface: SurfaceInPhoto | null): SurfaceInPhoto {
  if (surface === null) throw new Error('Expected a photo with its card');
  return surface;
}

/** The class map of the golden record, with what lies outside the zone marked so. */
async function measuredMap(): Promise<ClassMap> {
  const png = goldenRecord('stern-plate').files.get('class-maps/round-1-after.png');
  if (png === undefined) throw new Error('Expected the class map of the stern plate');
  const read = await sharpClassMapReader().read(png);
  const zone = paintClassMap({ ...read, codes: new Uint8Array(read.codes.length) }, [outline('bare', corners)]);
  return { ...read, codes: read.codes.map((code, index) => (zone.codes[index] === 0 ? OUTSIDE_CODE : code)) };
}

function outline(paint: PaintMark['paint'], points: [number, number][]): PaintMark {
  return { kind: 'polygon', paint, points };
}

function decide(marks: readonly PaintMark[], isAfter = true): DecidedAnew {
  const after = paintClassMap(map, marks);
  const planeFromMap = invertHomography(toPhoto).elements;
  const shares = correctSurface({ before: map, after, painted: paintedPixels(map, marks) }, planeFromMap);
  if (shares === null) throw new Error('Expected something measured');
  const graded = isAfter ? { graded: { scrapeTest: 'clean' as const } } : {};
  return decideAnew(shares, { map: after, photoPxPerPixel: 1 }, { surface: measured, inPhoto, ...graded });
}

const decisions = (lines: DecidedAnew['grades']): string[] =>
  lines.map(({ grade, decision }) => `${grade} ${decision}`);
const decisionOn = (grade: string, { grades: lines }: DecidedAnew): string | undefined =>
  lines.find((line) => line.grade === grade)?.decision;

describe('deciding anew on a corrected map', () => {
  it('comes to what was measured where nothing was painted', () => {
    const decided = decide([]);
    // The map is the measuring raster seen by the photo's pixels, so a share may be off by what lies along class edges.
    expect(Math.abs(decided.residue.value - measured.residue.value)).toBeLessThan(0.002);
    expect(decided.residue.high - decided.residue.low).toBeCloseTo(measured.residue.high - measured.residue.low, 9);
    const [worst, before] = [decided.worstUnitArea, measured.worstUnitArea];
    expect(Math.abs((worst?.residueFraction ?? 0) - (before?.residueFraction ?? 1))).toBeLessThan(0.005);
    expect(Math.hypot(...[0, 1].map((i) => (worst?.centreMm[i] ?? 0) - (before?.centreMm[i] ?? 99)))).toBeLessThan(2);
    expect(decisions(decided.grades)).toEqual(decisions(grades));
  });

  it('meets every grade on the word of a person who painted the whole zone bare', () => {
    const decided = decide([outline('bare', corners)]);
    expect(decided).toMatchObject({
      residue: { value: 0, low: 0, high: 0 },
      paintedFraction: 1,
      worstUnitArea: { residueFraction: 0, stainFraction: 0 },
    });
    expect(decided.grades.every(({ decision }) => decision === 'meets')).toBe(true);
  });

  it('refuses for a spot of rust that fills a unit area, however clean the rest', () => {
    const [x, y] = project(toPhoto, surfacePoint(260, 30));
    const spot: [number, number][] = [
      [x - 200, y - 200],
      [x + 200, y - 200],
      [x + 200, y + 200],
      [x - 200, y + 200],
    ];
    const decided = decide([outline('bare', corners), outline('rust', spot)]);
    expect(decided.worstUnitArea?.residueFraction).toBeGreaterThan(0.5);
    expect(decided.residue.value).toBeLessThan(0.4);
    expect(decisionOn('Industrial', decided)).toBe('does not meet');
  });

  it('keeps the measured doubt where nobody painted, so that half a zone proves nothing about the other', () => {
    const [a, b, c, d] = corners;
    const middle = (p: [number, number], q: [number, number]): [number, number] => [
      (p[0] + q[0]) / 2,
      (p[1] + q[1]) / 2,
    ];
    const half = decide([outline('bare', [a, middle(a, b), middle(c, d), d])]);
    const width = measured.residue.high - measured.residue.low;
    expect(half.paintedFraction).toBeCloseTo(0.5, 1);
    expect(half.residue.high - half.residue.low).toBeCloseTo(width * Math.sqrt(1 - half.paintedFraction), 9);
    expect(decisionOn('Sa 3', half)).not.toBe('meets');
  });

  it('grades the after photo only', () => {
    expect(decide([], false).grades).toEqual([]);
  });

  it('has no unit area to search without a card in view, and judges the zone', () => {
    const shares = correctSurface(
      { before: map, after: map, painted: paintedPixels(map, []) },
      [1, 0, 0, 0, 1, 0, 0, 0, 1],
    );
    if (shares === null) throw new Error('Expected something measured');
    const decided = decideAnew(shares, { map, photoPxPerPixel: 1 }, { surface: measured, inPhoto: null, graded: {} });
    expect(decided.worstUnitArea).toBeNull();
    expect(decided.grades[0].because).toContain('In the whole zone');
  });
});

describe('the pixels that people spoke for', () => {
  it('are those of brushes and outlines, changed or not, never those outside the zone', () => {
    const small: ClassMap = { width: 4, height: 1, codes: Uint8Array.of(1, 3, 3, OUTSIDE_CODE) };
    const all: [number, number][] = [
      [0, 0],
      [4, 0],
      [4, 1],
      [0, 1],
    ];
    expect([...paintedPixels(small, [outline('bare', all)])]).toEqual([1, 1, 1, 0]);
    expect([...paintedPixels(small, [{ kind: 'fill', paint: 'bare', at: [1.5, 0.5] }])]).toEqual([0, 0, 0, 0]);
  });
});
