import { z } from 'zod';
import { machineSchema } from '../machine.ts';
import { finiteNumber } from '../measured.ts';
import { idSchema, momentSchema, nameSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery, putAwayFilter } from './paging.ts';

const step = finiteNumber.positive();

/** The smallest turn of each dial; passes step by one. */
export const dialStepsSchema = z
  .object({ powerW: step, scanWidthMm: step, scanFrequencyHz: step, travelSpeedMmPerS: step })
  .meta({ id: 'DialSteps' });
export type DialSteps = z.infer<typeof dialStepsSchema>;

export const shopMachineSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    /** From the plate of the machine, or the shop's own number for it; empty where nobody stated it. */
    serialNumber: z.string(),
    note: z.string(),
    machine: machineSchema,
    dialSteps: dialStepsSchema,
    isInvented: z.boolean(),
    isPutAway: z.boolean(),
    createdAt: momentSchema,
    updatedAt: momentSchema,
  })
  .meta({ id: 'ShopMachine' });
export type ShopMachine = z.infer<typeof shopMachineSchema>;

const serialNumberSchema = z.string().trim().max(80);
const machineFields = {
  name: nameSchema,
  serialNumber: serialNumberSchema,
  note: noteSchema,
  machine: machineSchema,
  dialSteps: dialStepsSchema,
};
export const newMachineSchema = z.object({
  ...ownId,
  ...machineFields,
  serialNumber: serialNumberSchema.default(''),
  note: noteSchema.default(''),
});
export const machineChangeSchema = z.object({ ...machineFields, isPutAway: z.boolean() }).partial();
export const machinesQuerySchema = pageQuery(['name', 'createdAt'], 'name').extend({ putAway: putAwayFilter });
export const machinesPageSchema = pageOf(shopMachineSchema);
