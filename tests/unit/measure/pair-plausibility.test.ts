import { describe, expect, it } from 'vitest';
import { measuredShare } from '../../../server/domain/index.ts';
import type { Measured, Surface, SurfaceClass } from '../../../server/domain/index.ts';
import { checkPair } from '../../../server/measure/pair-plausibility.ts';
import type { SeenSurface } from '../../../server/measure/pair-plausibility.ts';

const share = (value: number): Measured => measuredShare(value, value - 0.02, value + 0.02);

function seen(shares: Partial<Record<SurfaceClass, number>>, areaMm2: number | null = 10_000): SeenSurface {
  const { stain = 0, rust = 0, scale = 0, coating = 0 } = shares;
  const residue = rust + scale + coating;
  const surface: Surface = {
    fractions: {
      bare: share(1 - stain - residue),
      stain: share(stain),
      rust: share(rust),
      scale: share(scale),
      coating: share(coating),
    },
    residue: share(residue),
    appearance: {
      lightness: null,
      textureContrast: null,
      heatTintFraction: 0 as Surface['appearance']['heatTintFraction'],
    },
    unmeasuredFraction: 0 as Surface['unmeasuredFraction'],
    worstUnitArea: null,
  };
  return { surface, areaMm2 };
}
function answer(before: SeenSurface, after: SeenSurface): string {
  const outcome = checkPair(before, after);
  if (!outcome.ok) return outcome.fault.code;
  return outcome.value.map(({ code }) => code).join(' ') || 'plausible';
}

describe('a before and an after photo', () => {
  it('belong together when cleaning explains the change', () => {
    expect(answer(seen({ rust: 0.9 }), seen({ rust: 0.1, stain: 0.1 }))).toBe('plausible');
    expect(answer(seen({ rust: 0.4, scale: 0.5 }), seen({ rust: 0.4, scale: 0.5 }))).toBe('plausible');
  });

  it('do not when scale or paint has come, which no cleaning adds', () => {
    expect(answer(seen({}), seen({ scale: 0.5 }))).toBe('photos-of-different-things');
    expect(answer(seen({ rust: 0.1 }), seen({ coating: 0.5 }))).toBe('photos-of-different-things');
  });

  it('may have swapped classes, as long as residue does not grow: wet rust may look like scale', () => {
    expect(answer(seen({ rust: 0.9 }), seen({ scale: 0.8 }))).toBe('plausible');
  });

  it('may show flash rust, with a warning, but not a plate rusted anew', () => {
    expect(answer(seen({ rust: 0.1 }), seen({ rust: 0.35 }))).toBe('residue-grew');
    expect(answer(seen({ rust: 0.1 }), seen({ rust: 0.9 }))).toBe('photos-of-different-things');
  });

  it('do not when their zones differ in size by more than a third', () => {
    expect(answer(seen({ rust: 0.9 }, 10_000), seen({ rust: 0.1 }, 12_500))).toBe('plausible');
    expect(answer(seen({ rust: 0.9 }, 10_000), seen({ rust: 0.1 }, 14_000))).toBe('photos-of-different-things');
    expect(answer(seen({ rust: 0.9 }, 14_000), seen({ rust: 0.1 }, 10_000))).toBe('photos-of-different-things');
  });

  it('may both read as bare steel, with a warning: paint or scale of its colour would', () => {
    expect(answer(seen({}), seen({}))).toBe('before-reads-bare');
    expect(answer(seen({ rust: 0.02 }), seen({}))).toBe('before-reads-bare');
    expect(answer(seen({ stain: 0.1 }), seen({}))).toBe('plausible');
    expect(answer(seen({ rust: 0.04 }), seen({}))).toBe('plausible');
  });

  it('are not judged by size without a card', () => {
    expect(answer(seen({ rust: 0.9 }, null), seen({ rust: 0.1 }, 14_000))).toBe('plausible');
  });

  it('are told apart by certain growth alone: wide intervals do not accuse', () => {
    const vague = seen({ scale: 0.4 });
    const wide: SeenSurface = {
      ...vague,
      surface: {
        ...vague.surface,
        residue: measuredShare(0.4, 0.05, 0.8),
        fractions: { ...vague.surface.fractions, scale: measuredShare(0.4, 0.05, 0.8) },
      },
    };
    expect(answer(seen({ rust: 0.02 }), wide)).not.toBe('photos-of-different-things');
  });
});
