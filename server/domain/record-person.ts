import { z } from 'zod';

/** Who did or entered something, as shown on the record: a copy, so that a later change of the account alters nothing. */
export const recordPersonSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  role: z.string().min(1),
});
export type RecordPerson = z.infer<typeof recordPersonSchema>;
