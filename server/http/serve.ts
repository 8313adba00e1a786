import type { Config } from '../config.ts';
import { offerDemo } from '../services/offer-demo.ts';
import { openServices } from '../services/open-services.ts';
import type { ServerAdapters, Services } from '../services/open-services.ts';
import { HOUR_MS } from '../services/moments.ts';
import { tidyUp } from '../services/tidy-up.ts';
import { createApp } from './app.ts';
import type { Handlers } from './call.ts';
import { clientFiles } from './client-files.ts';
import { USUAL_LIMITS } from './limit-requests.ts';
import type { RequestLimits } from './limit-requests.ts';
import { listen, stopListening } from './listen.ts';
import { ownAddresses } from './own-addresses.ts';
import { assessmentRoutes } from './routes/assessment-routes.ts';
import { peopleRoutes } from './routes/people-routes.ts';
import { photoRoutes } from './routes/photo-routes.ts';
import { planningRoutes } from './routes/planning-routes.ts';
import { recordRoutes } from './routes/record-routes.ts';
import { shopRoutes } from './routes/shop-routes.ts';
import { workRoutes } from './routes/work-routes.ts';

export interface ServeOptions {
  readonly programVersion: string;
  /** Folder of the built client. */
  readonly clientFolder: string;
  readonly limits?: RequestLimits;
}

export interface Serving {
  /** First address to show. */
  readonly url: string;
  readonly addresses: readonly string[];
  /** One-time link for the first administrator; null when people exist. */
  readonly setupLink: string | null;
  stop(): Promise<void>;
}

/** Requests that are still being answered when the server is stopped get this long. */
const STOP_GRACE_MS = 3000;

/** Starts everything over open adapters: tidies up, takes requests, works through the queue. */
export async function serve(config: Config, adapters: ServerAdapters, options: ServeOptions): Promise<Serving> {
  const { programVersion, limits = USUAL_LIMITS } = options;
  const services = openServices(adapters, programVersion);
  await tidyUp(adapters, true);
  let addresses: readonly string[] = [];
  let isStopping = false;
  const app = createApp({
    ...adapters,
    limits,
    programVersion,
    sessions: services.sessions,
    audit: services.audit,
    handlers: handlersOf(services, { adapters, programVersion, addresses: () => addresses }),
    client: await clientFiles(options.clientFolder),
    publicUrl: config.PUBLIC_URL,
    trustedProxies: config.TRUSTED_PROXIES,
    isTls: config.TLS_CERT_FILE !== undefined || config.PUBLIC_URL?.startsWith('https:') === true,
    notReadyBecause: async () => {
      if (isStopping) return 'stopping';
      await adapters.ledger.ping();
      return null;
    },
  });
  const { server, port } = await listen(app, config);
  addresses = ownAddresses(config, port);
  const hourly = setInterval(() => {
    tidyUp(adapters, false).catch((error: unknown) => {
      adapters.log.error('Tidying up failed', error);
    });
  }, HOUR_MS);
  const demo = config.DEMO === 'offer' ? offerDemoQuietly(adapters, programVersion) : Promise.resolve();
  void demo.then(() => (config.ROLE === 'all' ? services.worker.start() : undefined));
  const setupToken = await services.people.offerSetup();
  return {
    addresses,
    url: addresses[0],
    setupLink: setupToken === null ? null : `${addresses[0]}/setup#${setupToken}`,
    async stop() {
      isStopping = true;
      clearInterval(hourly);
      await demo;
      await services.worker.stop();
      await adapters.press.stop();
      await stopListening(server, STOP_GRACE_MS);
      await adapters.ledger.close();
      adapters.seal.release();
    },
  };
}

/** The demo is a courtesy: without it the server starts all the same. */
async function offerDemoQuietly(adapters: ServerAdapters, programVersion: string): Promise<void> {
  try {
    await offerDemo({ ...adapters, programVersion });
  } catch (error) {
    adapters.log.error('The demo job could not be made', error);
  }
}

interface HandlerParts {
  readonly adapters: ServerAdapters;
  readonly programVersion: string;
  readonly addresses: () => readonly string[];
}

const handlersOf = (services: Services, { adapters, programVersion, addresses }: HandlerParts): Handlers => ({
  ...peopleRoutes({ ...services, programVersion, labels: adapters.labels }),
  ...workRoutes({ ...services, labels: adapters.labels }),
  ...photoRoutes(services.photos),
  ...assessmentRoutes(services),
  ...shopRoutes({ ...services, labels: adapters.labels, addresses }),
  ...planningRoutes(services),
  ...recordRoutes({ ...services, ...adapters }),
});
