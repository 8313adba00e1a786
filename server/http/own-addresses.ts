import { networkInterfaces } from 'node:os';
import type { Config } from '../config.ts';

type AddressOptions = Pick<Config, 'HOST' | 'PUBLIC_URL' | 'TLS_CERT_FILE'>;

const EVERYWHERE = new Set(['0.0.0.0', '::']);

/** How phones reach this machine: the public address, or its addresses on the networks it is on. */
export function ownAddresses(options: AddressOptions, port: number): readonly string[] {
  if (options.PUBLIC_URL !== undefined) return [options.PUBLIC_URL];
  const scheme = options.TLS_CERT_FILE === undefined ? 'http' : 'https';
  if (!EVERYWHERE.has(options.HOST)) return [`${scheme}://${options.HOST}:${port}`];
  const found = Object.values(networkInterfaces())
    .flatMap((entries) => entries ?? [])
    .filter((entry) => entry.family === 'IPv4' && !entry.internal)
    .map((entry) => `${scheme}://${entry.address}:${port}`);
  return found.length > 0 ? found : [`${scheme}://localhost:${port}`];
}
