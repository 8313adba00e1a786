import { create, toString } from 'qrcode';
import type { LetterWeight } from '../../../measure/card/card-drawing.ts';
import type { LabelPrinter, ZoneLabel } from '../../../services/label-ports.ts';
import { canWrite, textPath, textWidth } from '../letter-shapes.ts';

/** Label, mm. */
const SIZE = { width: 62, height: 29, margin: 2, codeSide: 25 } as const;
/** Sizes of letters, mm. */
const [NAME_MM, JOB_MM, CODE_MM] = [4, 2.7, 5];
/** Quiet zone of a QR code, modules. Source: [ISO18004]. */
const QUIET_MODULES = 4;

/** QR codes with a fair share of error correction: labels get dirty. */
export function qrLabels(): LabelPrinter {
  return {
    zoneLabel: (label) => Promise.resolve(drawLabel(label)),
    qrSvg: (text) => toString(text, { type: 'svg', errorCorrectionLevel: 'M', margin: QUIET_MODULES }),
    qrForConsole: (text) => toString(text, { type: 'utf8', errorCorrectionLevel: 'L' }),
  };
}

function drawLabel({ name, jobName, labelCode, url }: ZoneLabel): string {
  const { modules } = create(url, { errorCorrectionLevel: 'Q' });
  const unit = SIZE.codeSide / (modules.size + 2 * QUIET_MODULES);
  const squares: string[] = [];
  for (let row = 0; row < modules.size; row++) {
    for (let column = 0; column < modules.size; column++) {
      if (modules.get(row, column) === 1) squares.push(`M${column} ${row}h1v1h-1z`);
    }
  }
  const offset = (SIZE.height - SIZE.codeSide) / 2 + QUIET_MODULES * unit;
  const left = SIZE.margin + SIZE.codeSide + 1;
  const room = SIZE.width - left - SIZE.margin;
  const [first, second] = wrap(name, { size: NAME_MM, room });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE.width}mm" height="${SIZE.height}mm" viewBox="0 0 ${SIZE.width} ${SIZE.height}">`,
    `<title>${escapeXml(`${name}, ${jobName}, ${labelCode}`)}</title>`,
    `<rect width="${SIZE.width}" height="${SIZE.height}" fill="#fff"/>`,
    `<path shape-rendering="crispEdges" transform="translate(${offset} ${offset}) scale(${unit})" d="${squares.join('')}" fill="#000"/>`,
    line(first, { x: left, y: 6.8, size: NAME_MM }),
    line(second, { x: left, y: 11.4, size: NAME_MM }),
    line(cut(jobName, { size: JOB_MM, room }), { x: left, y: 16.2, size: JOB_MM, weight: 'regular' }),
    line(`${labelCode.slice(0, 4)} ${labelCode.slice(4)}`, { x: left, y: 25.4, size: CODE_MM }),
    '</svg>',
  ].join('\n');
}

interface LinePlace {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly weight?: LetterWeight;
}

/** Letters as shapes: a printer has not got our typeface. In writing that it lacks the printer takes its own. */
function line(text: string, { x, y, size, weight = 'semibold' }: LinePlace): string {
  if (canWrite(text, weight)) {
    return `<path d="${textPath(text, { x, y, sizeMm: size, weight, anchor: 'start' })}" fill="#000"/>`;
  }
  return `<text x="${x}" y="${y}" font-size="${size}" font-family="sans-serif">${escapeXml(text)}</text>`;
}

interface Room {
  readonly size: number;
  readonly room: number;
}

const fits = (text: string, { size, room }: Room): boolean =>
  textWidth(text, { sizeMm: size, weight: 'semibold' }) <= room;

/** Two lines; what is too long ends in an ellipsis. */
function wrap(text: string, room: Room): [string, string] {
  if (fits(text, room)) return [text, ''];
  const spaces = [...text.matchAll(/ /g)].map(({ index }) => index);
  const space = spaces.findLast((at) => fits(text.slice(0, at), room)) ?? 0;
  return space === 0 ? [cut(text, room), ''] : [text.slice(0, space), cut(text.slice(space + 1), room)];
}

function cut(text: string, room: Room): string {
  if (fits(text, room)) return text;
  const letters = Array.from(text);
  while (letters.length > 0 && !fits(`${letters.join('')}…`, room)) letters.pop();
  return `${letters.join('').trimEnd()}…`;
}

const escapeXml = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.codePointAt(0) ?? 0};`);
