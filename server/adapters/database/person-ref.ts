import type { PersonRef } from '../../domain/api/people.ts';

/** Who, from a join with people; null when nobody is named. */
export const personRef = (id: string | null, name: string | null): PersonRef | null =>
  id === null || name === null ? null : { id, name };
