import { z } from 'zod';

/** What is wrong, for people and programs. Source: [RFC9457]. */
export const problemSchema = z
  .object({
    /** `about:blank` unless a page explains this kind of problem. */
    type: z.string(),
    title: z.string().min(1),
    status: z.int().min(400).max(599),
    /** A sentence for the operator that says what to do. */
    detail: z.string().min(1),
    /** Code of the fault. */
    code: z.string().min(1),
    /** The fault's own numbers, by name. */
    numbers: z.record(z.string(), z.unknown()),
    /** Found again in the log of the server. */
    correlationId: z.string().min(1),
  })
  .meta({ id: 'Problem' });
export type Problem = z.infer<typeof problemSchema>;

export const PROBLEM_MEDIA_TYPE = 'application/problem+json';

/** A fault that belongs to a thing (a failed assessment), not to the request. */
export const faultNoteSchema = z
  .object({ code: z.string().min(1), sentence: z.string().min(1) })
  .meta({ id: 'FaultNote' });
export type FaultNote = z.infer<typeof faultNoteSchema>;
