import type { PairReading } from '../measure/assess-pair.ts';
import type { PicturePainter } from './ports.ts';

/** The after photo with everything that was measured drawn on it. */
export function drawOverlay(
  title: string,
  { after, assessment, streakLines }: PairReading,
  painter: Pick<PicturePainter, 'overlay'>,
): Promise<Uint8Array> {
  const { raster: photo, view, segmentation, surface } = after;
  return painter.overlay({ title, photo, view, segmentation, surface, streaks: assessment.streaks, streakLines });
}
