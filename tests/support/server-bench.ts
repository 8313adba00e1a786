import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { pinoLog } from '../../server/adapters/observe/pino-log.ts';
import { readConfig } from '../../server/config.ts';
import { pathOf, ENDPOINTS } from '../../server/domain/api/endpoints.ts';
import type { EndpointName, RequestOf, ResponseOf } from '../../server/domain/api/endpoints.ts';
import type { Role } from '../../server/domain/api/roles.ts';
import { serve } from '../../server/http/serve.ts';
import type { ServeOptions } from '../../server/http/serve.ts';
import type { ServerAdapters } from '../../server/services/open-services.ts';
import { wireServer } from '../../server/wiring-server.ts';
import { misfitOf } from './open-api-check.ts';
import { scriptedAnalyst } from './scripted-analyst.ts';
import type { ScriptedAnalyst } from './scripted-analyst.ts';

export interface Answer<Body> {
  readonly status: number;
  readonly body: Body;
  readonly headers: Headers;
}
type Sent<Name extends EndpointName> = { readonly [Part in keyof RequestOf<Name>]?: RequestOf<Name>[Part] | undefined };

/** A caller of the server, with or without a session. Every JSON answer is checked against the published document. */
export interface Client {
  readonly personId: string | null;
  readonly token: string | null;
  call<Name extends EndpointName>(
    name: Name,
    sent?: Sent<Name>,
    headers?: Record<string, string>,
  ): Promise<Answer<ResponseOf<Name>>>;
  /** As above, for a part of the request or an answer that does not fit the types. */
  callLoosely(name: EndpointName, sent?: LooseParts, headers?: Record<string, string>): Promise<Answer<LooseBody>>;
  fetch(path: string, init?: RequestInit): Promise<Response>;
  /** Sends a file by the upload protocol, whole or in parts; answers the upload's id. */
  upload(bytes: Uint8Array, fileName?: string, partBytes?: number): Promise<string>;
}
interface LooseParts {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  readonly body?: unknown;
}
export type LooseBody = Record<string, unknown> & { code?: string; detail?: string };

export interface Bench {
  readonly url: string;
  readonly folder: string;
  readonly adapters: ServerAdapters;
  readonly analyst: ScriptedAnalyst;
  readonly logLines: readonly string[];
  readonly setupToken: string | null;
  anonymous(): Client;
  /** A person of a role, made and signed in without typing a password. */
  as(role: Role): Promise<Client>;
  stop(): Promise<void>;
}

export interface BenchOptions {
  readonly environment?: Readonly<Record<string, string>>;
  readonly limits?: ServeOptions['limits'];
  readonly isAnalysisReal?: boolean;
  readonly folder?: string;
}

const PLENTY = { perMinute: 1e6, doorPerMinute: 1e6 };

export async function openBench(options: BenchOptions = {}): Promise<Bench> {
  const folder = options.folder ?? (await mkdtemp(join(tmpdir(), 'bareplate-')));
  const config = readConfig({
    BAREPLATE_DATA_DIR: folder,
    BAREPLATE_HOST: '127.0.0.1',
    BAREPLATE_PORT: '0',
    BAREPLATE_DEMO: 'none',
    ...options.environment,
  });
  const wired = await wireServer(config);
  if (wired === null) throw new Error('Expected a data folder that nobody uses');
  const logLines: string[] = [];
  const analyst = scriptedAnalyst();
  const adapters: ServerAdapters = {
    ...wired,
    log: pinoLog('debug', lineSink(logLines)),
    ...(options.isAnalysisReal === true ? {} : { analyst }),
  };
  const serving = await serve(config, adapters, {
    programVersion: '0.0.0-test',
    clientFolder: join(folder, 'no-client'),
    limits: options.limits ?? PLENTY,
  });
  const clientOf = (token: string | null, personId: string | null): Client => makeClient(serving.url, token, personId);
  return {
    url: serving.url,
    folder,
    adapters,
    analyst,
    logLines,
    setupToken: serving.setupLink?.split('#')[1] ?? null,
    anonymous: () => clientOf(null, null),
    as: async (role) => {
      const { token, personId } = await makePerson(adapters, role);
      return clientOf(token, personId);
    },
    async stop() {
      await serving.stop();
      if (options.folder === undefined) await rm(folder, { recursive: true, force: true });
    },
  };
}

