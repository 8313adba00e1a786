import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative, sep } from 'node:path';
import { promisify } from 'node:util';
import { gzip } from 'node:zlib';
import type { RequestHandler } from 'express';

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.txt': 'text/plain; charset=utf-8',
};
const SQUEEZED = new Set(['.html', '.js', '.css', '.json', '.webmanifest', '.svg', '.txt', '.ttf']);

interface ClientFile {
  readonly mediaType: string;
  readonly bytes: Buffer;
  readonly squeezed: Buffer | null;
  readonly tag: string;
}

/**
 * Serves the built client from memory: what can be asked for is the list of files that were there at the start, so no
 * request ever becomes a path. Any other page is the client's own affair and gets its first page.
 */
export async function clientFiles(folder: string): Promise<RequestHandler> {
  const files = await readClient(folder);
  const start = files.get('/index.html');
  return (request, response, next) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      next();
      return;
    }
    const isPage = extname(request.path) === '';
    const file = files.get(request.path) ?? (isPage ? start : undefined);
    if (file === undefined) {
      if (isPage && start === undefined) response.status(200).type('text').send(NOT_BUILT);
      else next();
      return;
    }
    const isHashed = request.path.startsWith('/assets/');
    response.setHeader('Content-Type', file.mediaType);
    response.setHeader('Cache-Control', isHashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    response.setHeader('ETag', file.tag);
    response.vary('Accept-Encoding');
    if (file.squeezed !== null && request.acceptsEncodings('gzip') === 'gzip') {
      response.setHeader('Content-Encoding', 'gzip');
      response.send(file.squeezed);
    } else response.send(file.bytes);
  };
}

const NOT_BUILT = 'Bareplate is running, but its pages are not built yet: run "npm run build", then start again.\n';

async function readClient(folder: string): Promise<ReadonlyMap<string, ClientFile>> {
  const files = new Map<string, ClientFile>();
  for (const path of await listFiles(folder)) {
    const bytes = await readFile(path);
    const kind = extname(path);
    files.set(`/${relative(folder, path).split(sep).join('/')}`, {
      bytes,
      mediaType: MEDIA_TYPES[kind] ?? 'application/octet-stream',
      squeezed: SQUEEZED.has(kind) ? await promisify(gzip)(bytes, { level: 9 }) : null,
      tag: `"${createHash('sha256').update(bytes).digest('base64url').slice(0, 22)}"`,
    });
  }
  return files;
}

async function listFiles(folder: string): Promise<string[]> {
  try {
    const entries = await readdir(folder, { withFileTypes: true, recursive: true });
    return entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}
