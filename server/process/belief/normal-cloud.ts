/** A normal cloud fitted to weighted points, mixed with the prior N(0, 1) so that no region is ever shut out. */
export interface Cloud {
  readonly dimensions: number;
  readonly mean: Float64Array;
  /** Lower triangle L of the covariance L L', row by row. */
  readonly lower: Float64Array;
  readonly logDeterminant: number;
}

/** The fitted cloud is widened by this factor of its variance, so that its edges are looked at too. */
const WIDENING = 1.6;
/** Added to each variance: keeps a cloud of few points from collapsing. */
const LEAST_VARIANCE = 0.02;
/** Every this many points is drawn from the prior instead. */
const PRIOR_EVERY = 5;

export function fitCloud(points: Float64Array, weights: Float64Array, dimensions: number): Cloud {
  const mean = new Float64Array(dimensions);
  const covariance = new Float64Array(dimensions * dimensions);
  weights.forEach((weight, point) => {
    for (let a = 0; a < dimensions; a++) mean[a] += weight * points[point * dimensions + a];
  });
  weights.forEach((weight, point) => {
    for (let a = 0; a < dimensions; a++) {
      const offset = weight * (points[point * dimensions + a] - mean[a]);
      for (let b = 0; b <= a; b++) {
        covariance[a * dimensions + b] += WIDENING * offset * (points[point * dimensions + b] - mean[b]);
      }
    }
  });
  for (let a = 0; a < dimensions; a++) covariance[a * dimensions + a] += LEAST_VARIANCE;
  const lower = choleskyLower(covariance, dimensions);
  let logDeterminant = 0;
  for (let a = 0; a < dimensions; a++) logDeterminant += Math.log(lower[a * dimensions + a]);
  return { dimensions, mean, lower, logDeterminant };
}

/** Moves standard normal points into the cloud; every fifth stays where the prior has it. */
export function drawAround(cloud: Cloud, normals: Float64Array): Float64Array {
  const { dimensions, mean, lower } = cloud;
  const drawn = normals.slice();
  for (let start = 0, point = 0; start < normals.length; start += dimensions, point++) {
    if (point % PRIOR_EVERY === 0) continue;
    for (let a = 0; a < dimensions; a++) {
      let value = mean[a];
      for (let b = 0; b <= a; b++) value += lower[a * dimensions + b] * normals[start + b];
      drawn[start + a] = value;
    }
  }
  return drawn;
}

/** Log of prior density over density of {@link drawAround} at each point: the correction of importance sampling. */
export function logImportance(cloud: Cloud, points: Float64Array): Float64Array {
  const { dimensions, mean, lower, logDeterminant } = cloud;
  const solved = new Float64Array(dimensions);
  return Float64Array.from({ length: points.length / dimensions }, (_, point) => {
    let prior = 0;
    let around = 0;
    for (let a = 0; a < dimensions; a++) {
      const z = points[point * dimensions + a];
      let rest = z - mean[a];
      for (let b = 0; b < a; b++) rest -= lower[a * dimensions + b] * solved[b];
      solved[a] = rest / lower[a * dimensions + a];
      prior -= 0.5 * z * z;
      around -= 0.5 * solved[a] ** 2;
    }
    const cloudDensity = (1 - 1 / PRIOR_EVERY) * Math.exp(around - logDeterminant - prior);
    return -Math.log(1 / PRIOR_EVERY + cloudDensity);
  });
}

/** Lower triangle L with L L' = matrix (symmetric, positive definite). Source: Cholesky's method. */
function choleskyLower(matrix: Float64Array, size: number): Float64Array {
  const lower = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * size + column];
      for (let k = 0; k < column; k++) sum -= lower[row * size + k] * lower[column * size + k];
      lower[row * size + column] =
        row === column ? Math.sqrt(Math.max(sum, Number.EPSILON)) : sum / lower[column * size + column];
    }
  }
  return lower;
}
