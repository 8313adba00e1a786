import { z } from 'zod';

/** Nullable, for schemas with an id of their own: written as a choice, the published document keeps the reference whole. */
export const orNull = <Schema extends z.ZodType>(schema: Schema): z.ZodUnion<readonly [Schema, z.ZodNull]> =>
  z.union([schema, z.null()]);
