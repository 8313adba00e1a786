import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { request } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBench } from '../support/server-bench.ts';
import type { Bench } from '../support/server-bench.ts';

const hasOpenssl = spawnSync('openssl', ['version']).status === 0;
if (!hasOpenssl) process.stderr.write('openssl is not here: no certificate can be made, the TLS test is skipped.\n');

interface TlsAnswer {
  readonly status: number | undefined;
  readonly cookies: readonly string[];
  readonly transportSecurity: string | undefined;
}

describe.skipIf(!hasOpenssl)("with the shop's own certificate", () => {
  let folder: string;
  let bench: Bench;
  let certificate: Buffer;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'bareplate-tls-'));
    const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
    const subject = ['-subj', '/CN=bareplate', '-addext', 'subjectAltName=IP:127.0.0.1'];
    const curve = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
    const made = spawnSync('openssl', [
      'req',
      '-x509',
      ...curve,
      '-keyout',
      key,
      '-out',
      cert,
      '-days',
      '2',
      ...subject,
    ]);
    expect(made.status).toBe(0);
    certificate = await readFile(cert);
    bench = await openBench({ environment: { BAREPLATE_TLS_CERT_FILE: cert, BAREPLATE_TLS_KEY_FILE: key } });
  });
  afterAll(async () => {
    await bench.stop();
    await rm(folder, { recursive: true, force: true });
  });

  const post = (path: string, body: unknown): Promise<TlsAnswer> =>
    new Promise((resolve, reject) => {
      const headers = { origin: bench.url, 'content-type': 'application/json' };
      const sending = request(bench.url + path, { method: 'POST', ca: certificate, headers }, (response) => {
        response.resume();
        resolve({
          status: response.statusCode,
          cookies: response.headers['set-cookie'] ?? [],
          transportSecurity: response.headers['strict-transport-security'],
        });
      });
      sending.on('error', reject);
      sending.end(JSON.stringify(body));
    });

  it('speaks TLS, binds its cookie to it, and says so to browsers', async () => {
    expect(bench.url).toMatch(/^https:/);
    const body = { token: bench.setupToken, name: 'Test', signInName: 'wil', password: 'rust never sleeps 7' };
    const made = await post('/api/setup', body);
    expect(made.status).toBe(201);
    expect(made.cookies.join()).toMatch(/^__Host-bareplate=[\w-]{43};.*Secure/);
    expect(made.transportSecurity).toMatch(/^max-age=\d+/);
  });

  it('is not reached without TLS', async () => {
    await expect(fetch(bench.url.replace('https:', 'http:'))).rejects.toThrow();
  });
});
