import { z } from 'zod';

/**
 * When a photo was taken by the phone's own clock, as the phone wrote it into the file: nothing here shows that the clock was
 * right. Source: [EXIF] DateTimeOriginal and OffsetTimeOriginal.
 */
export const photoTimeSchema = z
  .object({
    /** The phone's local time, to the second. */
    localTime: z.iso.datetime({ local: true, offset: false, precision: 0 }).regex(/\d$/),
    /** What the phone was ahead of UTC, "+02:00"; null where it did not say so, as many phones do not. */
    utcOffset: z
      .string()
      .regex(/^[+-](?:0\d|1[0-4]):[0-5]\d$/)
      .nullable(),
  })
  .meta({ id: 'PhotoTime' });
export type PhotoTime = z.infer<typeof photoTimeSchema>;
