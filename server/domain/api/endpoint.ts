import type { z } from 'zod';
import type { Role } from './roles.ts';

export type Method = 'get' | 'post' | 'put' | 'patch' | 'delete' | 'head';

/** What comes back when all goes well: JSON of a schema, a file, a stream of events, or nothing. */
export type Answer =
  | { readonly kind: 'json'; readonly schema: z.ZodType }
  | { readonly kind: 'file'; readonly mediaTypes: readonly string[] }
  | { readonly kind: 'events'; readonly event: z.ZodType }
  | { readonly kind: 'empty' };

export interface Endpoint {
  readonly method: Method;
  /** `:name` marks a parameter. */
  readonly path: string;
  /** Who may call it; 'anybody' needs no session. */
  readonly access: 'anybody' | readonly Role[];
  readonly summary: string;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  /** JSON body. */
  readonly body?: z.ZodType;
  readonly status: 200 | 201 | 202 | 204;
  readonly answer: Answer;
  /** Spoken in the resumable upload protocol instead of JSON. */
  readonly isUpload?: true;
}

export const json = <Schema extends z.ZodType>(schema: Schema): { kind: 'json'; schema: Schema } => ({
  kind: 'json',
  schema,
});
export const file = (...mediaTypes: readonly string[]): { kind: 'file'; mediaTypes: readonly string[] } => ({
  kind: 'file',
  mediaTypes,
});
export const events = <Schema extends z.ZodType>(event: Schema): { kind: 'events'; event: Schema } => ({
  kind: 'events',
  event,
});
export const EMPTY = { kind: 'empty' } as const;
