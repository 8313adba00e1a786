import { Buffer } from 'node:buffer';
import { request as rawRequest } from 'node:http';
import { deflateSync, gzipSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BROKEN_FIXTURE_NAMES, fixture } from '../../fixtures/index.ts';
import { openBench } from '../support/server-bench.ts';
import type { Answer, Bench, Client, LooseBody } from '../support/server-bench.ts';
import { addTeaselRound, smallPhoto } from '../support/teasel-round.ts';
import { pngChunk } from '../../fixtures/generate/photo-files/byte-surgery.ts';

let bench: Bench;
let operator: Client;
beforeAll(async () => {
  bench = await openBench();
  operator = await bench.as('operator');
});
afterAll(() => bench.stop());

const addPhoto = async (bytes: Uint8Array, name = 'photo.jpg'): Promise<Answer<LooseBody>> =>
  operator.callLoosely('addPhoto', { body: { uploadId: await operator.upload(bytes, name) } });

describe('requests from elsewhere', () => {
  const foreign = [
    ['another site', { origin: 'https://evil.example' }],
    ['another port of this host', { origin: 'http://127.0.0.1:1' }],
    ['a page without an origin', { origin: 'null' }],
    ['a host that only begins alike', { origin: 'http://127.0.0.1.evil.example' }],
  ] as const;

  it.each(foreign)('are refused from %s', async (_name, headers) => {
    const answer = await operator.callLoosely('addJob', { body: { name: 'x' } }, headers);
    expect(answer).toMatchObject({ status: 403, body: { code: 'origin-foreign' } });
    const upload = await operator.callLoosely('startUpload', {}, { ...headers, 'tus-resumable': '1.0.0' });
    expect(upload.status).toBe(403);
    const door = await bench.anonymous().callLoosely('signIn', { body: { signInName: 'a', password: 'b' } }, headers);
    expect(door.status).toBe(403);
  });

  it('are refused when they do not say where from', async () => {
    const send = (headers: Record<string, string>): Promise<number> =>
      new Promise((resolve, reject) => {
        const cookie = `bareplate=${operator.token ?? ''}`;
        const request = rawRequest(
          `${bench.url}/api/jobs`,
          { method: 'POST', headers: { cookie, 'content-type': 'application/json', ...headers } },
          (response) => {
            response.resume();
            resolve(response.statusCode ?? 0);
          },
        );
        request.once('error', reject).end('{"name":"From the same page"}');
      });
    expect(await send({})).toBe(403);
    expect(await send({ 'sec-fetch-site': 'cross-site' })).toBe(403);
    expect(await send({ 'sec-fetch-site': 'same-origin' })).toBe(201);
  });

  it('cannot read answers, frame pages or run scripts of their own', async () => {
    const response = await operator.fetch('/api/jobs', { headers: { origin: 'https://evil.example' } });
    expect(response.headers.get('access-control-allow-origin')).toBeNull();
    const policy = response.headers.get('content-security-policy') ?? '';
    for (const part of ["default-src 'self'", "script-src 'self'", "frame-ancestors 'none'", "object-src 'none'"]) {
      expect(policy).toContain(part);
    }
    expect(policy).not.toContain('unsafe-eval');
    expect(response.headers.get('x-content-type-options')).toBe('nosniff');
    expect(response.headers.get('x-powered-by')).toBeNull();
  });
});

