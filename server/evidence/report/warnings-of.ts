import type { InspectionRecord } from '../../domain/index.ts';
import { photoOrderWarnings } from './photo-order-warnings.ts';

/** What the measurements and the photos' own times warn of, each sentence once. */
export const warningsOf = (record: InspectionRecord): string[] => [
  ...new Set([
    ...photoOrderWarnings(record),
    ...record.rounds.flatMap(({ assessment }) => assessment.warnings.map(({ message }) => message)),
  ]),
];
