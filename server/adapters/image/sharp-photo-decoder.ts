import { createHash } from 'node:crypto';
import { failure, success, type Outcome, type PhotoTime } from '../../domain/index.ts';
import { encodedRgbRaster } from '../../measure/raster/rgb-raster.ts';
import type { DecodedPhoto, PhotoDecoder } from '../../services/ports.ts';
import { readExifOrientation, withoutExifPrefix, type ExifOrientation } from './exif-orientation.ts';
import { readExifTime } from './exif-time.ts';
import { findHeaderFault, isTooSmall, tooSmall } from './header-limits.ts';
import { decodeHeic } from './heic-pixels.ts';
import { findIccObstacle, hasColourTable } from './icc-profile.ts';
import { convertToSrgbCodes } from './matrix-conversion.ts';
import { DISPLAY_P3_PROFILE, isPlainSrgb, readMatrixProfile, type MatrixProfile } from './matrix-profile.ts';
import type { PhotoHeader } from './photo-header.ts';
import { sniffPhotoKind } from './photo-kind.ts';
import { readPhotoHeader } from './read-photo-header.ts';
import type { RgbCodes } from './rgb-codes.ts';
import { decodeWithSharp } from './sharp-pixels.ts';

const DISPLAY_P3_PRIMARIES = 12;

/** Decodes JPEG, PNG, WebP, TIFF and AVIF through sharp, HEIC through libheif. */
export function sharpPhotoDecoder(): PhotoDecoder {
  return { decode };
}

async function decode(file: Uint8Array): Promise<Outcome<DecodedPhoto>> {
  const header = readHeader(file);
  if (!header.ok) return header;
  const orientation = orientationOf(header.value);
  if (!orientation.ok) return orientation;
  const conversion = colourConversionOf(header.value);
  if (!conversion.ok) return conversion;
  const options = { orientation: orientation.value, conversion: conversion.value };
  const decoding = decodePixels(file, header.value, options);
  // Hashed while the codec threads work.
  const sha256 = createHash('sha256').update(file).digest('hex');
  const codes = await decoding;
  if (!codes.ok) return codes;
  const { width, height, pixels } = codes.value;
  // A crop stored with the picture may leave less than the header promised.
  if (isTooSmall(width, height)) return failure(tooSmall(width, height));
  return success({ raster: encodedRgbRaster(width, height, pixels), sha256, takenAt: takenAtOf(header.value) });
}

function readHeader(file: Uint8Array): Outcome<PhotoHeader> {
  if (file.length === 0) return failure({ code: 'file-empty', role: 'photo' });
  const kind = sniffPhotoKind(file);
  if (!kind.ok) return kind;
  const header = readPhotoHeader(kind.value, file);
  if (!header.ok) return header;
  const fault = findHeaderFault(header.value);
  return fault === null ? header : failure(fault);
}

function orientationOf({ exif }: PhotoHeader): Outcome<ExifOrientation> {
  return exif === null ? success(1) : readExifOrientation(withoutExifPrefix(exif));
}

function takenAtOf({ exif, exifOfContainer }: PhotoHeader): PhotoTime | null {
  const block = exif ?? exifOfContainer;
  return block === null ? null : readExifTime(withoutExifPrefix(block));
}

/**
 * How stored codes become sRGB codes. Little CMS, through sharp, works on all cores and off this thread, but knows only
 * embedded profiles, does not see HEIC, and with 16 bits misses by up to 11 codes of 255 near the edge of the gamut
 * (measured). There the curves and the matrix of the profile are applied here, exactly.
 */
type ColourConversion = { readonly by: 'nothing' } | { readonly by: 'little-cms' } | MatrixConversion;
interface MatrixConversion {
  readonly by: 'matrix';
  readonly profile: MatrixProfile;
}

function colourConversionOf(header: PhotoHeader): Outcome<ColourConversion> {
  const { icc, codePoints, kind, bitsPerChannel } = header;
  if (icc === null) {
    const isP3 = codePoints?.primaries === DISPLAY_P3_PRIMARIES;
    return success(isP3 ? { by: 'matrix', profile: DISPLAY_P3_PROFILE } : { by: 'nothing' });
  }
  const detail = findIccObstacle(icc);
  if (detail !== null) return failure({ code: 'photo-icc-broken', detail });
  if (hasColourTable(icc)) {
    // No camera writes this (common practice).
    if (kind === 'heic') return failure({ code: 'photo-colour-model', found: 'HEIC with a lookup-table profile' });
    return success({ by: 'little-cms' });
  }
  const profile = readMatrixProfile(icc);
  if (profile === null) {
    return failure({ code: 'photo-icc-broken', detail: 'its curves or primaries cannot be used' });
  }
  if (isPlainSrgb(profile)) return success({ by: 'nothing' });
  const isForLittleCms = kind !== 'heic' && bitsPerChannel === 8;
  return success(isForLittleCms ? { by: 'little-cms' } : { by: 'matrix', profile });
}

/** Upright pixels in sRGB codes. */
async function decodePixels(
  file: Uint8Array,
  header: PhotoHeader,
  options: { readonly orientation: ExifOrientation; readonly conversion: ColourConversion },
): Promise<Outcome<RgbCodes>> {
  const { orientation, conversion } = options;
  const picture = file.subarray(0, header.pictureBytes ?? file.length);
  const codes =
    header.kind === 'heic'
      ? await decodeHeic(file, header.pictureIndex)
      : await decodeWithSharp(picture, header, { orientation, isProfileApplied: conversion.by === 'little-cms' });
  if (codes.ok && conversion.by === 'matrix') convertToSrgbCodes(codes.value, conversion.profile);
  return codes;
}
