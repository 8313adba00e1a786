import { z } from 'zod';

/** CSV for spreadsheets (RFC 4180), or one JSON object a line. */
export const exportQuerySchema = z.object({ format: z.enum(['csv', 'jsonl']).default('csv') });
export type ExportFormat = z.output<typeof exportQuerySchema>['format'];
