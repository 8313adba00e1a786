import { z } from 'zod';
import { finiteNumber } from '../measured.ts';
import { idSchema } from './identifiers.ts';
import { orNull } from './or-null.ts';

const shopFields = {
  name: z.string().trim().max(120),
  /** How lengths and areas are shown; stored values stay in millimetres and square metres. */
  units: z.enum(['millimetres', 'inches']),
  paper: z.enum(['a4', 'letter']),
  usualTargetGrade: z.string().trim().min(1).max(60).nullable(),
  usualMachineId: orNull(idSchema),
  usualCardId: orNull(idSchema),
  /** Cost of an hour of work, in `currency`. */
  hourlyRate: finiteNumber.positive().max(1e6).nullable(),
  currency: z.string().regex(/^[A-Z]{3}$/, 'expected three capitals, such as EUR'),
  /** Whether a record must be signed by somebody else than who prepared it. */
  isTwoPersonRuleOn: z.boolean(),
  /** Jobs that are put away and hold no signed record are removed after so many months without work; null keeps them. */
  keepUnsignedMonths: z.int().min(1).max(1200).nullable(),
};

/** Settings of the shop, one set for all its people. */
export const shopSchema = z.object(shopFields).meta({ id: 'Shop' });
export type Shop = z.infer<typeof shopSchema>;
export const shopChangeSchema = z.object(shopFields).partial();

/** Where phones on the same network find the program. */
export const addressesSchema = z
  .object({ items: z.array(z.object({ url: z.string(), qrSvg: z.string() })) })
  .meta({ id: 'Addresses' });

/** What a person may be shown first: counts that lists would take several calls for. */
export const overviewSchema = z
  .object({
    jobs: z.int(),
    zones: z.int(),
    zonesMeetingTarget: z.int(),
    waiting: z.int(),
    running: z.int(),
    hasInventedJob: z.boolean(),
  })
  .meta({ id: 'Overview' });
