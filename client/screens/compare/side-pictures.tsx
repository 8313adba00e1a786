import { useState } from 'react';
import type { ReactNode } from 'react';
import type { ComparedSide } from '@domain/api/comparisons.ts';
import { PhotoCrop } from '../../components/photo-crop.tsx';
import type { PhotoWindow } from '../../components/photo-crop.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';
import { centreOf } from '../../viewer/plane-geometry.ts';
import { useSideView } from './side-view.ts';
import type { SideView } from './side-view.ts';

/** Widths that a piece can have, mm: a close look, a hand's width, a whole coupon. */
const WIDTHS_MM = ['40', '80', '160'] as const;
const ASPECT = 0.75;

/** A piece of each side at one scale and in one light, as the card in each photo tells it. */
export function SidePictures({ sides }: { sides: readonly ComparedSide[] }): ReactNode {
  const units = useUnits();
  const [width, setWidth] = useState<(typeof WIDTHS_MM)[number]>('80');
  const isOnePhoto = sides.every(({ assessmentId }) => assessmentId === null);
  return (
    <section className="stack">
      <h2>{words.compare.pictures}</h2>
      <PickOne
        isNarrow
        label={words.compare.window}
        options={WIDTHS_MM.map((value) => ({ value, word: units.length(Number(value)) }))}
        value={width}
        onPick={setWidth}
      />
      <ul className="sides">
        {sides.map((side, index) => (
          <li key={side.name}>
            <SidePicture side={side} letter={words.compare.letter(index)} widthMm={Number(width)} />
          </li>
        ))}
      </ul>
      <p className="muted small">{isOnePhoto ? words.compare.onePhoto : words.compare.sameLight}</p>
    </section>
  );
}

function SidePicture({ side, letter, widthMm }: { side: ComparedSide; letter: string; widthMm: number }): ReactNode {
  const units = useUnits();
  const view = useSideView(side);
  const { name, mmPerPixel, assessmentId } = side;
  return (
    <figure className="stack stack-tight">
      {view === null ? (
        <Waiting />
      ) : (
        <PhotoCrop
          photo={view.photo}
          window={windowOf(view, mmPerPixel === null ? null : widthMm / mmPerPixel)}
          outline={view.outline}
          light={view.light}
          alt={
            mmPerPixel === null
              ? words.compare.cropAltAsTaken(name)
              : words.compare.cropAlt(name, units.length(widthMm))
          }
        />
      )}
      <figcaption>
        <strong>{letter}</strong> {name}
        {mmPerPixel === null ? <span className="muted small"> ({words.compare.asTaken})</span> : null}
        {assessmentId !== null && view !== null && view.light === null ? (
          <span className="muted small"> ({words.compare.lightAsTaken})</span>
        ) : null}
      </figcaption>
    </figure>
  );
}

/** The piece in the middle of the zone; without a scale the whole zone. */
function windowOf({ photo, outline }: SideView, widthPx: number | null): PhotoWindow {
  const corners = outline ?? [
    [0, 0],
    [photo.widthPx, photo.heightPx],
  ];
  const xs = corners.map(([x]) => x);
  const [x, y] = centreOf(corners);
  const width = widthPx ?? Math.max(...xs) - Math.min(...xs);
  return { x: x - width / 2, y: y - (ASPECT * width) / 2, width, height: ASPECT * width };
}