describe('paths', () => {
  const TRAVERSALS = [
    '../ledger.db',
    '..%2Fledger.db',
    '..%5c..%5cledger.db',
    '%2e%2e%2fledger.db',
    '....//ledger.db',
    '%00',
  ];

  it.each(TRAVERSALS)('of uploads and photos never leave their place (%s)', async (text) => {
    const headers = { 'tus-resumable': '1.0.0' };
    const head = await operator.fetch(`/api/uploads/${text}`, { method: 'HEAD', headers });
    expect([400, 404]).toContain(head.status);
    const removed = await operator.fetch(`/api/uploads/${text}`, { method: 'DELETE', headers });
    expect([400, 403, 404]).toContain(removed.status);
    const tile = await operator.fetch(`/api/photos/${text}/tiles/0/0/0`);
    expect([400, 404]).toContain(tile.status);
    const page = await operator.fetch(`/${text}`);
    expect(await page.text()).not.toContain('SQLite format');
    const attached = await operator.callLoosely('addPhoto', { body: { uploadId: text } });
    expect(attached.status).toBe(404);
    expect((await operator.call('listJobs')).status).toBe(200);
  });

  it('keep the name of a file but never use it', async () => {
    const stored = await addPhoto(await smallPhoto(90), '../../../etc/stern "plate"\r\nx: y.jpg');
    expect(stored.status).toBe(201);
    expect(stored.body['fileName']).toBe('stern "plate"x: y.jpg');
    const original = await operator.fetch(`/api/photos/${String(stored.body['id'])}/original`);
    expect(original.headers.get('content-disposition')).toContain('attachment');
    expect(original.headers.get('x')).toBeNull();
    expect(Buffer.from(await original.arrayBuffer())).toEqual(await smallPhoto(90));
  });
});

describe('files', () => {
  it.each(BROKEN_FIXTURE_NAMES)('that are broken are refused with a sentence (%s)', async (name) => {
    const bytes = fixture(name).read();
    if (bytes.byteLength === 0) return;
    const answer = await addPhoto(bytes, name);
    expect([413, 415, 422]).toContain(answer.status);
    expect(answer.body.code).toMatch(/^(photo|file)-/);
    expect(answer.body.detail?.length).toBeGreaterThan(20);
  });

  it.each([
    ['a page', '<!doctype html><script>alert(1)</script>'],
    ['a drawing', '<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'],
    ['a program', '#!/bin/sh\necho hello'],
    ['a document', '%PDF-1.7\n1 0 obj\n<<>>\nendobj'],
  ])('of the wrong type are refused whatever they are called (%s)', async (_name, text) => {
    const answer = await addPhoto(Buffer.from(text.padEnd(200)), 'stern-plate.jpg');
    expect(answer).toMatchObject({ status: 415, body: { code: 'photo-wrong-type' } });
  });

  it('that would unpack to gigabytes are refused before they are unpacked', async () => {
    const before = process.memoryUsage().rss;
    const began = performance.now();
    const answer = await addPhoto(hugePng(60_000, 60_000));
    expect(answer).toMatchObject({ status: 413, body: { code: 'photo-too-large' } });
    expect(performance.now() - began).toBeLessThan(2000);
    expect(process.memoryUsage().rss - before).toBeLessThan(300e6);
  });

  it('that are larger than the limit are refused before they are sent', async () => {
    const headers = { 'tus-resumable': '1.0.0', 'upload-length': String(64 * 1024 * 1024 + 1) };
    const answer = await operator.fetch('/api/uploads', { method: 'POST', headers });
    expect(answer.status).toBe(413);
  });

  it('whose length is not told cannot grow past the limit', async () => {
    const small = await openBench();
    try {
      const client = await small.as('operator');
      const headers = { 'tus-resumable': '1.0.0', 'upload-defer-length': '1' };
      const created = await client.fetch('/api/uploads', { method: 'POST', headers });
      const location = created.headers.get('location') ?? '';
      const answer = await client.fetch(location, {
        method: 'PATCH',
        headers: {
          'tus-resumable': '1.0.0',
          'upload-offset': '0',
          'upload-length': String(1e12),
          'content-type': 'application/offset+octet-stream',
        },
        body: Buffer.alloc(1000),
      });
      expect(answer.status).toBe(413);
    } finally {
      await small.stop();
    }
  });

  it('that have not arrived whole are not taken', async () => {
    const bytes = await smallPhoto(91);
    const headers = { 'tus-resumable': '1.0.0', 'upload-length': String(bytes.byteLength) };
    const created = await operator.fetch('/api/uploads', { method: 'POST', headers });
    const location = created.headers.get('location') ?? '';
    const uploadId = location.split('/').at(-1) ?? '';
    await operator.fetch(location, {
      method: 'PATCH',
      headers: { 'tus-resumable': '1.0.0', 'upload-offset': '0', 'content-type': 'application/offset+octet-stream' },
      body: new Uint8Array(bytes.subarray(0, 500)),
    });
    const early = await operator.callLoosely('addPhoto', { body: { uploadId } });
    expect(early).toMatchObject({ status: 409, body: { code: 'upload-unfinished', numbers: { receivedBytes: 500 } } });
    const looked = await operator.fetch(location, { method: 'HEAD', headers: { 'tus-resumable': '1.0.0' } });
    expect(looked.headers.get('upload-offset')).toBe('500');
    await operator.fetch(location, {
      method: 'PATCH',
      headers: { 'tus-resumable': '1.0.0', 'upload-offset': '500', 'content-type': 'application/offset+octet-stream' },
      body: new Uint8Array(bytes.subarray(500)),
    });
    const stored = await operator.callLoosely('addPhoto', { body: { uploadId } });
    expect(stored.status).toBe(201);
    const again = await operator.callLoosely('addPhoto', { body: { uploadId } });
    expect(again.body['id']).toBe(stored.body['id']);
  });

  it('of another person cannot be seen, continued, removed or taken', async () => {
    const uploadId = await operator.upload(await smallPhoto(92));
    const other = await bench.as('administrator');
    const headers = { 'tus-resumable': '1.0.0' };
    for (const method of ['HEAD', 'DELETE']) {
      expect((await other.fetch(`/api/uploads/${uploadId}`, { method, headers })).status).toBe(404);
    }
    expect(await other.callLoosely('addPhoto', { body: { uploadId } })).toMatchObject({ status: 404 });
    expect((await operator.callLoosely('addPhoto', { body: { uploadId } })).status).toBe(201);
  });
});

