import { z } from 'zod';

/** One role a person. What a role may do stands beside each endpoint and nowhere else. */
export const ROLES = ['operator', 'inspector', 'trainer', 'administrator'] as const;
export const roleSchema = z.enum(ROLES);
export type Role = (typeof ROLES)[number];

/** Whoever is signed in. */
export const EVERYONE: readonly Role[] = [...ROLES];
