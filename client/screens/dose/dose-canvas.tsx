import { useLayoutEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { rampColour } from '@domain/ramp-colour.ts';

/**
 * A raster of shares 0..1 in true proportion: dark keeps more residue, or light is given more energy. Its attributes
 * say when the dial was moved, and how long after that it stood on the screen, ms.
 */
export function DoseCanvas(props: {
  cells: readonly (readonly number[])[];
  most: number;
  ramp: 'residue' | 'energy';
  proportion: number;
  word: string;
  title: string;
  movedAtMs: number;
}): ReactNode {
  const { cells, most, ramp, proportion, word, title, movedAtMs } = props;
  const canvas = useRef<HTMLCanvasElement>(null);
  const [rows, columns] = [cells.length, cells[0].length];
  useLayoutEffect(() => {
    const surface = canvas.current;
    const context = surface?.getContext('2d');
    if (surface === null || context === null || context === undefined) return;
    const image = context.createImageData(columns, rows);
    cells.forEach((row, y) => {
      row.forEach((value, x) => {
        const [red, green, blue] = rampColour(ramp, value / most);
        const at = 4 * (y * columns + x);
        image.data[at] = red;
        image.data[at + 1] = green;
        image.data[at + 2] = blue;
        image.data[at + 3] = 255;
      });
    });
    context.putImageData(image, 0, 0);
    surface.dataset['movedAtMs'] = String(movedAtMs);
    surface.dataset['drawnAfterMs'] = (performance.now() - movedAtMs).toFixed(1);
  }, [cells, most, ramp, rows, columns, movedAtMs]);
  return (
    <figure className="dose-picture">
      <canvas
        ref={canvas}
        width={columns}
        height={rows}
        role="img"
        aria-label={word}
        style={{ aspectRatio: proportion }}
      />
      <figcaption>{title}</figcaption>
    </figure>
  );
}