describe('bodies', () => {
  it('that are too large, not JSON or packed are refused', async () => {
    const large = await operator.callLoosely('addJob', { body: { name: 'x', note: 'y'.repeat(300_000) } });
    expect(large).toMatchObject({ status: 413, body: { code: 'body-too-large' } });
    const form = await operator.callLoosely(
      'addJob',
      { body: 'name=x' },
      { 'content-type': 'application/x-www-form-urlencoded' },
    );
    expect(form).toMatchObject({ status: 415, body: { code: 'body-wrong-type' } });
    const packed = await operator.fetch('/api/jobs', {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'content-encoding': 'gzip' },
      body: gzipSync(Buffer.alloc(50_000_000, 32)),
    });
    expect(packed.status).toBe(415);
  });

  it('cannot smuggle in properties of their own', async () => {
    const answer = await operator.callLoosely('addJob', { body: '{"name":"x","__proto__":{"isInvented":true}}' });
    expect([201, 400]).toContain(answer.status);
    if (answer.status === 201) expect(answer.body['isInvented']).toBe(false);
    expect(({} as Record<string, unknown>)['isInvented']).toBeUndefined();
  });

  it('are taken as text wherever they go', async () => {
    const name = `Teasel'); drop table jobs; -- <script>alert(1)</script>`;
    const job = await operator.call('addJob', { body: { name } });
    expect(job.body.name).toBe(name);
    const found = await operator.call('listJobs', { query: { q: `'); drop table` } });
    expect(found.body.items.map((item) => item.id)).toEqual([job.body.id]);
    const zone = await operator.call('addZone', { params: { jobId: job.body.id }, body: { name } });
    const label = await operator.fetch(`/api/zones/${zone.body.id}/label.svg`);
    expect(await label.text()).not.toContain('<script>');
  });
});

