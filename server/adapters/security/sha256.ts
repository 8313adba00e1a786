import { createHash } from 'node:crypto';

/** Lower-case hexadecimal. */
export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
