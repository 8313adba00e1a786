import SqliteFile from 'better-sqlite3';
import { z } from 'zod';
import { paintMarkSchema } from '../../domain/api/corrections.ts';
import { PHOTO_ROLES } from '../../domain/api/photos.ts';
import type { CorrectedPhoto, TaughtCorrection } from '../../services/training-ports.ts';

interface Row {
  readonly id: string;
  readonly assessmentId: string;
  readonly role: string;
  readonly marks: string;
  readonly madeAt: string;
  readonly mayTrain: number;
  readonly photoSha256: string;
  readonly map: string;
  readonly mmPerPixel: number | null;
  readonly programVersion: string;
}

const marksSchema = z.array(paintMarkSchema);
const mapSchema = z.object({ sha256: z.string(), photoPxPerPixel: z.number() });

/** Class maps with corrections that stand, from a ledger that a server may be writing to. */
export function listCorrectedPhotos(ledgerPath: string): CorrectedPhoto[] {
  const file = new SqliteFile(ledgerPath, { fileMustExist: true, readonly: true });
  try {
    const columns = file.prepare(`pragma table_info(corrections)`).all() as { name: string }[];
    // A ledger of an earlier version asked nobody.
    const consent = columns.some(({ name }) => name === 'may_train') ? 'may_train' : '0';
    const rows = file.prepare(selectWith(consent)).all() as Row[];
    return grouped(rows);
  } finally {
    file.close();
  }
}

const selectWith = (consent: string): string => `
  select corrections.id as id, corrections.assessment_id as assessmentId, corrections.map as role, marks_json as marks,
    made_at as madeAt, ${consent} as mayTrain, photos.sha256 as photoSha256, program_version as programVersion,
    case corrections.map when 'before' then before_map_json else after_map_json end as map,
    json_extract(result_json, '$.photos.' || corrections.map || '.card.mmPerPixel') as mmPerPixel
  from corrections
  join assessments on assessments.id = corrections.assessment_id
  join assessment_results on assessment_results.assessment_id = assessments.id
  join photos on photos.id = case corrections.map when 'before' then before_photo_id else after_photo_id end
  where withdrawn_at is null and (case corrections.map when 'before' then before_map_json else after_map_json end) is not null
  order by corrections.assessment_id, corrections.map, made_at, corrections.id`;

function grouped(rows: readonly Row[]): CorrectedPhoto[] {
  const photos = new Map<string, CorrectedPhoto & { corrections: TaughtCorrection[] }>();
  for (const row of rows) {
    const key = `${row.assessmentId} ${row.role}`;
    const { sha256, photoPxPerPixel } = mapSchema.parse(JSON.parse(row.map));
    const photo = photos.get(key) ?? {
      assessmentId: row.assessmentId,
      role: z.enum(PHOTO_ROLES).parse(row.role),
      photoSha256: row.photoSha256,
      mapSha256: sha256,
      photoPxPerPixel,
      mmPerPixel: row.mmPerPixel,
      programVersion: row.programVersion,
      corrections: [],
    };
    const marks = marksSchema.parse(JSON.parse(row.marks));
    photo.corrections.push({ id: row.id, madeAt: row.madeAt, marks, mayTrain: row.mayTrain === 1 });
    photos.set(key, photo);
  }
  return [...photos.values()];
}
