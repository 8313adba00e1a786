import { describe, expect, it } from 'vitest';
import { dropOpaqueAlpha } from '../../../../server/adapters/image/opaque-rgb.ts';

describe('dropOpaqueAlpha', () => {
  it('keeps the colours of opaque pixels, in the same memory', () => {
    const rgba = Uint8Array.of(1, 2, 3, 255, 4, 5, 6, 255, 7, 8, 9, 255);
    const outcome = dropOpaqueAlpha(rgba);
    expect(outcome).toEqual({ ok: true, value: Uint8Array.of(1, 2, 3, 4, 5, 6, 7, 8, 9) });
    expect(outcome.ok && outcome.value.buffer).toBe(rgba.buffer);
  });

  it('knows 65535 as opaque for 16 bits', () => {
    const rgba = Uint16Array.of(1000, 2000, 3000, 65535);
    expect(dropOpaqueAlpha(rgba)).toEqual({ ok: true, value: Uint16Array.of(1000, 2000, 3000) });
    expect(dropOpaqueAlpha(Uint16Array.of(0, 0, 0, 65534)).ok).toBe(false);
  });

  it('refuses with the share of pixels that are not wholly opaque', () => {
    const rgba = Uint8Array.of(1, 2, 3, 255, 4, 5, 6, 254, 7, 8, 9, 0, 1, 1, 1, 255);
    expect(dropOpaqueAlpha(rgba)).toEqual({ ok: false, fault: { code: 'photo-transparent', share: 0.5 } });
  });
});
