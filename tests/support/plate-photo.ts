import sharp from 'sharp';
import { labD50ToLinearSrgb } from '../../server/measure/colour/lab-d50.ts';
import { encodeSrgb } from '../../server/measure/colour/srgb.ts';
import { invertHomography, projectInto } from '../../server/measure/geometry/homography.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../../server/measure/card/card-grid.ts';
import type { EncodedRgbRaster } from '../../server/measure/raster/rgb-raster.ts';
import { pictureOfCard, pinholeView } from './picture-of-card.ts';
import { seededNormal, seededRandom } from './seeded-random.ts';

type Lab = readonly [L: number, a: number, b: number];

/** Colours that the segmenters know well. */
export const STEEL: Lab = [62, 0, 3];
export const RUST: Lab = [39, 20, 27];

export interface PlatePhoto {
  /** Colour of the plate at a place of the card frame, mm. */
  readonly plate: (x: number, y: number) => Lab;
  /** Standard deviation of lightness from pixel to pixel. */
  readonly grain?: number;
  readonly tilt?: number;
  readonly exposure?: number;
  readonly withCard?: boolean;
  readonly seed?: number;
}

export const PLATE_PHOTO_SIZE = { width: 880, height: 600 } as const;
const CARD_WIDTH_PX = 330;
const toPhotoAt = (tilt: number): ReturnType<typeof pinholeView> =>
  pinholeView({
    ...PLATE_PHOTO_SIZE,
    cardWidthPx: CARD_WIDTH_PX,
    tilt,
    azimuth: 0.5,
    roll: 0,
    focalPx: 0.73 * PLATE_PHOTO_SIZE.width,
  });

/** A small photo of a steel plate with the card in its middle; the plate is seen from about -120 to 270 mm across. */
export async function platePhoto(options: PlatePhoto): Promise<EncodedRgbRaster> {
  const { plate, grain = 1.5, tilt = 0.2, exposure = 0.8, withCard = true, seed = 1 } = options;
  const toPhoto = toPhotoAt(tilt);
  const photo = await pictureOfCard({ ...PLATE_PHOTO_SIZE, toPhoto, exposure });
  const toSurface = invertHomography(toPhoto);
  const random = seededRandom(seed);
  const at = new Float64Array(3);
  const rgb: [number, number, number] = [0, 0, 0];
  for (let row = 0, i = 0; row < photo.height; row++) {
    for (let column = 0; column < photo.width; column++, i += 3) {
      projectInto(toSurface, column + 0.5, row + 0.5, at);
      const isCard = at[0] > -0.6 && at[1] > -0.6 && at[0] < CARD_WIDTH_MM + 0.6 && at[1] < CARD_HEIGHT_MM + 0.6;
      if (isCard && withCard) continue;
      const [L, a, b] = plate(at[0], at[1]);
      const noise = (part: number): number => part * grain * seededNormal(random);
      labD50ToLinearSrgb({ L: L + noise(1), a: a + noise(0.3), b: b + noise(0.3) }, rgb);
      rgb.forEach((light, k) => {
        photo.pixels[i + k] = Math.round(255 * encodeSrgb(Math.min(1, Math.max(0, exposure * light))));
      });
    }
  }
  return photo;
}

/** The photo as a file that keeps every pixel. */
export const asPng = ({ pixels, width, height }: EncodedRgbRaster): Promise<Buffer> =>
  sharp(pixels, { raw: { width, height, channels: 3 } })
    .png({ compressionLevel: 1 })
    .toBuffer();
