import type { UpgradeStep } from '../upgrade-document.ts';

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const upgradePhoto = (photo: unknown): unknown => {
  if (!isObject(photo)) return photo;
  const { takenAt } = photo;
  const time = typeof takenAt === 'string' ? { localTime: takenAt.slice(0, 19), utcOffset: '+00:00' } : null;
  return { ...photo, takenAt: time, receivedAt: null, correctedClassMap: null };
};

/**
 * Version 3 keeps the phone's time of a photo as the phone wrote it, when the photo was received, the class map as people
 * corrected it, and what was decided anew on it; version 2 knew none of these, and wrote times in UTC.
 */
export const recordFrom2To3: UpgradeStep = {
  from: 'bareplate/record@2',
  to: 'bareplate/record@3',
  upgrade: (old) => ({
    ...old,
    rounds: Array.isArray(old['rounds'])
      ? old['rounds'].map((round: unknown) =>
          isObject(round)
            ? { ...round, before: upgradePhoto(round['before']), after: upgradePhoto(round['after']) }
            : round,
        )
      : old['rounds'],
  }),
};
