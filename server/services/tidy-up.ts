import type { Sha256 } from '../evidence/ports.ts';
import { forgetJobs } from './forget-jobs.ts';
import type { Ledger } from './ledger.ts';
import { DAY_MS, HOUR_MS, momentOf } from './moments.ts';
import type { ObjectStore, PhotoPictures, UploadDesk } from './object-ports.ts';
import type { Log } from './observe-ports.ts';
import type { Clock } from './people-ports.ts';

export interface TidyPorts {
  readonly ledger: Pick<Ledger, 'photos' | 'sessions' | 'namedObjects' | 'jobs' | 'shop' | 'transact'>;
  readonly objects: Pick<ObjectStore, 'sweep'>;
  readonly uploads: Pick<UploadDesk, 'sweep'>;
  readonly pictures: Pick<PhotoPictures, 'sweep'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
  readonly log: Log;
}

/** Uploads that nobody went on with, and photos that nothing shows, are kept this long. */
const FORGOTTEN_AFTER_MS = 7 * DAY_MS;
/** While requests run, a file may stand for a moment before the row that names it. */
const GRACE_MS = HOUR_MS;

/**
 * Removes what belongs to nothing: half files of a process that died, objects without a row, old uploads, ended sessions.
 * @param isQuiet no request is being answered, so nothing is on its way
 */
export async function tidyUp(ports: TidyPorts, isQuiet: boolean): Promise<void> {
  const { ledger, objects, uploads, pictures, clock, log } = ports;
  const now = clock.now();
  await ledger.sessions.removeExpired(momentOf(now));
  const forgottenJobs = await forgetJobs(ports);
  await ledger.photos.removeUnused(momentOf(now - FORGOTTEN_AFTER_MS));
  const removedUploads = await uploads.sweep(now - FORGOTTEN_AFTER_MS);
  const named = await ledger.namedObjects();
  const removedObjects = await objects.sweep(named, isQuiet ? Number.POSITIVE_INFINITY : now - GRACE_MS);
  if (isQuiet) await pictures.sweep(named);
  if (removedObjects + removedUploads + forgottenJobs > 0) {
    log.info('Tidied up', { removedObjects, removedUploads, forgottenJobs });
  }
}
