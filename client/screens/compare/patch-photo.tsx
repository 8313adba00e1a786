import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import type { StoredPhoto } from '@domain/api/photos.ts';
import { call } from '../../api/call.ts';
import { uploadPhoto } from '../../api/upload-photo.ts';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';

/** Sends a photo that belongs to no round. */
export function PatchPhoto({ onPhoto }: { onPhoto: (photo: StoredPhoto) => void }): ReactNode {
  const [share, setShare] = useState<number | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const stopper = useRef<AbortController | null>(null);
  useEffect(() => () => stopper.current?.abort(), []);
  const send = async (file: File): Promise<void> => {
    stopper.current = new AbortController();
    setError(null);
    setShare(0);
    try {
      const uploadId = await uploadPhoto(file, { onShare: setShare, signal: stopper.current.signal });
      onPhoto(await call('addPhoto', { body: { uploadId } }));
    } catch (reason) {
      setError(reason instanceof Error ? reason : new Error(String(reason)));
      setShare(null);
    }
  };
  return (
    <div className="stack">
      <TextField
        label={words.compare.choosePhoto}
        type="file"
        accept="image/*"
        disabled={share !== null}
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file !== undefined) void send(file);
        }}
      />
      <p role="status">{share === null ? '' : words.compare.sending(Math.round(share * 100))}</p>
      {error === null ? null : <Notice kind="fault">{error.message}</Notice>}
    </div>
  );
}
