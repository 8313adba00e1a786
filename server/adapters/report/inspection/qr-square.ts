import QRCode from 'qrcode';
import { INK, fillRectangle } from '../millimetre-page.ts';

/** Light border that readers need. Source: [ISO18004] asks for four modules; the page around adds to these. */
const QUIET_MODULES = 3;

/** Draws a QR code as filled squares; (x, y) is its top left corner, without its light border. */
export function drawQrSquare(
  doc: PDFKit.PDFDocument,
  text: string,
  { x, y, sizeMm }: { readonly x: number; readonly y: number; readonly sizeMm: number },
): void {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' });
  const side = sizeMm / modules.size;
  const quiet = QUIET_MODULES * side;
  fillRectangle(doc, [x - quiet, y - quiet, sizeMm + 2 * quiet, sizeMm + 2 * quiet], [255, 255, 255]);
  for (let row = 0; row < modules.size; row++) {
    for (let column = 0; column < modules.size;) {
      const start = column;
      // Neighbouring dark modules are one rectangle, so that no seam shows between them.
      while (column < modules.size && modules.get(row, column) !== 0) column++;
      if (column > start) doc.rect(x + start * side, y + row * side, (column - start) * side, side);
      else column++;
    }
  }
  doc.fill([...INK]);
}
