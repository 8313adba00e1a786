import { describe, expect, it } from 'vitest';
import { fixture } from '../../../../fixtures/index.ts';
import { countGifFrames } from '../../../../server/adapters/image/gif-frames.ts';

describe('countGifFrames', () => {
  it('counts one picture in a still GIF and two in a moving one', () => {
    expect(countGifFrames(fixture('still.gif').read())).toBe(1);
    expect(countGifFrames(fixture('moving.gif').read())).toBe(2);
  });

  it('counts what can be followed in a GIF that is cut, and comes to an end', () => {
    const gif = fixture('moving.gif').read();
    for (let length = 0; length < gif.length; length += 7) {
      expect(countGifFrames(gif.subarray(0, length))).toBeLessThanOrEqual(2);
    }
  });
});
