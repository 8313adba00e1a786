import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const MAIN = fileURLToPath(new URL('../../server/main.ts', import.meta.url));
const PASSWORD = 'kill nine thirty times';
const TUS = { 'tus-resumable': '1.0.0' };

/** One session's way to the server. */
export type Phone = Pick<OwnServer, 'call' | 'upload' | 'beginUpload' | 'goOnUploading' | 'makeZone'>;

/** A server in a process of its own, with its first administrator signed in. */
export interface OwnServer {
  readonly pid: number;
  readonly folder: string;
  /** JSON in, JSON out. Throws for anything but success. */
  call(method: string, path: string, body?: unknown): Promise<Record<string, unknown>>;
  fetch(path: string): Promise<Response>;
  /** Sends a file in parts; answers the upload's id. */
  upload(bytes: Uint8Array, partBytes: number): Promise<string>;
  /** Announces a file; answers the upload's id. */
  beginUpload(bytes: Uint8Array): Promise<string>;
  /** Sends what the server has not got yet, in parts with a rest before each. Answers where it began; null when the upload is not there. */
  goOnUploading(uploadId: string, bytes: Uint8Array, pace: UploadPace): Promise<number | null>;
  makeZone(): Promise<string>;
  /** All that it has printed and logged. */
  said(): string;
  /** The same person on another phone: a session of its own. */
  signInAgain(): Promise<Phone>;
  kill(): Promise<void>;
  /** Lets it end by itself; the folder stays. Answers its exit code, null when a signal ended it. */
  end(): Promise<number | null>;
  /** Ends it and removes its folder. */
  stop(): Promise<void>;
}

export interface UploadPace {
  readonly partBytes: number;
  readonly restMs: number;
}

export interface OwnServerOptions {
  readonly folder: string;
  /** Cookie of the administrator, when the folder has one already. */
  readonly cookie: string;
}

