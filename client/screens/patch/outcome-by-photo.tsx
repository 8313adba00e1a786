import { useMutation } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import type { StoredPhoto } from '@domain/api/photos.ts';
import type { Settings } from '@domain/settings.ts';
import { call, urlOf } from '../../api/call.ts';
import { useProgress } from '../../api/follow-progress.ts';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { PatchPhoto } from '../compare/patch-photo.tsx';
import { OutlineEditor } from '../outline/outline-editor.tsx';
import { useFirstOutline } from '../outline/use-first-outline.ts';
import { CardInPhoto } from '../photos/card-in-photo.tsx';

interface PhotoProps {
  readonly title: string;
  readonly settings: Settings;
  /** What was measured is being kept. */
  readonly isBusy: boolean;
  readonly onMeasured: (comparisonId: string) => void;
}

/** The photo of the patch: sent, outlined, measured. */
export function OutcomeByPhoto(props: PhotoProps): ReactNode {
  const [photo, setPhoto] = useState<StoredPhoto | null>(null);
  if (photo === null) return <PatchPhoto onPhoto={setPhoto} />;
  return (
    <PatchInPhoto
      {...props}
      photo={photo}
      onRetake={() => {
        setPhoto(null);
      }}
    />
  );
}

interface PatchProps extends PhotoProps {
  readonly photo: StoredPhoto;
  readonly onRetake: () => void;
}

function PatchInPhoto({ title, settings, isBusy, onMeasured, photo, onRetake }: PatchProps): ReactNode {
  const first = useFirstOutline(photo);
  const [moved, setMoved] = useState<readonly Point[] | null>(null);
  const corners = moved ?? first;
  const [fault, setFault] = useState<string | null>(null);
  const measure = useMutation({
    mutationFn: () => {
      const outline = { polygonPx: corners.map(([x, y]): [number, number] => [x, y]) };
      const patches = [{ name: words.patch.title, outline, settings }];
      return call('addComparison', { body: { title, of: { kind: 'patches', photoId: photo.id, patches } } });
    },
  });
  const isMeasuring = measure.isPending || measure.isSuccess || isBusy;
  return (
    <>
      <p>{words.patch.outlineLead}</p>
      <CardInPhoto photoId={photo.id} />
      <OutlineEditor photo={photo} alt={words.patch.outlineAlt} corners={corners} onChange={setMoved} />
      {fault === null ? null : <Notice kind="fault">{fault}</Notice>}
      {measure.error === null ? null : <Notice kind="fault">{measure.error.message}</Notice>}
      {measure.data === undefined ? null : (
        <Measuring
          comparisonId={measure.data.id}
          onDone={() => {
            onMeasured(measure.data.id);
            measure.reset();
          }}
          onFault={(sentence) => {
            setFault(sentence);
            measure.reset();
          }}
        />
      )}
      <MeasureKeys
        isMeasuring={isMeasuring}
        onMeasure={() => {
          setFault(null);
          measure.mutate();
        }}
        onRetake={onRetake}
      />
    </>
  );
}

function MeasureKeys(props: { isMeasuring: boolean; onMeasure: () => void; onRetake: () => void }): ReactNode {
  const { isMeasuring, onMeasure, onRetake } = props;
  return (
    <>
      {isMeasuring ? null : (
        <div>
          <Button look="plain" onClick={onRetake}>
            {words.round.retake}
          </Button>
        </div>
      )}
      <div className="actions actions-low">
        <Button look="primary" isWide isBusy={isMeasuring} onClick={onMeasure}>
          {isMeasuring ? words.patch.measuring : words.patch.measure}
        </Button>
      </div>
    </>
  );
}

function Measuring({
  comparisonId,
  onDone,
  onFault,
}: {
  comparisonId: string;
  onDone: () => void;
  onFault: (sentence: string) => void;
}): ReactNode {
  const { progress } = useProgress(urlOf('followComparison', { params: { comparisonId } }));
  const isTold = useRef(false);
  useEffect(() => {
    if (isTold.current || (progress?.state !== 'done' && progress?.state !== 'failed')) return;
    isTold.current = true;
    if (progress.state === 'done') onDone();
    else onFault(progress.fault?.sentence ?? words.errors.noSignal);
  }, [progress, onDone, onFault]);
  return <Waiting word={progress?.stage ?? words.patch.measuring} />;
}
