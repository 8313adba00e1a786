import { useRef, useState } from 'react';
import type { ReactNode, RefObject } from 'react';
import type { StoredPhoto } from '@domain/api/photos.ts';
import { urlOf } from '../../api/call.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { CornerHandle } from './corner-handle.tsx';
import { Loupe } from './loupe.tsx';
import { addCorner, moveCorner, removeCorner } from './outline-shape.ts';

interface EditorProps {
  readonly photo: StoredPhoto;
  readonly alt: string;
  readonly corners: readonly Point[];
  /** Further outlines that are only shown. */
  readonly others?: readonly (readonly Point[])[];
  readonly onChange: (corners: Point[]) => void;
}

/** The zone's corners on the photo, for a finger, a mouse or the arrow keys. */
export function OutlineEditor({ photo, alt, corners, others = [], onChange }: EditorProps): ReactNode {
  const picture = useRef<HTMLDivElement>(null);
  const [held, setHeld] = useState<number | null>(null);
  const source = urlOf('readDisplay', { params: { photoId: photo.id } });
  return (
    <div className="stack">
      <div className="outline" ref={picture}>
        <img src={source} width={photo.widthPx} height={photo.heightPx} alt={alt} draggable={false} />
        <OutlineShade photo={photo} corners={corners} others={others} />
        {corners.map((corner, index) => (
          <CornerHandle
            key={index}
            number={index + 1}
            corner={corner}
            photo={photo}
            toPhoto={(x, y) => photoPointAt(picture, photo, [x, y])}
            onHold={(isHeld) => {
              setHeld(isHeld ? index : null);
            }}
            onMove={(point) => {
              onChange(moveCorner(corners, index, point, photo));
            }}
          />
        ))}
        {held === null ? null : <Loupe source={source} photo={photo} at={corners[held]} />}
      </div>
      <div className="row">
        <Button
          icon="plus"
          onClick={() => {
            onChange(addCorner(corners));
          }}
        >
          {words.round.addCorner}
        </Button>
        <Button
          icon="minus"
          onClick={() => {
            onChange(removeCorner(corners));
          }}
        >
          {words.round.removeCorner}
        </Button>
      </div>
    </div>
  );
}

/** Dims what is not judged and draws the edge so that it reads on any steel. */
function OutlineShade({
  photo,
  corners,
  others,
}: {
  photo: StoredPhoto;
  corners: readonly Point[];
  others: readonly (readonly Point[])[];
}): ReactNode {
  const edge = closed(corners);
  const further = others.map(closed).join('');
  return (
    <svg className="outline-shade" viewBox={`0 0 ${photo.widthPx} ${photo.heightPx}`} aria-hidden="true">
      <path
        d={`M0 0H${photo.widthPx}V${photo.heightPx}H0Z${edge}${further}`}
        fillRule="evenodd"
        className="outline-dim"
      />
      <path d={edge + further} className="outline-casing" />
      <path d={further} className="outline-edge mark-dashed" />
      <path d={edge} className="outline-edge" />
    </svg>
  );
}

const closed = (corners: readonly Point[]): string => `M${corners.map((corner) => corner.join(' ')).join('L')}Z`;

function photoPointAt(picture: RefObject<HTMLDivElement | null>, photo: StoredPhoto, [x, y]: Point): Point {
  const box = picture.current?.getBoundingClientRect();
  if (box === undefined) return [0, 0];
  return [((x - box.left) / box.width) * photo.widthPx, ((y - box.top) / box.height) * photo.heightPx];
}
