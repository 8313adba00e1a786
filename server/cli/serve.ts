import type { Command } from 'commander';

/** The variables of `config.ts`, in words. */
const VARIABLES = `
Variables, none of which is needed:
  BAREPLATE_DATA_DIR         folder of ledger, photos and uploads (.bareplate here)
  BAREPLATE_HOST             address to listen on (0.0.0.0: all of the machine)
  BAREPLATE_PORT             port (4610)
  BAREPLATE_PUBLIC_URL       how browsers reach it when that is not its own address, such as https://bareplate.shop.example
  BAREPLATE_TRUSTED_PROXIES  proxies in front whose X-Forwarded headers are believed (0)
  BAREPLATE_TLS_CERT_FILE    the shop's own certificate, PEM, with
  BAREPLATE_TLS_KEY_FILE     its key
  BAREPLATE_WORKERS          analyses at once (one less than there are cores, 4 at most)
  BAREPLATE_ROLE             "all", or "api": takes requests and leaves analyses to another start (all)
  BAREPLATE_LOG_LEVEL        how much is logged (info)
  BAREPLATE_SEGMENTER        "network" or "colour" (network)
  BAREPLATE_DEMO             "offer" or "none" (offer: the invented job stands there on the first start)`;

export function addServeCommand(program: Command): void {
  program
    .command('serve')
    .description('start the server and web application; settings come from BAREPLATE_ variables, none are needed')
    .addHelpText('after', VARIABLES)
    // Loaded when asked for: no other command needs the web server and the database.
    .action(async () => (await import('../main.ts')).runServer());
}
