import { CLASS_CODE, NOT_MEASURED_CODE } from '../domain/surface.ts';
import { OUTSIDE_CODE, paintClassMap } from '../domain/paint-class-map.ts';
import type { ClassMap } from '../domain/paint-class-map.ts';
import type { DataFolder, FreshFolder } from './backup-ports.ts';
import type { ClassMapReader } from './object-ports.ts';
import type { PhotoDecoder } from './ports.ts';
import type { Box, CorrectedPhoto, TrainingCutter } from './training-ports.ts';

export const TRAINING_MANIFEST = 'manifest.json';

export interface ExportTools {
  readonly decoder: PhotoDecoder;
  readonly classMaps: ClassMapReader;
  readonly cutter: TrainingCutter;
}

/** One picture of the training set, as its manifest tells it. No names: of people, customers or places. */
export interface TrainingItem {
  readonly photo: string;
  readonly mask: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly mmPerPixel: number | null;
  readonly photoSha256: string;
  readonly assessmentId: string;
  readonly role: CorrectedPhoto['role'];
  readonly programVersion: string;
  readonly corrections: readonly { readonly id: string; readonly madeAt: string }[];
}

export interface ExportReport {
  readonly items: readonly TrainingItem[];
  /** Maps with a standing correction that nobody agreed to train with. */
  readonly withoutConsent: number;
  /** Maps whose files are missing, damaged or hold nothing of the zone. */
  readonly unreadable: number;
}

/**
 * Writes photo crops with their corrected class masks, of those maps alone where every correction that stands carries the
 * consent of who made it: one without would stand in the mask too.
 */
export async function exportCorrections(
  corrected: readonly CorrectedPhoto[],
  data: Pick<DataFolder, 'readObject' | 'note'>,
  out: Pick<FreshFolder, 'write'>,
  tools: ExportTools,
): Promise<ExportReport> {
  const items: TrainingItem[] = [];
  const agreed = corrected.filter(({ corrections }) => corrections.every(({ mayTrain }) => mayTrain));
  for (const photo of agreed) {
    const item = await exportOne(photo, data, out, tools);
    if (item !== null) items.push(item);
  }
  const report: ExportReport = {
    items,
    withoutConsent: corrected.length - agreed.length,
    unreadable: agreed.length - items.length,
  };
  const classes = { 'not measured': NOT_MEASURED_CODE, ...CLASS_CODE, outside: OUTSIDE_CODE };
  const manifest = { schema: 'bareplate/training-corrections@1', classes, ...report };
  await out.write(TRAINING_MANIFEST, Buffer.from(`${JSON.stringify(manifest, null, 2)}\n`));
  const maps = items.map(({ assessmentId, role }) => `${assessmentId} ${role}`);
  await data.note('exported', { for: 'training the segmenter', maps });
  return report;
}

async function exportOne(
  corrected: CorrectedPhoto,
  data: Pick<DataFolder, 'readObject'>,
  out: Pick<FreshFolder, 'write'>,
  { decoder, classMaps, cutter }: ExportTools,
): Promise<TrainingItem | null> {
  const { assessmentId, role, photoPxPerPixel, corrections } = corrected;
  const [photoFile, mapFile] = [
    await data.readObject(corrected.photoSha256),
    await data.readObject(corrected.mapSha256),
  ];
  if (photoFile === null || mapFile === null) return null;
  const decoding = await decoder.decode(photoFile);
  if (!decoding.ok) return null;
  const { raster } = decoding.value;
  const map = paintClassMap(
    await classMaps.read(mapFile),
    corrections.flatMap(({ marks }) => marks),
  );
  const box = zoneBox(map, photoPxPerPixel, raster);
  if (box === null) return null;
  const name = `${assessmentId}-${role}`;
  const cut = await cutter.cut(raster, map, box, photoPxPerPixel);
  await out.write(`${name}.png`, cut.photo);
  await out.write(`${name}-classes.png`, cut.mask);
  return {
    photo: `${name}.png`,
    mask: `${name}-classes.png`,
    widthPx: box.width,
    heightPx: box.height,
    mmPerPixel: corrected.mmPerPixel,
    photoSha256: corrected.photoSha256,
    assessmentId,
    role,
    programVersion: corrected.programVersion,
    corrections: corrections.map(({ id, madeAt }) => ({ id, madeAt })),
  };
}

/** The smallest upright box of photo pixels round the zone; null where the map shows no zone. */
export function zoneBox(
  { codes, width, height }: ClassMap,
  photoPxPerPixel: number,
  photo: { readonly width: number; readonly height: number },
): Box | null {
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let y = 0, index = 0; y < height; y++) {
    for (let x = 0; x < width; x++, index++) {
      if (codes[index] === OUTSIDE_CODE) continue;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  }
  if (right < 0) return null;
  const [x0, y0] = [Math.floor(left * photoPxPerPixel), Math.floor(top * photoPxPerPixel)];
  const x1 = Math.min(photo.width, Math.ceil((right + 1) * photoPxPerPixel));
  const y1 = Math.min(photo.height, Math.ceil((bottom + 1) * photoPxPerPixel));
  return { left: x0, top: y0, width: x1 - x0, height: y1 - y0 };
}
