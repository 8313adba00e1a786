import { textPath, textWidth } from '../letter-shapes.ts';
import type { LetterWeight } from '../../../measure/card/card-drawing.ts';

type Vertex = readonly [number, number];

/** SVG of lines and words laid over a picture: everything has a dark casing, so that it reads on any ground. */
export class OverlayDrawing {
  readonly #parts: string[] = [];
  readonly #unit: number;

  /** @param unit line and letter size, px */
  constructor(unit: number) {
    this.#unit = unit;
  }

  polygon(points: readonly Vertex[], options: { dashed?: boolean; weight?: number } = {}): void {
    this.#stroke(`M${points.map(([x, y]) => `${fixed(x)} ${fixed(y)}`).join('L')}Z`, options);
  }

  line(points: readonly Vertex[], options: { dashed?: boolean; weight?: number } = {}): void {
    this.#stroke(`M${points.map(([x, y]) => `${fixed(x)} ${fixed(y)}`).join('L')}`, options);
  }

  /** White words with a dark casing, baseline at the point. */
  words(text: string, at: Vertex, options: { anchor?: 'start' | 'middle' | 'end'; size?: number } = {}): void {
    const path = textPath(text, {
      x: at[0],
      y: at[1],
      sizeMm: options.size ?? 2.2 * this.#unit,
      weight: 'semibold',
      anchor: options.anchor ?? 'start',
    });
    this.#parts.push(
      `<path d="${path}" fill="none" stroke="#101010" stroke-width="${fixed(0.55 * this.#unit)}" stroke-linejoin="round"/>`,
      `<path d="${path}" fill="#ffffff"/>`,
    );
  }

  /** Plain words for a panel. */
  label(text: string, at: Vertex, options: { size: number; colour: string; weight?: LetterWeight }): number {
    const weight = options.weight ?? 'regular';
    const path = textPath(text, { x: at[0], y: at[1], sizeMm: options.size, weight, anchor: 'start' });
    this.#parts.push(`<path d="${path}" fill="${options.colour}"/>`);
    return textWidth(text, { sizeMm: options.size, weight });
  }

  rectangle(box: { x: number; y: number; width: number; height: number }, fill: string): void {
    this.#parts.push(
      `<rect x="${fixed(box.x)}" y="${fixed(box.y)}" width="${fixed(box.width)}" height="${fixed(box.height)}" fill="${fill}"/>`,
    );
  }

  toSvg(width: number, height: number): string {
    return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${this.#parts.join('')}</svg>`;
  }

  #stroke(path: string, { dashed = false, weight = 1 }: { dashed?: boolean; weight?: number }): void {
    const width = 0.35 * this.#unit * weight;
    const dash = dashed ? ` stroke-dasharray="${fixed(1.6 * this.#unit)} ${fixed(1.1 * this.#unit)}"` : '';
    const common = 'fill="none" stroke-linejoin="round" stroke-linecap="butt"';
    this.#parts.push(
      `<path d="${path}" ${common} stroke="#101010" stroke-width="${fixed(width * 2)}"/>`,
      `<path d="${path}" ${common} stroke="#ffffff" stroke-width="${fixed(width)}"${dash}/>`,
    );
  }
}

const fixed = (value: number): string => value.toFixed(1);
