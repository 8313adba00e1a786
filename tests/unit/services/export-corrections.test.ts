import sharp from 'sharp';
import type { OutputInfo } from 'sharp';
import { describe, expect, it } from 'vitest';
import { trainingCutter } from '../../../server/adapters/report/training-cutter.ts';
import { success } from '../../../server/domain/index.ts';
import { encodedRgbRaster } from '../../../server/measure/raster/rgb-raster.ts';
import { exportCorrections, zoneBox } from '../../../server/services/export-corrections.ts';
import type { ExportReport } from '../../../server/services/export-corrections.ts';
import type { CorrectedPhoto } from '../../../server/services/training-ports.ts';

const [OUT, RUST, BARE] = [255, 3, 1];
/** 4 x 3 map of a photo of 8 x 6 pixels: the zone is the middle two columns. */
const MAP = { width: 4, height: 3, codes: Uint8Array.from([0, 1, 2].flatMap(() => [OUT, RUST, RUST, OUT])) };
const PHOTO = encodedRgbRaster(
  8,
  6,
  Uint8Array.from({ length: 8 * 6 * 3 }, (_, i) => i),
);

const corrected = (id: string, consents: readonly boolean[]): CorrectedPhoto => ({
  assessmentId: id,
  role: 'after',
  photoSha256: 'photo',
  mapSha256: 'map',
  photoPxPerPixel: 2,
  mmPerPixel: 0.2,
  programVersion: '0.1.0',
  corrections: consents.map((mayTrain, index) => ({
    id: `${id}${index}`,
    madeAt: '2026-11-25T10:00:00.000Z',
    marks: [
      {
        kind: 'polygon',
        paint: 'bare',
        points: [
          [0, 0],
          [4, 0],
          [4, 1],
          [0, 1],
        ],
      },
    ],
    mayTrain,
  })),
});

async function run(photos: readonly CorrectedPhoto[], present: readonly string[] = ['photo', 'map']) {
  const files = new Map<string, Uint8Array>();
  const notes: unknown[] = [];
  const report: ExportReport = await exportCorrections(
    photos,
    {
      readObject: (sha256) => Promise.resolve(present.includes(sha256) ? new Uint8Array(1) : null),
      note: (act, details) => {
        notes.push([act, details]);
        return Promise.resolve();
      },
    },
    {
      write: (name, bytes) => {
        files.set(name, bytes);
        return Promise.resolve();
      },
    },
    {
      decoder: { decode: () => Promise.resolve(success({ raster: PHOTO, sha256: 'photo', takenAt: null })) },
      classMaps: { read: () => Promise.resolve(MAP) },
      cutter: trainingCutter(),
    },
  );
  return { report, files, notes };
}

const rawOf = (png: Uint8Array | undefined): Promise<{ data: Buffer; info: OutputInfo }> =>
  sharp(png).raw().toBuffer({ resolveWithObject: true });

describe('corrections as training data', () => {
  it('writes the zone of the photo and the corrected codes, a code a pixel', async () => {
    const { report, files } = await run([corrected('a', [true])]);
    expect(report.items).toMatchObject([{ widthPx: 4, heightPx: 6, mmPerPixel: 0.2, photo: 'a-after.png' }]);
    const photo = await rawOf(files.get('a-after.png'));
    expect(photo.info).toMatchObject({ width: 4, height: 6, channels: 3 });
    // First pixel of the zone is the photo's third.
    expect([...photo.data.subarray(0, 3)]).toEqual([6, 7, 8]);
    const mask = await sharp(files.get('a-after-classes.png')).extractChannel(0).raw().toBuffer();
    expect([...mask]).toEqual([BARE, BARE, RUST, RUST, RUST, RUST].flatMap((code) => Array<number>(4).fill(code)));
  });

  it('leaves out a map with one correction that nobody agreed to, and says how many', async () => {
    const { report, files, notes } = await run([corrected('a', [true, false]), corrected('b', [false])]);
    expect(report).toEqual({ items: [], withoutConsent: 2, unreadable: 0 });
    expect([...files.keys()]).toEqual(['manifest.json']);
    expect(notes).toEqual([['exported', { for: 'training the segmenter', maps: [] }]]);
  });

  it('notes in the log what leaves, and names nobody in the manifest', async () => {
    const { files, notes } = await run([corrected('a', [true])]);
    expect(notes).toEqual([['exported', { for: 'training the segmenter', maps: ['a after'] }]]);
    const manifest = JSON.parse(Buffer.from(files.get('manifest.json') ?? []).toString()) as object;
    expect(manifest).toMatchObject({ classes: { 'not measured': 0, bare: 1, rust: 3, outside: 255 } });
    expect(JSON.stringify(manifest)).not.toMatch(/madeBy|name"/);
  });

  it('counts what cannot be read', async () => {
    expect((await run([corrected('a', [true])], ['map'])).report).toMatchObject({ items: [], unreadable: 1 });
  });

  it('blanks what lies in the box but outside the zone', async () => {
    const codes = Uint8Array.from([RUST, OUT, OUT, RUST]);
    const map = { width: 2, height: 2, codes };
    const box = zoneBox(map, 1, { width: 2, height: 2 });
    expect(box).toEqual({ left: 0, top: 0, width: 2, height: 2 });
    const white = encodedRgbRaster(2, 2, new Uint8Array(12).fill(255));
    const { photo } = await trainingCutter().cut(white, map, box ?? { left: 0, top: 0, width: 1, height: 1 }, 1);
    const { data } = await rawOf(photo);
    expect([data[0], data[3], data[9]]).toEqual([255, 117, 255]);
  });

  it('finds no box where there is no zone', () => {
    expect(zoneBox({ width: 1, height: 1, codes: Uint8Array.of(OUT) }, 1, { width: 1, height: 1 })).toBeNull();
  });
});
