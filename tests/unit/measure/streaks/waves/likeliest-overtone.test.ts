import { describe, expect, it } from 'vitest';
import { likeliestOvertone } from '../../../../../server/measure/streaks/waves/likeliest-overtone.ts';

const at = (pitchMm: number, evidence: number, turn = 0) => ({
  wave: { pitchMm, wave: { kx: Math.cos(turn) / pitchMm, ky: Math.sin(turn) / pitchMm } },
  evidence,
});

describe('a wave and its overtones', () => {
  const [long, short] = [at(4, 4.1), at(2.02, 3.4)];

  it('are told by the pitch that the settings lead to where both are nearly as sure', () => {
    expect(likeliestOvertone(long, [long, short], 1.8)).toBe(short);
    expect(likeliestOvertone(long, [long, short], 3.4)).toBe(long);
    expect(likeliestOvertone(short, [short, at(4, 2.9)], 4.4)).toMatchObject({ wave: { pitchMm: 4 } });
  });

  it('stand as they are without settings', () => {
    expect(likeliestOvertone(long, [long, short], null)).toBe(long);
  });

  // By hand: (ln 2 / 0.35)^2 / 2 = 1.96.
  it('let a clear pitch show a hand at twice the speed that was set', () => {
    expect(likeliestOvertone(long, [long, at(2, 2.1)], 2)).toBe(long);
    expect(likeliestOvertone(long, [long, at(2, 2.2)], 2)).not.toBe(long);
  });

  it('are no overtones where they run another way or have another ratio', () => {
    expect(likeliestOvertone(long, [long, at(2, 4, 0.3)], 2)).toBe(long);
    expect(likeliestOvertone(long, [long, at(2.4, 4)], 2.4)).toBe(long);
  });
});
