import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import SqliteFile from 'better-sqlite3';

/** Zones that the made-up assessments belong to: two hundred to a job. */
const ASSESSMENTS_PER_ZONE = 50;
/** Connections stay alive in between. */
const ROWS_AT_ONCE = 4000;

/** Writes made-up, finished assessments straight into the database of a running server. */
export async function fillLedger(folder: string, count: number): Promise<void> {
  const db = new SqliteFile(join(folder, 'ledger.db'), { timeout: 10_000 });
  const at = (i: number): string => new Date(1_700_000_000_000 + i * 61_000).toISOString();
  const photoId = randomUUID();
  db.exec('begin immediate');
  db.prepare(
    `insert into photos (id, sha256, file_name, media_type, size_bytes, width_px, height_px, added_at)
     values (?, ?, 'x.jpg', 'image/jpeg', 1, 640, 480, ?)`,
  ).run(photoId, 'c'.repeat(64), at(0));
  const addJob = db.prepare(`insert into jobs values (?, ?, '', '', 0, 0, ?, null, ?, ?)`);
  const addZone = db.prepare(
    `insert into zones values (?, ?, ?, '', '', null, null, null, null, ?, 0, 'in work', ?, null, ?, ?)`,
  );
  const addRound = db.prepare(
    `insert into rounds values (?, ?, 1, null, null, null, null, null, null, '', null, null, ?, null, ?, null, ?)`,
  );
  const addAssessment = db.prepare(
    `insert into assessments (id, job_id, zone_id, round_id, state, queued_at, finished_at, after_photo_id, basis_json,
       program_version, residue_value, residue_low, residue_high)
     values (?, ?, ?, ?, 'done', ?, ?, ?, '{}', '1', ?, ?, ?)`,
  );
  let [jobId, zoneId, roundId] = ['', '', ''];
  for (let i = 0; i < count; i++) {
    if (i % ROWS_AT_ONCE === ROWS_AT_ONCE - 1) {
      db.exec('commit');
      await setImmediate();
      db.exec('begin immediate');
    }
    if (i % (200 * ASSESSMENTS_PER_ZONE) === 0) {
      jobId = randomUUID();
      addJob.run(jobId, `Teasel ${i}`, at(i), at(i), `teasel ${i}`);
    }
    if (i % ASSESSMENTS_PER_ZONE === 0) {
      [zoneId, roundId] = [randomUUID(), randomUUID()];
      const name = `zone ${String(i / ASSESSMENTS_PER_ZONE).padStart(4, '0')}`;
      addZone.run(zoneId, jobId, name, randomUUID().slice(0, 8), at(i), at(i), `${name} teasel ${i}`);
      addRound.run(roundId, zoneId, photoId, at(i), at(i));
    }
    const residue = ((i * 7919) % 1000) / 1000;
    addAssessment.run(randomUUID(), jobId, zoneId, roundId, at(i), at(i), photoId, residue, residue, residue);
  }
  db.exec('commit');
  db.close();
}
