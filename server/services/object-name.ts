/** Where an object lies in the data folder and in a backup of it. */
export const objectName = (sha256: string): string => `objects/${sha256.slice(0, 2)}/${sha256}`;