describe('problems', () => {
  it('carry a number that the log knows, and never a stack', async () => {
    const answer = await operator.callLoosely('readJob', { params: { jobId: '018f6f2e-0000-7000-8000-00000000dead' } });
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
    const id = String(answer.body['correlationId']);
    expect(answer.headers.get('x-correlation-id')).toBe(id);
    await expect.poll(() => bench.logLines.some((line) => line.includes(id))).toBe(true);
    expect(JSON.stringify(answer.body)).not.toMatch(/at .*\.ts|node_modules|stack/);
  });

  it('of our own making tell nothing of the inside', async () => {
    const broken = bench.adapters.ledger.jobs as { list: unknown };
    const list = broken.list;
    broken.list = () => Promise.reject(new Error('secret inner detail'));
    const answer = await operator.callLoosely('listJobs');
    broken.list = list;
    expect(answer).toMatchObject({ status: 500, body: { code: 'server-failed' } });
    expect(JSON.stringify(answer.body)).not.toContain('secret inner detail');
    expect(bench.logLines.some((line) => line.includes('secret inner detail'))).toBe(true);
  });

  it('come for addresses that are not there', async () => {
    const answer = await operator.fetch('/api/nothing');
    expect(answer.status).toBe(404);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
    for (const path of ['/api/jobs/', '/api//jobs', '/api/jobs/x/y']) {
      expect((await operator.fetch(path)).status).toBe(404);
    }
  });
});

describe('too many requests', () => {
  it('from one address are answered with how long to wait', async () => {
    const narrow = await openBench({ limits: { perMinute: 20, doorPerMinute: 3 } });
    try {
      const anonymous = narrow.anonymous();
      const body = { signInName: 'x', password: 'y' };
      const statuses: number[] = [];
      for (let i = 0; i < 5; i++) statuses.push((await anonymous.callLoosely('signIn', { body })).status);
      expect(statuses).toEqual([401, 401, 401, 429, 429]);
      const client = await narrow.as('operator');
      let last = await client.callLoosely('listJobs');
      for (let i = 0; i < 20 && last.status === 200; i++) last = await client.callLoosely('listJobs');
      expect(last).toMatchObject({ status: 429, body: { code: 'requests-too-many' } });
      expect(Number(last.headers.get('retry-after'))).toBeGreaterThan(0);
    } finally {
      await narrow.stop();
    }
  });
});

describe('pictures', () => {
  it('are upright, small enough, and cut into tiles that cover the photo', async () => {
    const sideways = await sharp({ create: { width: 1500, height: 1100, channels: 3, background: '#a05030' } })
      .jpeg()
      .withMetadata({ orientation: 6 })
      .toBuffer();
    const stored = await addPhoto(sideways);
    expect(stored.body).toMatchObject({ widthPx: 1100, heightPx: 1500, mediaType: 'image/jpeg' });
    const photoId = String(stored.body['id']);
    const size = async (path: string): Promise<[number, number]> => {
      const response = await operator.fetch(`/api/photos/${photoId}/${path}`);
      const { width, height } = await sharp(Buffer.from(await response.arrayBuffer())).metadata();
      return [width, height];
    };
    expect(await size('thumbnail.jpg')).toEqual([264, 360]);
    expect(await size('display.jpg')).toEqual([1100, 1500]);
    const pyramid = await operator.call('readTilePyramid', { params: { photoId } });
    expect(pyramid.body).toEqual({ widthPx: 1100, heightPx: 1500, tileSizePx: 512, overlapPx: 0, levels: 3 });
    expect(await size('tiles/2/0/0')).toEqual([512, 512]);
    expect(await size('tiles/2/2/2')).toEqual([1100 - 1024, 1500 - 1024]);
    expect(await size('tiles/0/0/0')).toEqual([275, 375]);
    expect((await operator.fetch(`/api/photos/${photoId}/tiles/2/3/0`)).status).toBe(404);
    expect((await operator.fetch(`/api/photos/${photoId}/tiles/2/-1/0`)).status).toBe(400);
  });

  it('stay when a photo is taken out of its round', async () => {
    const { round } = await addTeaselRound(operator);
    const photoId = round.after?.photo.id ?? '';
    await operator.call('detachPhoto', { params: { roundId: round.id, role: 'after' } });
    expect((await operator.call('readPhoto', { params: { photoId } })).status).toBe(200);
  });
});

/** A PNG that promises more pixels than anybody has memory for, in a few hundred bytes. Source: [PNG3]. */
function hugePng(width: number, height: number): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  const signature = Buffer.from('89504e470d0a1a0a', 'hex');
  const data = deflateSync(Buffer.alloc(100_000));
  return Buffer.concat([
    signature,
    pngChunk('IHDR', header),
    pngChunk('IDAT', data),
    pngChunk('IEND', Buffer.alloc(0)),
  ]);
}
