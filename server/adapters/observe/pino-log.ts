import { pino } from 'pino';
import type { DestinationStream } from 'pino';
import type { Log, LogLevel } from '../../services/observe-ports.ts';

/** Never written, wherever in a line they come up. */
const SECRETS = ['password', 'current', 'next', 'token', 'cookie', 'authorization', 'tokenHash', 'passwordHash'];

/** Log lines as JSON. Callers hand over few, named values; bodies, headers and links are not among them. */
export function pinoLog(level: LogLevel, destination?: DestinationStream): Log {
  const options = {
    level,
    base: null,
    timestamp: pino.stdTimeFunctions.isoTime,
    redact: { paths: [...SECRETS, ...SECRETS.map((key) => `*.${key}`)], censor: '(left out)' },
  };
  const logger = destination === undefined ? pino(options) : pino(options, destination);
  return {
    info: (message, values) => {
      logger.info(values ?? {}, message);
    },
    warn: (message, values) => {
      logger.warn(values ?? {}, message);
    },
    error: (message, error, values) => {
      logger.error({ ...values, err: error }, message);
    },
  };
}
