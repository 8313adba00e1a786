import { assessmentSchema } from '../../server/domain/index.ts';
import type { Assessment } from '../../server/domain/index.ts';

const around = (value: number, half: number): { value: number; low: number; high: number; coverage: 0.95 } => ({
  value,
  low: Math.max(0, value - half),
  high: Math.min(1, value + half),
  coverage: 0.95,
});

const surface = (rust: number): unknown => ({
  fractions: {
    bare: around(0.95 - rust, 0.02),
    stain: around(0.05, 0.02),
    rust: around(rust, 0.02),
    scale: around(0, 0),
    coating: around(0, 0),
  },
  residue: around(rust, 0.02),
  appearance: { lightness: null, textureContrast: null, heatTintFraction: 0 },
  unmeasuredFraction: 0.01,
  worstUnitArea: null,
});

const photo = (sign: string): unknown => ({
  widthPx: 640,
  heightPx: 480,
  sha256: sign.repeat(64),
  card: {
    found: true,
    mmPerPixel: 0.5,
    tiltDegrees: 8,
    colourErrorDeltaE00: { median: 1.1, p95: 2.4, max: 3.2 },
  },
});

/** An invented assessment in the form that the core answers with. @param rust share of rust that is left */
export const sampleAssessment = (rust = 0.08): Assessment =>
  assessmentSchema.parse({
    schema: 'bareplate/assessment@1',
    photos: { before: photo('a'), after: photo('b') },
    zone: { areaMm2: 30_000, polygonMm: null },
    before: surface(0.9),
    after: surface(rust),
    removed: around(1 - rust / 0.9, 0.03),
    streaks: {
      found: false,
      kind: null,
      pitchMm: null,
      directionDegrees: null,
      contrastDeltaE00: 0,
      affectedFraction: 0,
      travelSpeedMmPerS: null,
    },
    grades: [{ standard: 'ISO 8501-1', grade: 'Sa 2 1/2', decision: 'does not meet', because: 'invented for a test' }],
    advice: { verdict: 'another round', suggestions: [] },
    warnings: [],
  });
