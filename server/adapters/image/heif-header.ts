import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { childBoxes, findBox, fullBoxCursor, listBoxes, type Box, type BoxList } from './heif-boxes.ts';
import { findHevcDamage } from './hevc-units.ts';
import { readHeifItems, type HeifItem, type HeifItems } from './heif-items.ts';
import { PLAIN_HEADER, type ColourCodePoints, type PhotoHeader } from './photo-header.ts';

const KIND_OF_CODEC: Readonly<Record<string, 'heic' | 'avif'>> = { hvc1: 'heic', av01: 'avif' };
/** Pictures made of others: tiles side by side, an unchanged copy, pictures laid over each other. */
const DERIVED_TYPES: ReadonlySet<string> = new Set(['grid', 'iden', 'iovl']);

/** HEIC and AVIF share the HEIF container. Their orientation is a property that the codec library applies itself. */
export function readHeifHeader(file: Uint8Array): Outcome<PhotoHeader> {
  const top = listBoxes(file);
  const meta = findBox(top, 'meta');
  const frames = countSequenceFrames(file, findBox(top, 'moov'));
  if (frames > 1) return failure({ code: 'photo-animated', frames });
  const tables = meta === null ? null : readHeifItems(file, meta);
  const primary = tables?.items.find((item) => item.id === tables.primaryId);
  if (tables === null || primary === undefined) {
    return failure({ code: 'photo-truncated', detail: 'the file holds no main picture' });
  }
  const coded = findCodedItems(tables, primary);
  const kind = coded.length === 0 ? undefined : (KIND_OF_CODEC[coded[0].type] as 'heic' | 'avif' | undefined);
  if (kind === undefined) {
    return failure({ code: 'photo-wrong-type', found: `a HEIF file with a picture coded as "${primary.type}"` });
  }
  const size = readSize(file, primary);
  if (size === null) return failure({ code: 'photo-truncated', detail: 'the file does not tell its size' });
  const codec = readCodec(file, coded[0]);
  return success({
    ...PLAIN_HEADER,
    ...size,
    kind,
    bitsPerChannel: codec.bitsPerChannel,
    colourObstacle: codec.isGrey ? `a greyscale ${kind.toUpperCase()}` : null,
    exifOfContainer: readExif(file, tables),
    ...readColour(file, [...primary.properties, ...coded[0].properties]),
    pictureBytes: top.isCut || isCut(tables, file.length) ? null : file.length,
    pictureDamage: kind === 'heic' ? findFirstDamage(file, coded) : null,
    pictureIndex: indexAmongTopLevel(tables),
  });
}

const isCut = (tables: HeifItems, fileBytes: number): boolean =>
  tables.items.some((item) => item.extents.some((extent) => extent.end > fileBytes));

/** Byte 21 of the configuration holds, in its low bits, one less than the bytes of a unit's length. Source: [HVCC] */
function findFirstDamage(file: Uint8Array, coded: readonly HeifItem[]): string | null {
  for (const item of coded) {
    const configuration = propertyOf(item, 'hvcC');
    if (configuration === undefined) return 'the picture lacks its codec configuration';
    const lengthBytes = 1 + (new ByteCursor(file, { start: configuration.start + 21 }).uint8() & 3);
    const bytes = Buffer.concat(item.extents.map(({ start, end }) => file.subarray(start, end)));
    const damage = findHevcDamage(bytes, lengthBytes);
    if (damage !== null) return damage;
  }
  return null;
}

/** The items that hold coded pixels: the primary itself, or those it is derived from. */
function findCodedItems(tables: HeifItems, primary: HeifItem): readonly HeifItem[] {
  let level: readonly HeifItem[] = [primary];
  // A crop or rotation of a grid is two levels deep; deeper derivations are not still photos.
  for (let depth = 0; depth < 3 && level.some((item) => DERIVED_TYPES.has(item.type)); depth += 1) {
    const ids = new Set(level.map((item) => item.id));
    const sources = new Set(tables.references.filter((r) => r.type === 'dimg' && ids.has(r.from)).flatMap((r) => r.to));
    level = tables.items.filter((item) => sources.has(item.id));
  }
  return level;
}

