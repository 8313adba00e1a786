/**
 * Residue from bare (light) to covered (dark rust), energy from none (dark) to most (light). Lightness alone tells the order:
 * the same to any eye, and in grey.
 */
const RAMPS = {
  residue: [
    [232, 234, 236],
    [214, 168, 120],
    [92, 38, 18],
  ],
  energy: [
    [22, 26, 46],
    [120, 84, 132],
    [252, 232, 196],
  ],
} as const;

/** sRGB bytes of a share 0..1 in a dose picture; beyond the ends it is the end's. */
export function rampColour(ramp: keyof typeof RAMPS, share: number): [number, number, number] {
  const stops = RAMPS[ramp];
  const place = Math.min(1, Math.max(0, share)) * (stops.length - 1);
  const below = Math.min(stops.length - 2, Math.floor(place));
  const part = place - below;
  const mix = (channel: 0 | 1 | 2): number =>
    Math.round(stops[below][channel] + part * (stops[below + 1][channel] - stops[below][channel]));
  return [mix(0), mix(1), mix(2)];
}
