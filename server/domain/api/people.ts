import { z } from 'zod';
import { idSchema, momentSchema, nameSchema } from './identifiers.ts';
import { pageOf, pageQuery, putAwayFilter } from './paging.ts';
import { roleSchema } from './roles.ts';
import { orNull } from './or-null.ts';

/** Shortest password, characters. Source: [NIST800-63B]: at least 15 where it stands alone, 8 beside a second factor; 12 is taken. */
export const LEAST_PASSWORD_CHARACTERS = 12;

export const passwordSchema = z
  .string()
  .min(LEAST_PASSWORD_CHARACTERS, `expected at least ${LEAST_PASSWORD_CHARACTERS} characters`)
  .max(200);

/** What a person types to sign in; capitals do not count. */
export const signInNameSchema = z
  .string()
  .trim()
  .toLowerCase()
  .regex(/^[a-z0-9][a-z0-9._@+-]{1,79}$/, 'expected 2 to 80 letters, digits or . _ @ + -');

/** A token of a one-time link: 32 random bytes. */
const oneTimeTokenSchema = z.string().regex(/^[\w-]{43}$/, 'expected the token of the link');

/** Who did something, as lists show it. */
export const personRefSchema = z.object({ id: idSchema, name: z.string() }).meta({ id: 'PersonRef' });
export type PersonRef = z.infer<typeof personRefSchema>;

export const personSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    signInName: z.string(),
    role: roleSchema,
    /** A person who left stays in the records but cannot sign in. */
    isActive: z.boolean(),
    /** False until the invitation is used. */
    hasPassword: z.boolean(),
    createdAt: momentSchema,
    lastSeenAt: orNull(momentSchema),
  })
  .meta({ id: 'Person' });
export type Person = z.infer<typeof personSchema>;

export const sessionSchema = z
  .object({
    id: idSchema,
    /** The browser's own words about itself. */
    device: z.string(),
    createdAt: momentSchema,
    lastSeenAt: momentSchema,
    expiresAt: momentSchema,
    isCurrent: z.boolean(),
  })
  .meta({ id: 'Session' });
export type Session = z.infer<typeof sessionSchema>;

/** Who is signed in here; `person` is null when nobody is, `needsSetup` is true until the first administrator exists. */
export const whoSchema = z
  .object({ person: orNull(personSchema), needsSetup: z.boolean(), programVersion: z.string() })
  .meta({ id: 'Who' });
export type Who = z.infer<typeof whoSchema>;

export const setupBodySchema = z.object({
  token: oneTimeTokenSchema,
  name: nameSchema,
  signInName: signInNameSchema,
  password: passwordSchema,
});
export const signInBodySchema = z.object({ signInName: z.string().max(200), password: z.string().max(200) });
export const passwordChangeBodySchema = z.object({ current: z.string().max(200), next: passwordSchema });
export const invitationLookBodySchema = z.object({ token: oneTimeTokenSchema });
export const invitationUseBodySchema = z.object({ token: oneTimeTokenSchema, password: passwordSchema });

export const newPersonSchema = z.object({ name: nameSchema, signInName: signInNameSchema, role: roleSchema });
export const personChangeSchema = z.object({ name: nameSchema, role: roleSchema, isActive: z.boolean() }).partial();

/** A link that sets a password once: for a new person, or for one who forgot it. The token follows the `#`. */
export const invitationSchema = z
  .object({ link: z.string(), qrSvg: z.string(), expiresAt: momentSchema })
  .meta({ id: 'Invitation' });
export const invitedPersonSchema = z.object({ person: personSchema, invitation: invitationSchema });

export const peopleQuerySchema = pageQuery(['name', 'createdAt', 'lastSeenAt'], 'name').extend({
  inactive: putAwayFilter,
  role: roleSchema.optional(),
});
export const peoplePageSchema = pageOf(personSchema);
export const sessionsSchema = z.object({ items: z.array(sessionSchema) });
