import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { labelCodeOf, makeCodeReader } from './label-code.ts';

const LOOK_EVERY_MS = 250;

/** The camera's picture, read four times a second until a label is seen. */
export function LabelCamera({ onFound, onClose }: { onFound: (code: string) => void; onClose: () => void }): ReactNode {
  const video = useRef<HTMLVideoElement>(null);
  const [isRefused, setRefused] = useState(false);
  const found = useRef(onFound);
  found.current = onFound;
  useEffect(() => {
    const stop = watchForLabel(video.current, {
      onFound: (code) => {
        found.current(code);
      },
      onRefused: () => {
        setRefused(true);
      },
    });
    return stop;
  }, []);
  return (
    <div className="stack">
      {isRefused ? (
        <Notice kind="fault">{words.check.scanNoCamera}</Notice>
      ) : (
        <video ref={video} className="scan" muted playsInline aria-label={words.check.scanTitle} />
      )}
      <Button onClick={onClose}>{words.check.scanClose}</Button>
    </div>
  );
}

function watchForLabel(
  video: HTMLVideoElement | null,
  { onFound, onRefused }: { onFound: (code: string) => void; onRefused: () => void },
): () => void {
  if (video === null) return () => undefined;
  let stream: MediaStream | null = null;
  let isStopped = false;
  const reader = makeCodeReader();
  const look = async (): Promise<void> => {
    if (isStopped) return;
    const [seen] = await reader.detect(video);
    const code = (seen as typeof seen | undefined) === undefined ? null : labelCodeOf(seen.rawValue);
    if (code !== null) onFound(code);
    else setTimeout(() => void look(), LOOK_EVERY_MS);
  };
  const start = async (): Promise<void> => {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
    video.srcObject = stream;
    await video.play();
    await look();
  };
  start().catch(() => {
    if (!isStopped) onRefused();
  });
  return () => {
    isStopped = true;
    for (const track of stream?.getTracks() ?? []) track.stop();
  };
}
