import { normalQuantile } from '../../domain/normal-distribution.ts';

const BASES = [2, 3, 5, 7, 11, 13, 17, 19] as const;

/** Most coordinates that {@link haltonNormal} has bases for. */
export const MOST_HALTON_DIMENSIONS = BASES.length;

/** The digits of `index` in a base, mirrored at the point: van der Corput's sequence, inside (0, 1) for index >= 1. */
export function mirroredDigits(index: number, base: number): number {
  let share = 0;
  let place = 1;
  for (let rest = index; rest > 0; rest = Math.floor(rest / base)) {
    place /= base;
    share += place * (rest % base);
  }
  return share;
}

/**
 * Fixed, evenly spread points of a standard normal cloud: the same call always gives the same points, so advice is
 * repeatable without a random source. Point `i` fills `dimensions` numbers from `i * dimensions`. Source: [HALTON1960].
 *
 * @throws RangeError when there are more dimensions than bases
 */
export function haltonNormal(points: number, dimensions: number): Float64Array {
  if (dimensions > MOST_HALTON_DIMENSIONS) {
    throw new RangeError(`Expected at most ${MOST_HALTON_DIMENSIONS} dimensions but received ${dimensions}`);
  }
  const cloud = new Float64Array(points * dimensions);
  for (let point = 0; point < points; point++) {
    for (let axis = 0; axis < dimensions; axis++) {
      cloud[point * dimensions + axis] = normalQuantile(mirroredDigits(point + FIRST_POINT, BASES[axis] ?? 2));
    }
  }
  return cloud;
}

/** The first points line up along a diagonal in the large bases; leaving one round of the largest base out helps. */
const FIRST_POINT = 20;
