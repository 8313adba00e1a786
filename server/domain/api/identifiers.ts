import { z } from 'zod';

/** Every thing of the work model is named by a UUID. A client that may lose its signal makes it itself and sends it again. */
export const idSchema = z.uuid().meta({ id: 'Id', description: 'UUID' });

/** UTC with milliseconds, RFC 3339: text order is time order. */
export const momentSchema = z.iso.datetime({ precision: 3 }).meta({ id: 'Moment' });

/** A name on one line. */
export const nameSchema = z
  .string()
  .trim()
  .min(1)
  .max(120)
  .regex(/^[^\p{Cc}]*$/u, 'expected one line without control characters');

/** Remarks over several lines; may be empty. */
export const noteSchema = z.string().max(4000);

/** A new thing may bring its own id: sent twice, it is made once. */
export const ownId = { id: idSchema.optional() };

/** Path parameters `:name` of an endpoint, each a UUID. */
export function param<Name extends string>(...names: readonly Name[]): z.ZodObject<Record<Name, typeof idSchema>> {
  const shape = Object.fromEntries(names.map((name) => [name, idSchema])) as Record<Name, typeof idSchema>;
  return z.object(shape);
}
