import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { build } from 'vite';
import { pinoLog } from '../../server/adapters/observe/pino-log.ts';
import { readConfig } from '../../server/config.ts';
import { serve } from '../../server/http/serve.ts';
import { wireServer } from '../../server/wiring-server.ts';

export interface RunningProgram {
  readonly url: string;
  /** One-time link of the first administrator, path and token only. */
  readonly setupPath: string;
  stop(): Promise<void>;
}

const PLENTY = { perMinute: 1e6, doorPerMinute: 1e6 };

/** The whole program as a shop runs it, pages built, analysis real, with the demo job in place. */
export async function startProgram(): Promise<RunningProgram> {
  const folder = await mkdtemp(join(tmpdir(), 'bareplate-'));
  const clientFolder = join(folder, 'client');
  await build({ configFile: 'vite.config.ts', logLevel: 'silent', build: { outDir: clientFolder } });
  const config = readConfig({
    BAREPLATE_DATA_DIR: join(folder, 'data'),
    BAREPLATE_HOST: '127.0.0.1',
    BAREPLATE_PORT: '0',
    BAREPLATE_WORKERS: '1',
  });
  const wired = await wireServer(config);
  if (wired === null) throw new Error('Expected a data folder that nobody uses');
  const log = pinoLog(
    'error',
    new Writable({
      write: (_chunk, _encoding, done) => {
        done();
      },
    }),
  );
  const serving = await serve(
    config,
    { ...wired, log },
    { programVersion: '0.0.0-test', clientFolder, limits: PLENTY },
  );
  if (serving.setupLink === null) throw new Error('Expected a one-time link on the first start');
  const link = new URL(serving.setupLink);
  return {
    url: serving.url,
    setupPath: `${link.pathname}${link.hash}`,
    async stop() {
      await serving.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
