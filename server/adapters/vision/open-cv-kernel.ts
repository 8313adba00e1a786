import { photoPoint } from '../../domain/index.ts';
import type { GreyRaster } from '../../measure/raster/plane.ts';
import type { KeypointMatch, Quadrilateral, QuadrilateralSearch, VisionKernel } from '../../measure/vision-kernel.ts';
import { withNativeScope } from './native-scope.ts';
import { openCv } from './open-cv.ts';
import type { Mat, OpenCv } from './open-cv.ts';

/** A corner may leave the straight side by this part of the outline's length before it counts as a fifth corner. */
const POLYGON_TOLERANCE = 0.03;

export function openCvKernel(): VisionKernel {
  return { findDarkQuadrilaterals, matchKeypoints };
}

function findDarkQuadrilaterals(grey: GreyRaster, search: QuadrilateralSearch): Quadrilateral[] {
  const cv = openCv();
  return withNativeScope((own) => {
    const dark = own(new cv.Mat());
    cv.adaptiveThreshold(
      own(toMat(cv, grey)),
      dark,
      255,
      cv.ADAPTIVE_THRESH_MEAN_C,
      cv.THRESH_BINARY_INV,
      search.windowPx,
      search.offset,
    );
    const contours = own(new cv.MatVector());
    cv.findContours(dark, contours, own(new cv.Mat()), cv.RETR_LIST, cv.CHAIN_APPROX_SIMPLE);
    const corners = own(new cv.Mat());
    const found: Quadrilateral[] = [];
    for (let i = 0; i < contours.size(); i++) {
      const quadrilateral = withNativeScope((ownContour) =>
        fourCorners(cv, ownContour(contours.get(i)), corners, search.leastSidePx),
      );
      if (quadrilateral !== null) found.push(quadrilateral);
    }
    return found;
  });
}

function toMat(cv: OpenCv, grey: GreyRaster): Mat {
  const mat = new cv.Mat(grey.height, grey.width, cv.CV_8U);
  mat.data.set(grey.values);
  return mat;
}

function fourCorners(cv: OpenCv, contour: Mat, corners: Mat, leastSidePx: number): Quadrilateral | null {
  const length = contour.rows < 4 ? 0 : cv.arcLength(contour, true);
  if (length < 4 * leastSidePx) return null;
  cv.approxPolyDP(contour, corners, POLYGON_TOLERANCE * length, true);
  if (corners.rows !== 4 || !cv.isContourConvex(corners)) return null;
  const c = corners.data32S;
  // Contours run through pixel centres, which stand at +0.5.
  const points = [0, 1, 2, 3].map((k) => photoPoint(c[2 * k] + 0.5, c[2 * k + 1] + 0.5));
  const sides = points.map((p, k) => Math.hypot(p[0] - points[(k + 1) % 4][0], p[1] - points[(k + 1) % 4][1]));
  if (Math.min(...sides) < leastSidePx) return null;
  const turn =
    (points[1][0] - points[0][0]) * (points[2][1] - points[1][1]) -
    (points[1][1] - points[0][1]) * (points[2][0] - points[1][0]);
  const [p0, p1, p2, p3] = turn > 0 ? points : points.reverse();
  return [p0, p1, p2, p3];
}

function matchKeypoints(first: GreyRaster, second: GreyRaster, mostKeypoints: number): KeypointMatch[] {
  const cv = openCv();
  return withNativeScope((own) => {
    const detector = own(new cv.ORB(mostKeypoints));
    const seen = [first, second].map((grey) => {
      const keypoints = own(new cv.KeyPointVector());
      const descriptors = own(new cv.Mat());
      detector.detectAndCompute(own(toMat(cv, grey)), own(new cv.Mat()), keypoints, descriptors);
      return { keypoints, descriptors };
    });
    if (seen.some((s) => s.descriptors.rows === 0)) return [];
    const matches = own(new cv.DMatchVector());
    own(new cv.BFMatcher(cv.NORM_HAMMING, true)).match(seen[0].descriptors, seen[1].descriptors, matches);
    return Array.from({ length: matches.size() }, (_, i) => {
      const match = matches.get(i);
      const a = seen[0].keypoints.get(match.queryIdx).pt;
      const b = seen[1].keypoints.get(match.trainIdx).pt;
      return { first: [a.x + 0.5, a.y + 0.5], second: [b.x + 0.5, b.y + 0.5] };
    });
  });
}
