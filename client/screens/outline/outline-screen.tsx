import { useState } from 'react';
import type { ReactNode } from 'react';
import { Navigate, useNavigate, useParams } from 'react-router';
import type { Outline, PhotoRole, RoundPhoto } from '@domain/api/photos.ts';
import { PHOTO_ROLES } from '@domain/api/photos.ts';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { RoundSteps } from '../check/round-steps.tsx';
import { useKeepOutline } from './keep-outline.ts';
import { OutlineEditor } from './outline-editor.tsx';
import type { Point } from '../../viewer/plane-geometry.ts';
import { cornersOf } from './outline-shape.ts';
import { useFirstOutline } from './use-first-outline.ts';

export function OutlineScreen(): ReactNode {
  const { roundId = '', role: named } = useParams();
  const round = useAnswer('readRound', { params: { roundId } });
  const role = PHOTO_ROLES.find((each) => each === named) ?? 'after';
  if (round.data === undefined) return <NotHereYet reading={round} />;
  const photo = round.data[role];
  if (photo === null) return <Navigate to={`/rounds/${roundId}/photos`} replace />;
  return (
    <Page
      title={words.round.zoneTitle[role]}
      above={{ to: `/rounds/${roundId}/photos`, word: words.round.photosTitle(round.data.number) }}
      lead={words.round.zoneLead}
    >
      <RoundSteps at={2} />
      <OutlineForm key={role} round={round.data} role={role} photo={photo} />
    </Page>
  );
}

interface FormProps {
  readonly round: ZoneRound;
  readonly role: PhotoRole;
  readonly photo: RoundPhoto;
}

function OutlineForm({ round, role, photo }: FormProps): ReactNode {
  const { outline } = photo;
  const [isDrawing, setDrawing] = useState(outline === null || 'polygonPx' in outline);
  const first = useFirstOutline(photo.photo);
  /** Null until somebody moves a corner. */
  const [moved, setMoved] = useState<readonly Point[] | null>(null);
  const corners = moved ?? cornersOf(outline) ?? cornersLike(round, role) ?? first;
  const keep = useKeepOutline(round, role);
  const navigate = useNavigate();
  const goOn = (kept: Outline | null): void => {
    keep.mutate(kept, { onSuccess: (next) => void navigate(next) });
  };
  if (!isDrawing) {
    return (
      <StatedInMillimetres
        isBusy={keep.isPending}
        onKeep={() => {
          goOn(outline);
        }}
        onDraw={() => {
          setDrawing(true);
        }}
      />
    );
  }
  return (
    <>
      <OutlineEditor photo={photo.photo} alt={words.round.photoAlt[role]} corners={corners} onChange={setMoved} />
      {keep.error === null ? null : <Notice kind="fault">{keep.error.message}</Notice>}
      <div className="actions actions-low">
        <Button
          look="primary"
          isWide
          isBusy={keep.isPending}
          onClick={() => {
            goOn({ polygonPx: corners.map(([x, y]) => [x, y]) });
          }}
        >
          {words.round.keepZone}
        </Button>
      </div>
      <div className="stack stack-tight">
        <div>
          <Button
            look="plain"
            onClick={() => {
              goOn(null);
            }}
          >
            {words.round.wholePhoto}
          </Button>
        </div>
        <p className="muted small">{words.round.wholePhotoHint}</p>
      </div>
    </>
  );
}

/** The outline of the round's other photo, when it was drawn in a picture of the same size. */
function cornersLike(round: ZoneRound, role: PhotoRole): ReturnType<typeof cornersOf> {
  const other = round[role === 'after' ? 'before' : 'after'];
  const own = round[role];
  const isAlike = other?.photo.widthPx === own?.photo.widthPx && other?.photo.heightPx === own?.photo.heightPx;
  return isAlike ? cornersOf(other?.outline ?? null) : null;
}

function StatedInMillimetres({
  isBusy,
  onKeep,
  onDraw,
}: {
  isBusy: boolean;
  onKeep: () => void;
  onDraw: () => void;
}): ReactNode {
  return (
    <>
      <Notice kind="note">{words.round.keptInMm}</Notice>
      <div className="actions">
        <Button look="primary" isWide isBusy={isBusy} onClick={onKeep}>
          {words.round.keepIt}
        </Button>
        <Button onClick={onDraw}>{words.round.drawAnew}</Button>
      </div>
    </>
  );
}
