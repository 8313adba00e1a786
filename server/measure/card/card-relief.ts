import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { focalLengthOf } from './card-pose.ts';

/**
 * How a point of the card moves in the photo when it stands off the plane: ideal pixels per mm towards the camera.
 * From the plane homography H = K [r1 r2 t] and the focal length, K r3 with r3 = r1 x r2. Source: [HARTLEY2004], section 8.1.
 */
export function reliefMotion(
  toIdeal: Homography<SurfacePoint, PhotoPoint>,
  photo: { readonly width: number; readonly height: number },
): (point: SurfacePoint) => [du: number, dv: number] {
  const h = toIdeal.elements;
  const focal = focalLengthOf(toIdeal, photo);
  const [cx, cy] = [photo.width / 2, photo.height / 2];
  const column = (k: 0 | 1): [number, number, number] => [
    (h[k] - cx * h[6 + k]) / focal,
    (h[3 + k] - cy * h[6 + k]) / focal,
    h[6 + k],
  ];
  const [a, b] = [column(0), column(1)];
  // H is known up to scale; the length of a rotation's column fixes it.
  const scale = Math.sqrt(Math.hypot(...a) * Math.hypot(...b));
  // r1 x r2 points away from the camera for a card read upright; towards the camera is its opposite.
  const away = [
    (a[1] * b[2] - a[2] * b[1]) / scale,
    (a[2] * b[0] - a[0] * b[2]) / scale,
    (a[0] * b[1] - a[1] * b[0]) / scale,
  ];
  const [ku, kv, kw] = [focal * away[0] + cx * away[2], focal * away[1] + cy * away[2], away[2]];
  return ([x, y]) => {
    const depth = h[6] * x + h[7] * y + h[8];
    const u = (h[0] * x + h[1] * y + h[2]) / depth;
    const v = (h[3] * x + h[4] * y + h[5]) / depth;
    return [-(ku - u * kw) / depth, -(kv - v * kw) / depth];
  };
}
