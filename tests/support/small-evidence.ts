import sharp, { type Sharp } from 'sharp';
import { sha256 } from '../../server/adapters/security/sha256.ts';
import type { InspectionRecord, RecordPhoto } from '../../server/domain/index.ts';
import { canonicalJson } from '../../server/evidence/canonical-json.ts';
import { sealText } from '../../server/evidence/seal.ts';
import { TEST_KEY, goldenEvidence, goldenInspection } from './evidence-tools.ts';
import type { GoldenEvidence } from './evidence-tools.ts';

/** Photos and class maps are made this much smaller, so that thousands of checks stay quick. */
const SCALE = 0.2;

/** The golden record of the stern plate with small photos, named, placed and sealed anew. */
export async function smallEvidence(): Promise<GoldenEvidence> {
  const golden = goldenEvidence('stern-plate');
  const record = goldenInspection('stern-plate');
  const files = new Map<string, Buffer>();
  const keep = (path: string, bytes: Buffer): { path: string; sha256: string } => {
    files.set(path, bytes);
    return { path, sha256: sha256(bytes) };
  };
  const shrink = async (photo: RecordPhoto): Promise<RecordPhoto> => ({
    ...photo,
    file: keep(photo.file.path, await smaller(golden.files.get(photo.file.path)).jpeg({ quality: 70 }).toBuffer()),
    classMap:
      photo.classMap === null
        ? null
        : keep(
            photo.classMap.path,
            await smaller(golden.files.get(photo.classMap.path)).toColourspace('b-w').png().toBuffer(),
          ),
    surface: photo.surface === null ? null : smallerSurface(photo.surface),
  });
  const [round] = record.rounds;
  const small: InspectionRecord = {
    ...record,
    rounds: [
      { ...round, before: round.before === null ? null : await shrink(round.before), after: await shrink(round.after) },
    ],
  };
  files.set(record.card.file.path, present(golden.files.get(record.card.file.path)));
  return { sealed: sealText(canonicalJson(small), { key: TEST_KEY, sha256 }), files };
}

function smaller(file: Buffer | undefined): Sharp {
  return sharp(present(file)).resize(480, 360, { fit: 'fill', kernel: 'nearest' });
}

function smallerSurface({ toIdealPx, lens, zoneMm }: NonNullable<RecordPhoto['surface']>): RecordPhoto['surface'] {
  return {
    zoneMm,
    toIdealPx: toIdealPx.map((element, at) => (at < 6 ? SCALE * element : element)),
    lens: {
      bend: lens.bend,
      centrePx: [SCALE * lens.centrePx[0], SCALE * lens.centrePx[1]],
      halfDiagonalPx: SCALE * lens.halfDiagonalPx,
    },
  };
}

function present(file: Buffer | undefined): Buffer {
  if (file === undefined) throw new Error('Expected the golden record to have this file');
  return file;
}