/** Starts a server on a fresh folder, or again on one that another left. */
export async function startOwnServer(
  environment: Readonly<Record<string, string>>,
  again?: OwnServerOptions,
): Promise<OwnServer & { readonly cookie: string }> {
  const folder = again?.folder ?? (await mkdtemp(join(tmpdir(), 'bareplate-own-')));
  const child = spawn(process.execPath, ['--import', 'tsx', MAIN], {
    env: {
      PATH: process.env['PATH'],
      BAREPLATE_DATA_DIR: folder,
      BAREPLATE_HOST: '127.0.0.1',
      BAREPLATE_PORT: '0',
      BAREPLATE_SEGMENTER: 'colour',
      BAREPLATE_LOG_LEVEL: 'warn',
      ...environment,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const said = listenTo(child.stdout, child.stderr);
  const greeting = await readGreeting(child.stdout, said);
  const end = async (signal: NodeJS.Signals): Promise<number | null> => {
    if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
    const exit = once(child, 'exit');
    child.kill(signal);
    await exit;
    return child.exitCode;
  };
  const cookie = again?.cookie ?? (await makeAdministrator(greeting));
  return {
    cookie,
    folder,
    pid: child.pid ?? 0,
    said,
    fetch: (path) => fetch(greeting.url + path, { headers: { cookie } }),
    ...phoneAt({ url: greeting.url, cookie, said }),
    signInAgain: async () => phoneAt({ url: greeting.url, cookie: await signIn(greeting.url), said }),
    async kill() {
      await end('SIGKILL');
    },
    end: () => end('SIGTERM'),
    async stop() {
      await end('SIGTERM');
      await rm(folder, { recursive: true, force: true });
    },
  };
}

interface Greeting {
  readonly url: string;
  readonly setupToken: string | null;
}

function listenTo(...streams: readonly NodeJS.ReadableStream[]): () => string {
  let text = '';
  for (const stream of streams) stream.on('data', (chunk: Buffer) => (text += chunk.toString()));
  return () => text;
}

async function readGreeting(stdout: NodeJS.ReadableStream, said: () => string): Promise<Greeting> {
  return new Promise((resolve, reject) => {
    stdout.on('data', () => {
      const url = /open at (http:\/\/\S+)/.exec(said())?.[1];
      if (url !== undefined && said().includes('Stop with')) {
        resolve({ url, setupToken: /setup#(\S{43})/.exec(said())?.[1] ?? null });
      }
    });
    stdout.once('end', () => {
      reject(new Error(`The server did not start:\n${said()}`));
    });
  });
}

interface Place {
  readonly url: string;
  readonly cookie: string;
  /** What the server has printed, for the message of a call that failed. */
  readonly said: () => string;
}

function phoneAt(place: Place): Phone {
  const call: Phone['call'] = (method, path, body) => callJson(place, [method, path, body]);
  return {
    call,
    async upload(bytes, partBytes) {
      const uploadId = await beginUpload(place, bytes);
      await sendParts(place, { uploadId, bytes, from: 0 }, { partBytes, restMs: 0 });
      return uploadId;
    },
    beginUpload: (bytes) => beginUpload(place, bytes),
    goOnUploading: (uploadId, bytes, pace) => goOnUploading(place, { uploadId, bytes }, pace),
    async makeZone() {
      const job = await call('POST', '/api/jobs', { name: 'Workboat Teasel' });
      const zone = await call('POST', `/api/jobs/${String(job['id'])}/zones`, { name: 'Stern plate' });
      return String(zone['id']);
    },
  };
}

async function signIn(url: string): Promise<string> {
  const response = await fetch(`${url}/api/session`, {
    method: 'POST',
    headers: { origin: url, 'content-type': 'application/json' },
    body: JSON.stringify({ signInName: 'test', password: PASSWORD }),
  });
  if (!response.ok) throw new Error(`A phone was not let in: ${await response.text()}`);
  return (response.headers.get('set-cookie') ?? '').split(';')[0];
}

async function makeAdministrator({ url, setupToken }: Greeting): Promise<string> {
  const response = await fetch(`${url}/api/setup`, {
    method: 'POST',
    headers: { origin: url, 'content-type': 'application/json' },
    body: JSON.stringify({ token: setupToken, name: 'Test', signInName: 'test', password: PASSWORD }),
  });
  if (response.status !== 201) throw new Error(`The first administrator was refused: ${await response.text()}`);
  return (response.headers.get('set-cookie') ?? '').split(';')[0];
}

async function callJson(
  { url, cookie, said }: Place,
  [method, path, body]: readonly [string, string, unknown],
): Promise<Record<string, unknown>> {
  const response = await fetch(url + path, {
    method,
    headers: { origin: url, cookie, ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await response.text();
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${text}\n${said().slice(-2000)}`);
  return (text === '' ? {} : JSON.parse(text)) as Record<string, unknown>;
}

const headersOf = ({ url, cookie }: Place): Record<string, string> => ({ origin: url, cookie, ...TUS });

async function beginUpload(place: Place, bytes: Uint8Array): Promise<string> {
  const created = await fetch(`${place.url}/api/uploads`, {
    method: 'POST',
    headers: { ...headersOf(place), 'upload-length': String(bytes.byteLength) },
  });
  const location = created.headers.get('location');
  if (location === null) throw new Error(`The upload was refused: ${created.status}`);
  return location.split('/').at(-1) ?? '';
}

async function goOnUploading(
  place: Place,
  { uploadId, bytes }: { uploadId: string; bytes: Uint8Array },
  pace: UploadPace,
): Promise<number | null> {
  const headers = headersOf(place);
  const looked = await fetch(`${place.url}/api/uploads/${uploadId}`, { method: 'HEAD', headers });
  if (looked.status === 404) return null;
  const from = Number(looked.headers.get('upload-offset') ?? Number.NaN);
  if (!looked.ok || Number.isNaN(from)) throw new Error(`The upload cannot be looked at: ${looked.status}`);
  await sendParts(place, { uploadId, bytes, from }, pace);
  return from;
}

async function sendParts(
  place: Place,
  { uploadId, bytes, from }: { uploadId: string; bytes: Uint8Array; from: number },
  { partBytes, restMs }: UploadPace,
): Promise<void> {
  for (let offset = from; offset < bytes.byteLength; offset += partBytes) {
    if (restMs > 0) await pause(restMs);
    const sent = await fetch(`${place.url}/api/uploads/${uploadId}`, {
      method: 'PATCH',
      headers: {
        ...headersOf(place),
        'upload-offset': String(offset),
        'content-type': 'application/offset+octet-stream',
      },
      body: new Uint8Array(bytes.subarray(offset, offset + partBytes)),
    });
    if (sent.status !== 204) throw new Error(`A part of the upload was refused: ${sent.status}`);
  }
}