/** An item of its own; its first number says how far on the block begins. Source: [HEIF] annex A.2.1 */
function readExif(file: Uint8Array, { items }: HeifItems): Uint8Array | null {
  const item = items.find(({ type }) => type === 'Exif');
  if (item === undefined) return null;
  const bytes = Buffer.concat(item.extents.map(({ start, end }) => file.subarray(start, end)));
  return bytes.subarray(4 + new ByteCursor(bytes).uint32());
}

const propertyOf = (item: HeifItem, type: string): Box | undefined =>
  item.properties.find((property) => property.type === type);

function readSize(file: Uint8Array, item: HeifItem): { widthPx: number; heightPx: number } | null {
  const box = propertyOf(item, 'ispe');
  if (box === undefined) return null;
  const { cursor } = fullBoxCursor(file, box);
  return { widthPx: cursor.uint32(), heightPx: cursor.uint32() };
}

function readCodec(file: Uint8Array, item: HeifItem): { bitsPerChannel: number; isGrey: boolean } {
  const hevc = propertyOf(item, 'hvcC');
  if (hevc !== undefined) {
    // Byte 16 holds the chroma format, 0 for none. The decoder gives 8 bits whatever the depth. Source: [HVCC]
    const cursor = new ByteCursor(file, { start: hevc.start + 16, end: hevc.end });
    const isGrey = (cursor.uint8() & 3) === 0 && !cursor.isOverrun();
    return { bitsPerChannel: 8, isGrey };
  }
  const av1 = propertyOf(item, 'av1C');
  // Byte 2: tier, high bit depth, twelve bit, monochrome. Source: [AVIF] by way of the AV1 codec configuration
  const flags = av1 === undefined ? 0 : new ByteCursor(file, { start: av1.start + 2, end: av1.end }).uint8();
  const deepBits = (flags & 0x20) !== 0 ? 12 : 10;
  return { bitsPerChannel: (flags & 0x40) !== 0 ? deepBits : 8, isGrey: (flags & 0x10) !== 0 };
}

function readColour(
  file: Uint8Array,
  properties: readonly Box[],
): { icc: Uint8Array | null; codePoints: ColourCodePoints | null } {
  let icc: Uint8Array | null = null;
  let codePoints: ColourCodePoints | null = null;
  for (const property of properties.filter((box) => box.type === 'colr')) {
    const cursor = new ByteCursor(file, { start: property.start, end: property.end });
    const type = cursor.text();
    if (type === 'prof' || type === 'rICC') icc ??= cursor.bytes(cursor.remaining);
    else if (type === 'nclx') codePoints ??= { primaries: cursor.uint16(), transfer: cursor.uint16() };
  }
  return { icc, codePoints };
}

/** Top-level pictures are neither hidden nor the thumbnail or auxiliary of another, in the order of their numbers. */
function indexAmongTopLevel(tables: HeifItems): number {
  const subordinate = new Set(
    tables.references.filter((r) => r.type === 'thmb' || r.type === 'auxl').map((r) => r.from),
  );
  const topLevel = tables.items.filter(
    (item) =>
      !item.isHidden && !subordinate.has(item.id) && (DERIVED_TYPES.has(item.type) || item.type in KIND_OF_CODEC),
  );
  return topLevel.findIndex((item) => item.id === tables.primaryId);
}

/** Samples of the longest picture track; 0 without one. Source: [ISOBMFF] sample size box */
function countSequenceFrames(file: Uint8Array, moov: Box | null): number {
  const counts = childBoxes(file, moov)
    .boxes.filter((box) => box.type === 'trak')
    .map((track) => {
      let list: BoxList = childBoxes(file, track);
      for (const type of ['mdia', 'minf', 'stbl']) list = childBoxes(file, findBox(list, type));
      const sizes = findBox(list, 'stsz');
      if (sizes === null) return 0;
      const { cursor } = fullBoxCursor(file, sizes);
      cursor.skip(4);
      return cursor.uint32();
    });
  return Math.max(0, ...counts);
}
