import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { ConfigError, readConfig } from './config.ts';
import { serve } from './http/serve.ts';
import type { Serving } from './http/serve.ts';
import type { LabelPrinter } from './services/label-ports.ts';
import { wireServer } from './wiring-server.ts';

const CLIENT = fileURLToPath(new URL('../dist/client', import.meta.url));
const PACKAGE = new URL('../package.json', import.meta.url);
const say = (text: string): void => void process.stdout.write(`${text}\n`);
const complain = (text: string): void => void process.stderr.write(`${text}\n`);

/** Starts the server and keeps it until it is told to stop. Exit code 2: the configuration or the data folder is refused. */
export async function runServer(): Promise<void> {
  const config = configOrNull();
  const adapters = config === null ? null : await wireServer(config);
  if (config === null || adapters === null) {
    if (config !== null) {
      complain(`The data folder ${config.DATA_DIR} is in use by another process; stop that one first.`);
    }
    process.exitCode = 2;
    return;
  }
  const { version } = JSON.parse(await readFile(PACKAGE, 'utf8')) as { version: string };
  const serving = await serve(config, adapters, { programVersion: version, clientFolder: CLIENT });
  await greet(serving, adapters.labels);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      say('Stopping; what is being analysed goes on at the next start.');
      void serving.stop().then(() => process.exit(0));
    });
  }
}

function configOrNull(): ReturnType<typeof readConfig> | null {
  try {
    return readConfig(process.env);
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    complain(error.message);
    return null;
  }
}

async function greet({ url, addresses, setupLink }: Serving, labels: LabelPrinter): Promise<void> {
  say(`Bareplate is open at ${addresses.join(' and ')}`);
  say('On a phone in the same network:');
  say(await labels.qrForConsole(url));
  if (setupLink !== null) {
    say('Nobody has an account yet. This link makes the administrator, once:');
    say(setupLink);
  }
  say('Stop with Ctrl+C.');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await runServer();
