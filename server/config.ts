import { resolve } from 'node:path';
import { z } from 'zod';
import { LOG_LEVELS } from './services/observe-ports.ts';

const PREFIX = 'BAREPLATE_';

const path = z
  .string()
  .min(1)
  .transform((text) => resolve(text));
const wholeNumber = (least: number, most: number): z.ZodType<number, string> =>
  z.string().regex(/^\d+$/, 'expected a whole number').transform(Number).pipe(z.number().min(least).max(most));
const origin = z
  .url({ protocol: /^https?$/ })
  .refine((text) => new URL(text).origin === text, 'expected an address without a path, such as https://shop.example');

/** What can be set from outside. Nothing has to be. */
const schema = z
  .strictObject({
    /** Folder of the database, photos and uploads. */
    DATA_DIR: path.default(() => resolve('.bareplate')),
    HOST: z.string().min(1).default('0.0.0.0'),
    PORT: wholeNumber(0, 65_535).default(4610),
    /** How browsers reach the server, when that is not its own host and port. */
    PUBLIC_URL: origin.optional(),
    /** Proxies in front whose forwarded headers are believed. */
    TRUSTED_PROXIES: wholeNumber(0, 5).default(0),
    /** The shop's own certificate and key, PEM. */
    TLS_CERT_FILE: path.optional(),
    TLS_KEY_FILE: path.optional(),
    /** Analyses at once. */
    WORKERS: wholeNumber(1, 32).optional(),
    /** "all" takes requests and works, "api" leaves the queue to another start. */
    ROLE: z.enum(['all', 'api']).default('all'),
    LOG_LEVEL: z.enum(LOG_LEVELS).default('info'),
    /** Which segmenter tells the classes apart. */
    SEGMENTER: z.enum(['network', 'colour']).default('network'),
    DEMO: z.enum(['offer', 'none']).default('offer'),
  })
  .refine((values) => (values.TLS_CERT_FILE === undefined) === (values.TLS_KEY_FILE === undefined), {
    path: ['TLS_KEY_FILE'],
    message: 'certificate and key go together',
  });

export type Config = Readonly<z.output<typeof schema>>;

export class ConfigError extends Error {}

/**
 * Reads the configuration from the environment once; it never changes afterwards.
 * @throws ConfigError that names each unknown or broken key
 */
export function readConfig(environment: Readonly<Record<string, string | undefined>>): Config {
  const given = Object.entries(environment)
    .filter(([key, value]) => key.startsWith(PREFIX) && value !== undefined)
    .map(([key, value]) => [key.slice(PREFIX.length), value] as const);
  const parsed = schema.safeParse(Object.fromEntries(given));
  if (parsed.success) return Object.freeze(parsed.data);
  const lines = parsed.error.issues.map((issue) =>
    issue.code === 'unrecognized_keys'
      ? `unknown: ${issue.keys.map((key) => PREFIX + key).join(', ')}`
      : `${PREFIX}${issue.path.join('.')}: ${issue.message}`,
  );
  throw new ConfigError(`The configuration cannot be used.\n  ${lines.join('\n  ')}`);
}
