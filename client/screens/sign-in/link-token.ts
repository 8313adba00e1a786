import { useState } from 'react';

const TOKEN = /^#([\w-]{43})$/;

/** Token of a one-time link, after the `#`; null when the link is not whole. */
export function useLinkToken(): string | null {
  const [token] = useState(() => tokenOf(location.hash));
  return token;
}

export const tokenOf = (hash: string): string | null => TOKEN.exec(hash)?.[1] ?? null;
