import type { ReactNode } from 'react';
import { urlOf } from '../../api/call.ts';
import { PhotoCrop } from '../../components/photo-crop.tsx';
import { words } from '../../i18n/words.ts';
import { formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { pictureFrame, worstInPhoto } from '../../viewer/picture-frame.ts';
import type { PictureFrame } from '../../viewer/picture-frame.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import type { AnswerProps } from './answer-props.ts';
import { shownWorstSquare } from './shown-worst-square.ts';

/** The worst square on the after photo, framed, with surface around it. */
export function WorstSquare({ assessment, result }: AnswerProps): ReactNode {
  const units = useUnits();
  const { worst, isCorrected } = shownWorstSquare({ assessment, result });
  const frame = pictureFrame(assessment, 'after');
  const corners = worst === null || frame === null ? null : worstInPhoto(frame, worst);
  const side = units.length(worst?.sideMm ?? 0);
  return (
    <section className="stack">
      <h2>{words.answer.worst}</h2>
      {worst === null ? (
        <p className="muted">{words.answer.worstNone}</p>
      ) : (
        <p>
          {words.answer.worstLine(side, formatShare(worst.residueFraction))}{' '}
          {isCorrected ? <span className="muted">{words.answer.worstCorrected}</span> : null}
        </p>
      )}
      {corners === null || frame === null ? (
        <img
          className="overlay-picture"
          src={urlOf('readOverlay', { params: { assessmentId: assessment.id } })}
          alt={words.answer.overlayAlt}
        />
      ) : (
        <CroppedPhoto frame={frame} corners={corners} alt={words.answer.worstAlt(side)} />
      )}
    </section>
  );
}

/** Room around the square, in sides of it. */
const ROOM = 0.6;

function CroppedPhoto({
  frame,
  corners,
  alt,
}: {
  frame: PictureFrame;
  corners: readonly Point[];
  alt: string;
}): ReactNode {
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const side = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  const width = Math.min(frame.widthPx, side * (1 + 2 * ROOM));
  const height = Math.min(frame.heightPx, width * 0.75);
  const clamp = (value: number, most: number): number => Math.max(0, Math.min(most, value));
  const x = clamp((Math.min(...xs) + Math.max(...xs)) / 2 - width / 2, frame.widthPx - width);
  const y = clamp((Math.min(...ys) + Math.max(...ys)) / 2 - height / 2, frame.heightPx - height);
  const photo = { id: frame.photoId, widthPx: frame.widthPx, heightPx: frame.heightPx };
  return <PhotoCrop photo={photo} window={{ x, y, width, height }} outline={corners} alt={alt} />;
}
