import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { RequestListener, Server } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import type { Config } from '../config.ts';

/** A part of a photo may come over a poor link; whoever sends headers slower than this is up to something. */
const REQUEST_TIMEOUT_MS = 10 * 60_000;
const HEADERS_TIMEOUT_MS = 30_000;

export type ListenOptions = Pick<Config, 'HOST' | 'PORT' | 'TLS_CERT_FILE' | 'TLS_KEY_FILE'>;

export interface Listening {
  readonly server: Server;
  readonly port: number;
}

/** Opens the port, with the shop's own certificate where there is one. */
export async function listen(listener: RequestListener, options: ListenOptions): Promise<Listening> {
  const { TLS_CERT_FILE: cert, TLS_KEY_FILE: key } = options;
  const server =
    cert === undefined || key === undefined
      ? createServer(listener)
      : createTlsServer({ cert: await readFile(cert), key: await readFile(key) }, listener);
  server.requestTimeout = REQUEST_TIMEOUT_MS;
  server.headersTimeout = HEADERS_TIMEOUT_MS;
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.PORT, options.HOST, () => {
      server.off('error', reject);
      resolve();
    });
  });
  return { server, port: (server.address() as AddressInfo).port };
}

/** Lets requests end, but not for ever: streams of events would. */
export async function stopListening(server: Server, graceMs: number): Promise<void> {
  const closed = new Promise<void>((resolve) =>
    server.close(() => {
      resolve();
    }),
  );
  server.closeIdleConnections();
  const timer = setTimeout(() => {
    server.closeAllConnections();
  }, graceMs);
  await closed;
  clearTimeout(timer);
}
