import { create, toString } from 'qrcode';
import type { LabelPrinter, ZoneLabel } from '../../../services/label-ports.ts';

/** Label, mm. */
const SIZE = { width: 62, height: 29, margin: 2, codeSide: 25 } as const;
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
  const line = (y: number, size: number, text: string): string =>
    `<text x="${left}" y="${y}" font-size="${size}">${escapeXml(text)}</text>`;
  const [first, second] = wrap(name, 15);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE.width}mm" height="${SIZE.height}mm" viewBox="0 0 ${SIZE.width} ${SIZE.height}" font-family="Barlow, Arial, sans-serif">`,
    `<title>${escapeXml(`${name}, ${jobName}, ${labelCode}`)}</title>`,
    `<rect width="${SIZE.width}" height="${SIZE.height}" fill="#fff"/>`,
    `<path shape-rendering="crispEdges" transform="translate(${offset} ${offset}) scale(${unit})" d="${squares.join('')}" fill="#000"/>`,
    line(7, 3.8, first),
    line(11.6, 3.8, second),
    line(16.4, 2.6, cut(jobName, 23)),
    `<text x="${left}" y="25.4" font-size="4.6" letter-spacing="0.3">${labelCode.slice(0, 4)} ${labelCode.slice(4)}</text>`,
    '</svg>',
  ].join('\n');
}

/** Two lines of about so many characters; what is too long ends in an ellipsis. */
function wrap(text: string, most: number): [string, string] {
  if (text.length <= most) return [text, ''];
  const space = text.lastIndexOf(' ', most);
  return space <= 0 ? [cut(text, most), ''] : [text.slice(0, space), cut(text.slice(space + 1), most)];
}

const cut = (line: string, most: number): string => (line.length <= most ? line : `${line.slice(0, most - 1)}…`);

const escapeXml = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.codePointAt(0) ?? 0};`);
