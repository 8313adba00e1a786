import type { EvidenceStore } from './evidence-ports.ts';
import type { ObjectStore } from './object-ports.ts';

/** Objects that a record names; a file that is gone is told, not thrown. */
export const evidenceStore = (objects: Pick<ObjectStore, 'open' | 'read'>): EvidenceStore => ({
  async read(sha256) {
    const file = await objects.open(sha256);
    if (file === null) return null;
    file.stream.destroy();
    return objects.read(sha256);
  },
});
