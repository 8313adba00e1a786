import { z } from 'zod';

/** A moment in UTC, written with seconds and a Z: one spelling, so that equal moments are equal texts. */
export const instantSchema = z.iso.datetime({ offset: false });
/** A calendar day, YYYY-MM-DD. */
export const calendarDaySchema = z.iso.date();
