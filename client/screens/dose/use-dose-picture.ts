import { useEffect, useRef, useState } from 'react';
import type { DosePicture } from '@domain/dose.ts';
import type { RequestOf } from '@domain/api/endpoints.ts';
import { call } from '../../api/call.ts';

export interface DrawnDose {
  readonly picture: DosePicture | null;
  readonly error: Error | null;
  /** When the dials were moved for this picture, on the clock of the page. */
  readonly askedAtMs: number;
}

type DoseBody = RequestOf<'drawDose'>['body'];

/** The picture of the dials as they stand. One call is on its way at a time; of the moves meanwhile only the last counts. */
export function useDosePicture(request: DoseBody): DrawnDose {
  const [drawn, setDrawn] = useState<DrawnDose>({ picture: null, error: null, askedAtMs: 0 });
  const waiting = useRef<{ asked: string; askedAtMs: number } | null>(null);
  const isBusy = useRef(false);
  const asked = JSON.stringify(request);
  useEffect(() => {
    const drawNext = async (): Promise<void> => {
      const next = waiting.current;
      if (next === null || isBusy.current) return;
      waiting.current = null;
      isBusy.current = true;
      try {
        const picture = await call('drawDose', { body: JSON.parse(next.asked) as DoseBody });
        setDrawn({ picture, error: null, askedAtMs: next.askedAtMs });
      } catch (reason) {
        const error = reason instanceof Error ? reason : new Error(String(reason));
        setDrawn((before) => ({ ...before, error }));
      }
      isBusy.current = false;
      void drawNext();
    };
    waiting.current = { asked, askedAtMs: performance.now() };
    void drawNext();
  }, [asked]);
  return drawn;
}
