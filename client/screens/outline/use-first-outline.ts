import type { StoredPhoto } from '@domain/api/photos.ts';
import type { Point } from '../../viewer/plane-geometry.ts';
import { useCardInPhoto } from '../photos/card-in-photo.tsx';
import { firstOutline, outlineBeside } from './outline-shape.ts';

/** Where the corners stand before anybody moved them: beside the card as soon as it is seen. */
export function useFirstOutline(photo: StoredPhoto): Point[] {
  const card = useCardInPhoto(photo.id).data?.cornersPx ?? null;
  return card === null ? firstOutline(photo) : outlineBeside(card, photo);
}
