import { describe, expect, it } from 'vitest';
import { faultOfDecodeError } from '../../../../server/adapters/image/decode-fault.ts';

describe('faultOfDecodeError', () => {
  it('takes an unknown error for damage and keeps its first words', () => {
    expect(faultOfDecodeError(new Error('VipsJpeg: premature end of JPEG image\nVipsJpeg: more'))).toEqual({
      code: 'photo-truncated',
      detail: 'VipsJpeg: premature end of JPEG image',
    });
  });

  it('drops the preamble of the library and empty lines', () => {
    expect(faultOfDecodeError(new Error('Input buffer has corrupt header: \nwebp: unable to parse image'))).toEqual({
      code: 'photo-truncated',
      detail: 'webp: unable to parse image',
    });
  });

  it('keeps the detail short and printable', () => {
    const fault = faultOfDecodeError(new Error(`\u0007${'x'.repeat(500)}`));
    expect(fault).toMatchObject({ code: 'photo-truncated' });
    expect('detail' in fault && fault.detail).toMatch(/^\?x+\.\.\.$/);
    expect('detail' in fault && fault.detail).toHaveLength(120);
  });

  it('says so when there is no message, or no error object', () => {
    expect(faultOfDecodeError(new Error(''))).toEqual({ code: 'photo-truncated', detail: 'no reason given' });
    expect(faultOfDecodeError('stopped')).toEqual({ code: 'photo-truncated', detail: 'stopped' });
  });

  it('tells colour profiles, rare JPEG processes and unknown sample kinds apart from damage', () => {
    expect(faultOfDecodeError(new Error('heif: Unknown color profile type')).code).toBe('photo-icc-broken');
    expect(faultOfDecodeError(new Error('Unsupported JPEG process: SOF type 0xc3')).code).toBe('photo-wrong-type');
    expect(faultOfDecodeError(new Error("vips_colourspace: no known route from 'multiband'")).code).toBe(
      'photo-colour-model',
    );
  });
});
