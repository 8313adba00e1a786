import { randomBytes } from 'node:crypto';
import { mkdir, open, readFile, stat } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { FileStore } from '@tus/file-store';
import { Server } from '@tus/server';
import type { UploadDesk, UploadLook } from '../../services/object-ports.ts';
import type { UploadDoor } from '../../services/upload-ports.ts';
import { flushFolder } from '../objects/write-safely.ts';
import { isUploadId, sweepUploads, uploadNotes } from './upload-notes.ts';

/** An upload that somebody else started is as good as absent. */
class AbsentUpload extends Error {
  readonly status_code = 404;
  readonly body = 'The upload is not there.\n';
}
const MOST_NAME_CHARACTERS = 200;

export interface TusUploadsOptions {
  readonly folder: string;
  /** Path of the upload endpoints. */
  readonly path: string;
  readonly mostBytes: { readonly photo: number; readonly bundle: number };
}

/** Resumable uploads as files in a folder. Source: [TUS]. */
export async function tusUploads(options: TusUploadsOptions): Promise<UploadDesk & UploadDoor> {
  const { folder } = options;
  await mkdir(folder, { recursive: true });
  const notes = uploadNotes(folder);
  const store = new FileStore({ directory: folder, configstore: notes });
  const callers = new WeakMap<IncomingMessage, string>();
  const ownerOf = async (id: string): Promise<string | null> => (await notes.get(id))?.metadata?.['owner'] ?? null;
  const server = new Server({
    path: options.path,
    datastore: store,
    maxSize: async (request, id) => {
      const known = id === null ? undefined : (await notes.get(id))?.metadata?.['filename'];
      return options.mostBytes[isBundle(known ?? announcedName(request)) ? 'bundle' : 'photo'];
    },
    relativeLocation: true,
    allowedOrigins: [],
    namingFunction: () => randomBytes(16).toString('hex'),
    onIncomingRequest: async (request, id) => {
      const owner = await ownerOf(id);
      if (owner !== null && owner !== callerOf(request, callers)) throw new AbsentUpload();
    },
    onUploadCreate: (request, upload) =>
      Promise.resolve({ metadata: { filename: fileName(upload.metadata), owner: callerOf(request, callers) } }),
    onUploadFinish: async (_request, upload) => {
      await flush(folder, upload.id);
      return {};
    },
  });
  return {
    async handle(request, response, personId) {
      callers.set(request, personId);
      await server.handle(request, response);
    },
    look: (uploadId, personId) => look(folder, { notes, uploadId, personId }),
    async remove(uploadId) {
      if (isUploadId(uploadId) && (await notes.get(uploadId)) !== undefined) await store.remove(uploadId);
    },
    sweep: (untouchedSince) => sweepUploads(folder, untouchedSince),
  };
}

function callerOf(request: object, callers: WeakMap<IncomingMessage, string>): string {
  const { runtime } = request as { runtime?: { node?: { req?: IncomingMessage } } };
  const caller = runtime?.node?.req === undefined ? undefined : callers.get(runtime.node.req);
  if (caller === undefined) throw new Error('Expected an upload request that came through the door');
  return caller;
}

const isBundle = (name: string): boolean => name.toLowerCase().endsWith('.zip');

/** The name in the header that opens an upload: `key base64` pairs with commas between. Source: [TUS]. */
function announcedName({ headers }: Request): string {
  const pairs = (headers.get('upload-metadata') ?? '').split(',').map((pair) => pair.trim().split(' '));
  const encoded = pairs.find(([key]) => key === 'filename')?.at(1) ?? '';
  return Buffer.from(encoded, 'base64').toString('utf8');
}

/** The last part of the name that the phone gives, on one line. */
function fileName(metadata: Record<string, string | null> | undefined): string {
  const name =
    (metadata?.['filename'] ?? '')
      .replace(/\p{Cc}/gu, '')
      .split(/[\\/]/)
      .pop() ?? '';
  return name.slice(0, MOST_NAME_CHARACTERS) || 'photo';
}

async function look(
  folder: string,
  { notes, uploadId, personId }: { notes: ReturnType<typeof uploadNotes>; uploadId: string; personId: string },
): Promise<UploadLook> {
  const note = await notes.get(uploadId);
  if (note === undefined || note.metadata?.['owner'] !== personId) return { state: 'unknown' };
  const path = join(folder, uploadId);
  const receivedBytes = (await stat(path)).size;
  if (receivedBytes !== note.size) return { state: 'arriving', receivedBytes, totalBytes: note.size ?? null };
  const name = note.metadata['filename'] ?? 'photo';
  return {
    state: 'finished',
    sizeBytes: receivedBytes,
    read: async () => ({ fileName: name, bytes: await readFile(path) }),
  };
}

/** An acknowledged upload lasts. */
async function flush(folder: string, id: string): Promise<void> {
  const file = await open(join(folder, id), 'r+');
  try {
    await file.sync();
  } finally {
    await file.close();
  }
  await flushFolder(folder);
}
