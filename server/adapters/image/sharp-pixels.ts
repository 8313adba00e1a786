import sharp, { type OutputInfo, type Sharp } from 'sharp';
import { failure, success, type Outcome } from '../../domain/index.ts';
import { faultOfDecodeError } from './decode-fault.ts';
import type { ExifOrientation } from './exif-orientation.ts';
import { MOST_PIXELS } from './header-limits.ts';
import { dropOpaqueAlpha } from './opaque-rgb.ts';
import type { PhotoHeader } from './photo-header.ts';
import { samplesOf, type RgbCodes } from './rgb-codes.ts';

/** How to turn the stored picture upright: mirror left to right first, then turn clockwise. Source: [EXIF] tag 274 */
const UPRIGHT_TURNS: { readonly [O in ExifOrientation]: { readonly isMirrored: boolean; readonly degrees: number } } = {
  1: { isMirrored: false, degrees: 0 },
  2: { isMirrored: true, degrees: 0 },
  3: { isMirrored: false, degrees: 180 },
  4: { isMirrored: true, degrees: 180 },
  5: { isMirrored: true, degrees: 270 },
  6: { isMirrored: false, degrees: 90 },
  7: { isMirrored: true, degrees: 90 },
  8: { isMirrored: false, degrees: 270 },
};

export interface SharpDecodeOptions {
  readonly orientation: ExifOrientation;
  /** Whether Little CMS, which sharp carries, applies the embedded profile. Otherwise the codes stay as stored. */
  readonly isProfileApplied: boolean;
}

/** Decodes JPEG, PNG, WebP, TIFF and AVIF to upright codes. */
export async function decodeWithSharp(
  file: Uint8Array,
  header: PhotoHeader,
  options: SharpDecodeOptions,
): Promise<Outcome<RgbCodes>> {
  const isDeep = header.bitsPerChannel > 8;
  const pipeline = sharp(file, {
    failOn: 'warning',
    limitInputPixels: MOST_PIXELS,
    ignoreIcc: !options.isProfileApplied,
  });
  const complaint = listenForProfileComplaint(pipeline);
  const { isMirrored, degrees } = UPRIGHT_TURNS[options.orientation];
  if (isMirrored) pipeline.flop();
  if (degrees !== 0) pipeline.rotate(degrees);
  if (isDeep) pipeline.toColourspace('rgb16');
  // sharp brings deep pictures with a profile to Display P3 only; an output profile takes them on to sRGB.
  if (isDeep && options.isProfileApplied) pipeline.withIccProfile('srgb');
  try {
    const { data, info } = await pipeline
      .raw({ depth: isDeep ? 'ushort' : 'uchar' })
      .toBuffer({ resolveWithObject: true });
    if (complaint.isHeard) return failure({ code: 'photo-icc-broken', detail: 'its curves or tables cannot be used' });
    const samples = spreadToFullScale(samplesOf(data, isDeep), header.bitsPerChannel);
    return rgbOf(samples, info);
  } catch (error) {
    return failure(faultOfDecodeError(error));
  }
}

/** sharp leaves the colours as they are when Little CMS cannot use a profile, and says so only in a warning event. */
function listenForProfileComplaint(pipeline: Sharp): { readonly isHeard: boolean } {
  const complaint = { isHeard: false };
  pipeline.on('warning', (message: unknown) => {
    if (/profile/i.test(String(message))) complaint.isHeard = true;
  });
  return complaint;
}

function rgbOf(samples: Uint8Array | Uint16Array, info: OutputInfo): Outcome<RgbCodes> {
  if (info.channels !== 3 && info.channels !== 4) {
    return failure({ code: 'photo-colour-model', found: `a picture of ${info.channels} channels` });
  }
  const rgb = info.channels === 4 ? dropOpaqueAlpha(samples) : success(samples);
  return rgb.ok ? success({ width: info.width, height: info.height, pixels: rgb.value }) : rgb;
}

/** AVIF of 10 or 12 bits comes shifted to the top of 16 bits, so that its white would be 65472 or 65520. */
function spreadToFullScale(samples: Uint8Array | Uint16Array, bits: number): Uint8Array | Uint16Array {
  if (bits <= 8 || bits === 16) return samples;
  const gain = 65535 / (2 ** 16 - 2 ** (16 - bits));
  for (let index = 0; index < samples.length; index += 1) samples[index] = Math.round(samples[index] * gain);
  return samples;
}
