import sharp from 'sharp';
import { cardPng } from '../../server/adapters/report/card-png.ts';
import type { Homography, PhotoPoint, SurfacePoint } from '../../server/domain/index.ts';
import { photoPoint, surfacePoint } from '../../server/domain/index.ts';
import { referenceCard } from '../../server/measure/card/card-layout.ts';
import { fitHomography } from '../../server/measure/geometry/fit-homography.ts';
import { invertHomography, projectInto } from '../../server/measure/geometry/homography.ts';
import { encodedRgbRaster } from '../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../server/measure/raster/rgb-raster.ts';
import { decodeSrgb, encodeSrgb } from '../../server/measure/colour/srgb.ts';

const DPI = 200;

let flatCard: Promise<{ pixels: Uint8Array; width: number; height: number }> | null = null;

function drawnCard(): Promise<{ pixels: Uint8Array; width: number; height: number }> {
  flatCard ??= cardPng(referenceCard(), DPI)
    .then((png) => sharp(png).removeAlpha().raw().toBuffer({ resolveWithObject: true }))
    .then(({ data, info }) => ({ pixels: data, width: info.width, height: info.height }));
  return flatCard;
}

export interface CardView {
  readonly width: number;
  readonly height: number;
  readonly toPhoto: Homography<SurfacePoint, PhotoPoint>;
  /** Multiplies scene light, after which codes clip. */
  readonly exposure?: number;
  /** Linear reflectance of the plane round the card. */
  readonly ground?: number;
  /** Changes linear light at a point of the card's plane (mm), e.g. a shadow or a thumb. */
  readonly paint?: (x: number, y: number, light: number) => number;
}

/** A pinhole view of a camera `distanceMm` away, tilted by `tilt` towards the direction `azimuth`, rolled by `roll` (radians). */
export function pinholeView(pose: {
  width: number;
  height: number;
  cardWidthPx: number;
  tilt: number;
  azimuth: number;
  roll: number;
  focalPx: number;
}): Homography<SurfacePoint, PhotoPoint> {
  const { widthMm, heightMm } = referenceCard();
  const distance = (pose.focalPx * widthMm) / pose.cardWidthPx;
  const corners: [number, number][] = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ];
  const pairs = corners.map(([x, y]) => {
    const dx = x - widthMm / 2;
    const dy = y - heightMm / 2;
    const c = Math.cos(pose.roll);
    const s = Math.sin(pose.roll);
    const [rx, ry] = [c * dx - s * dy, s * dx + c * dy];
    // Along the direction of tilt the plane recedes.
    const along = Math.cos(pose.azimuth) * rx + Math.sin(pose.azimuth) * ry;
    const across = -Math.sin(pose.azimuth) * rx + Math.cos(pose.azimuth) * ry;
    const depth = distance + Math.sin(pose.tilt) * along;
    const u = Math.cos(pose.tilt) * along;
    const px = Math.cos(pose.azimuth) * u - Math.sin(pose.azimuth) * across;
    const py = Math.sin(pose.azimuth) * u + Math.cos(pose.azimuth) * across;
    return {
      from: surfacePoint(x, y),
      to: photoPoint(pose.width / 2 + (pose.focalPx * px) / depth, pose.height / 2 + (pose.focalPx * py) / depth),
    };
  });
  const fit = fitHomography(pairs);
  if (fit === null) throw new Error('Expected a pose with an area');
  return fit.map;
}

/** The card on a plain ground, area-sampled 3 x 3 in linear light. */
export async function pictureOfCard(view: CardView): Promise<EncodedRgbRaster> {
  const card = await drawnCard();
  const perMm = DPI / 25.4;
  const toSurface = invertHomography(view.toPhoto);
  const out = new Float64Array(3);
  const pixels = new Uint8Array(3 * view.width * view.height);
  const decode = Float64Array.from({ length: 256 }, (_, code) => decodeSrgb(code / 255));
  const ground = view.ground ?? 0.2;
  const exposure = view.exposure ?? 1;
  for (let row = 0; row < view.height; row++) {
    for (let column = 0; column < view.width; column++) {
      const sums = [0, 0, 0];
      for (let tap = 0; tap < 9; tap++) {
        const u = column + ((tap % 3) + 0.5) / 3;
        const v = row + (Math.floor(tap / 3) + 0.5) / 3;
        projectInto(toSurface, u, v, out);
        const x = Math.floor(out[0] * perMm);
        const y = Math.floor(out[1] * perMm);
        const isOnCard = x >= 0 && y >= 0 && x < card.width && y < card.height;
        for (let k = 0; k < 3; k++) {
          const light = isOnCard ? decode[card.pixels[3 * (y * card.width + x) + k]] : ground;
          sums[k] += view.paint === undefined ? light : view.paint(out[0], out[1], light);
        }
      }
      const index = 3 * (row * view.width + column);
      for (let k = 0; k < 3; k++) {
        pixels[index + k] = Math.round(255 * encodeSrgb(Math.min(1, (exposure * sums[k]) / 9)));
      }
    }
  }
  return encodedRgbRaster(view.width, view.height, pixels);
}
