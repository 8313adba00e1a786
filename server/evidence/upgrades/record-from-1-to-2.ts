import type { UpgradeStep } from '../upgrade-document.ts';

const listIn = (value: unknown): object[] =>
  Array.isArray(value) ? value.filter((item): item is object => typeof item === 'object' && item !== null) : [];

/** Version 2 keeps the shares after people's corrections, and corrections that were taken back; version 1 knew neither. */
export const recordFrom1To2: UpgradeStep = {
  from: 'bareplate/record@1',
  to: 'bareplate/record@2',
  upgrade: (old) => ({
    ...old,
    rounds: listIn(old['rounds']).map((round) => ({ ...round, corrected: { before: null, after: null } })),
    corrections: listIn(old['corrections']).map((correction) => ({ ...correction, withdrawn: null })),
  }),
};
