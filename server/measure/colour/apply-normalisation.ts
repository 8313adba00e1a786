import type { LinearRgbRaster } from '../raster/rgb-raster.ts';
import { gridToPlane } from '../geometry/surface-grid.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
import type { CorrectionModel } from './correction-model.ts';
import type { NeutralResponse } from './neutral-response.ts';
import type { ColourNormalisation } from './normalise-colour.ts';
import { fieldAt } from './smooth-field.ts';
import type { SmoothField } from './smooth-field.ts';

/** The fitted gradient of light is believed up to this change (logarithm) away from the card, then levels off. */
const MOST_LOG_LIGHT = 0.35;
const TABLE_SIZE = 2048;

/**
 * Turns balanced scene light on the surface grid into true linear sRGB, in place: takes out the gradient of light that the
 * card showed, then applies the colour map.
 */
export function applyNormalisation(
  light: LinearRgbRaster,
  grid: SurfaceGrid,
  normalisation: ColourNormalisation,
): LinearRgbRaster {
  if (normalisation.response !== null && grid.unit === 'mm') levelLight(light, grid, normalisation.response);
  applyModel(light.pixels, normalisation.model);
  return light;
}

/** Logarithm of the light away from the card's centre: linear near the card, bounded far from it. */
export const dampedLogLight = (linear: number): number => MOST_LOG_LIGHT * Math.tanh(linear / MOST_LOG_LIGHT);

function levelLight(light: LinearRgbRaster, grid: SurfaceGrid, response: NeutralResponse): void {
  const { logLightPerMm, centreMm, shade } = response;
  if (shade !== null) liftShade(light, grid, shade);
  const at = (column: number, row: number): number => {
    const [x, y] = gridToPlane(grid, column + 0.5, row + 0.5);
    return logLightPerMm[0] * (x - centreMm[0]) + logLightPerMm[1] * (y - centreMm[1]);
  };
  const start = at(0, 0);
  const perColumn = at(1, 0) - start;
  const perRow = at(0, 1) - start;
  const corners = [start, at(grid.width, 0), at(0, grid.height), at(grid.width, grid.height)];
  const least = Math.min(...corners) - 1e-9;
  const step = (Math.max(...corners) + 1e-9 - least) / TABLE_SIZE;
  const gains = Float32Array.from({ length: TABLE_SIZE + 1 }, (_, i) => Math.exp(-dampedLogLight(least + i * step)));
  const { pixels } = light;
  for (let row = 0, index = 0; row < grid.height; row++) {
    let position = (start + row * perRow - least) / step;
    const move = perColumn / step;
    for (let column = 0; column < grid.width; column++, index += 3, position += move) {
      const gain = gains[position | 0];
      pixels[index] *= gain;
      pixels[index + 1] *= gain;
      pixels[index + 2] *= gain;
    }
  }
}

/** Beyond the card its rim speaks: what lies beside a shaded part is shaded too, as far as anybody can tell. */
function liftShade({ pixels }: LinearRgbRaster, grid: SurfaceGrid, shade: SmoothField): void {
  for (let row = 0, index = 0; row < grid.height; row++) {
    for (let column = 0; column < grid.width; column++, index += 3) {
      const gain = Math.exp(-fieldAt(shade, gridToPlane(grid, column + 0.5, row + 0.5)));
      pixels[index] *= gain;
      pixels[index + 1] *= gain;
      pixels[index + 2] *= gain;
    }
  }
}

function applyModel(pixels: Float32Array, model: CorrectionModel): void {
  if (model.kind === 'balance') return;
  const m = model.coefficients;
  const isRoot = model.kind === 'root-polynomial';
  const n = isRoot ? 6 : 3;
  for (let i = 0; i < pixels.length; i += 3) {
    const r = pixels[i];
    const g = pixels[i + 1];
    const b = pixels[i + 2];
    let x = m[0] * r + m[1] * g + m[2] * b;
    let y = m[n] * r + m[n + 1] * g + m[n + 2] * b;
    let z = m[2 * n] * r + m[2 * n + 1] * g + m[2 * n + 2] * b;
    if (isRoot) {
      const rg = Math.sqrt(r * g);
      const gb = Math.sqrt(g * b);
      const rb = Math.sqrt(r * b);
      x += m[3] * rg + m[4] * gb + m[5] * rb;
      y += m[9] * rg + m[10] * gb + m[11] * rb;
      z += m[15] * rg + m[16] * gb + m[17] * rb;
    }
    pixels[i] = x;
    pixels[i + 1] = y;
    pixels[i + 2] = z;
  }
}
