import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { PhotoRole } from '@domain/api/photos.ts';
import { call } from '../../api/call.ts';
import { uploadPhoto } from '../../api/upload-photo.ts';

export interface SendingPhoto {
  /** Sent share; 1 while the server checks the photo, null when nothing is on its way. */
  readonly share: number | null;
  readonly error: Error | null;
  readonly send: (file: File) => void;
  readonly cancel: () => void;
}

/** Sends a photo and puts it in its place in the round. */
export function useSendPhoto(roundId: string, role: PhotoRole): SendingPhoto {
  const client = useQueryClient();
  const [share, setShare] = useState<number | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const stopper = useRef<AbortController | null>(null);
  useEffect(() => () => stopper.current?.abort(), []);
  const bring = async (file: File, signal: AbortSignal): Promise<void> => {
    const uploadId = await uploadPhoto(file, { onShare: setShare, signal });
    setShare(1);
    await call('attachPhoto', { params: { roundId, role }, body: { source: { uploadId } } });
    await client.invalidateQueries();
  };
  const send = (file: File): void => {
    stopper.current = new AbortController();
    setError(null);
    setShare(0);
    bring(file, stopper.current.signal)
      .catch((reason: unknown) => {
        setError(reason instanceof Error ? reason : new Error(String(reason)));
      })
      .finally(() => {
        setShare(null);
      });
  };
  const cancel = (): void => {
    stopper.current?.abort();
    setShare(null);
  };
  return { share, error, send, cancel };
}
