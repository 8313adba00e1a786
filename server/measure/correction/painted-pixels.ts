import type { PaintMark } from '../../domain/api/corrections.ts';
import { OUTSIDE_CODE, paintClassMap } from '../../domain/paint-class-map.ts';
import type { ClassMap } from '../../domain/paint-class-map.ts';

/** Stands for no class, so that every stroke shows. */
const BLANK_CODE = 254;

/** 1 where brushes and outlines went, also where they left the class as it was. A fill goes where classes change. */
export function paintedPixels(map: ClassMap, marks: readonly PaintMark[]): Uint8Array {
  const blank = { ...map, codes: map.codes.map((code) => (code === OUTSIDE_CODE ? code : BLANK_CODE)) };
  const strokes = paintClassMap(
    blank,
    marks.filter(({ kind }) => kind !== 'fill'),
  );
  return strokes.codes.map((code) => (code === OUTSIDE_CODE || code === BLANK_CODE ? 0 : 1));
}
