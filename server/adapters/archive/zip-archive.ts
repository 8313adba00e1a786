import type { Archive } from '../../services/evidence-ports.ts';
import { readZip } from './read-zip.ts';
import { writeZip } from './write-zip.ts';

export const zipArchive = (): Archive => ({ write: writeZip, read: readZip });