const lineSink = (lines: string[]): Writable =>
  new Writable({
    write(chunk: Buffer, _encoding, done) {
      lines.push(chunk.toString('utf8'));
      done();
    },
  });

/** A password hash that nothing verifies against: the person counts as able to sign in. */
const NO_PASSWORD = 'none';

async function makePerson(
  { ledger, tokens }: ServerAdapters,
  role: Role,
): Promise<{ token: string; personId: string }> {
  const [personId, token] = [tokens.newId(), tokens.newToken()];
  const at = new Date().toISOString();
  const name = `Test ${role}`;
  const person = { id: personId, name, signInName: `${role}-${personId}`, role, passwordHash: NO_PASSWORD };
  await ledger.people.add({ ...person, createdAt: at });
  await ledger.sessions.add({
    id: tokens.newId(),
    tokenHash: tokens.hashOf(token),
    personId,
    device: 'test bench',
    createdAt: at,
    lastSeenAt: at,
    expiresAt: new Date(Date.now() + 3_600_000).toISOString(),
  });
  return { token, personId };
}

function makeClient(url: string, token: string | null, personId: string | null): Client {
  const send = (path: string, init: RequestInit = {}): Promise<Response> =>
    fetch(`${url}${path}`, {
      ...init,
      headers: {
        origin: url,
        ...(token === null ? {} : { cookie: `bareplate=${token}` }),
        ...(init.headers as Record<string, string> | undefined),
      },
    });
  const callLoosely: Client['callLoosely'] = async (name, { params, query, body } = {}, headers = {}) => {
    const search = query === undefined ? '' : `?${new URLSearchParams(query).toString()}`;
    const response = await send(pathOf(name, params) + search, {
      method: ENDPOINTS[name].method.toUpperCase(),
      headers: { ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers },
      ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    return readAnswer(name, response);
  };
  return {
    personId,
    token,
    callLoosely,
    call: (name, sent = {}, headers = {}) => callLoosely(name, sent as LooseParts, headers) as never,
    fetch: send,
    upload: (bytes, fileName = 'photo.jpg', partBytes = bytes.byteLength) =>
      upload(send, { bytes, fileName, partBytes }),
  };
}

async function readAnswer(name: EndpointName, response: Response): Promise<Answer<LooseBody>> {
  const mediaType = (response.headers.get('content-type') ?? '').split(';')[0];
  const text = mediaType.endsWith('json') ? await response.text() : null;
  const body = text === null || text === '' ? undefined : (JSON.parse(text) as LooseBody);
  if (text === null) await response.arrayBuffer();
  const isUploadProtocol = 'isUpload' in ENDPOINTS[name];
  if (!isUploadProtocol && mediaType !== '') {
    const misfit = misfitOf(name, { status: response.status, mediaType, body });
    if (misfit !== null) throw new Error(`The answer does not fit the published document: ${misfit}`);
  }
  return { status: response.status, body: body as LooseBody, headers: response.headers };
}

type Send = (path: string, init?: RequestInit) => Promise<Response>;

async function upload(
  send: Send,
  { bytes, fileName, partBytes }: { bytes: Uint8Array; fileName: string; partBytes: number },
): Promise<string> {
  const creating = await send('/api/uploads', {
    method: 'POST',
    headers: {
      'tus-resumable': '1.0.0',
      'upload-length': String(bytes.byteLength),
      'upload-metadata': `filename ${Buffer.from(fileName).toString('base64')}`,
    },
  });
  const location = creating.headers.get('location');
  if (creating.status !== 201 || location === null) throw new Error(`The upload was refused: ${creating.status}`);
  for (let offset = 0; offset < bytes.byteLength; offset += partBytes) {
    const sending = await send(location, {
      method: 'PATCH',
      headers: {
        'tus-resumable': '1.0.0',
        'upload-offset': String(offset),
        'content-type': 'application/offset+octet-stream',
      },
      body: bytes.slice(offset, offset + partBytes),
    });
    if (sending.status !== 204) throw new Error(`A part of the upload was refused: ${sending.status}`);
  }
  return location.split('/').at(-1) ?? '';
}
