"""Fits the evidence tables of the colour segmenter: a multinomial logistic model that is additive over tables.

    python3 models/train/colour-evidence/fit.py SAMPLES_FOLDER OUT.ts

Needs numpy and scipy. Samples come from dump-samples.ts. Of every eight seeds two are held out and reported on.
Each table is a regular grid; a sample touches the nodes round it with (multi)linear weights, so the model is linear in the
entries, the penalised likelihood is convex and the answer unique. A quarter of the scenes never enters the fit.
"""
import base64
import glob
import sys

import numpy as np
import scipy.optimize as optimize
import scipy.sparse as sparse

AXES = {
    'colour': [(0, 100, 15), (-24, 48, 15), (-30, 60, 15)],
    'around': [(0, 100, 9), (-20, 40, 8), (-24, 48, 8)],
    'grain': [(-1.2, 2.5, 9), (0, 100, 8)],
    'mottle': [(-1.2, 3.0, 8), (-1.2, 2.5, 8)],
    'relative': [(-50, 30, 17), (0, 30, 7)],
}
CLASSES = 5
RIDGE = 0.02
ITERATIONS = 80
JITTER = (2.0, 1.0, 1.5)
TEXTURE_OFFSET = 0.3
USUAL_BARE = 60.0


def read(folder):
    rows = np.concatenate([np.fromfile(f, np.float32).reshape(-1, 11) for f in sorted(glob.glob(folder + '/*.f32'))])
    seed = rows[:, 0].astype(int)
    code = rows[:, 1].astype(int)
    return seed * 2 + (code > 10), code % 10 - 1, rows[:, 2:].astype(np.float64)


def nodes(values, axis):
    low, high, count = axis
    t = np.clip((values - low) / (high - low) * (count - 1), 0, count - 1 - 1e-6)
    k = t.astype(int)
    return k, t - k


def table(values, axes):
    n = len(values[0])
    corners = [(np.zeros(n, int), np.ones(n))]
    for v, axis in zip(values, axes):
        k, f = nodes(v, axis)
        corners = [c for i, w in corners for c in ((i * axis[2] + k, w * (1 - f)), (i * axis[2] + k + 1, w * f))]
    size = int(np.prod([a[2] for a in axes]))
    rows = np.tile(np.arange(n), len(corners))
    columns = np.concatenate([i for i, _ in corners])
    weights = np.concatenate([w for _, w in corners]).astype(np.float32)
    return sparse.csr_matrix((weights, (rows, columns)), shape=(n, size))


def design(x, bare):
    """bare: lightness of bare steel per sample, NaN leaves the relative table out."""
    L, a, b, aL, aa, ab = (x[:, k] for k in range(6))
    grain, ml, mc = (np.log(x[:, k] + TEXTURE_OFFSET) for k in range(6, 9))
    known = ~np.isnan(bare)
    relative = table([L - np.where(known, bare, L), np.hypot(a, b)], AXES['relative'])
    relative = sparse.diags(known.astype(np.float32)) @ relative
    return sparse.hstack([
        table([L, a, b], AXES['colour']),
        table([aL, aa, ab], AXES['around']),
        table([grain, L], AXES['grain']),
        table([ml, mc], AXES['mottle']),
        relative,
    ]).tocsr()


def fit(D, y, weights, start=None):
    n, m = D.shape
    DT = D.T.tocsr()
    total = weights.sum()

    def cost(v):
        W = v.reshape(m, CLASSES)
        o = D @ W
        o -= o.max(1, keepdims=True)
        p = np.exp(o)
        p /= p.sum(1, keepdims=True)
        loss = -(weights * np.log(np.maximum(p[np.arange(n), y], 1e-12))).sum() / total
        p[np.arange(n), y] -= 1
        p *= weights[:, None]
        return loss + RIDGE * (v @ v) / m, (DT @ p / total + 2 * RIDGE * W / m).ravel()

    first = np.zeros(m * CLASSES) if start is None else start.ravel()
    done = optimize.minimize(cost, first, jac=True, method='L-BFGS-B', options=dict(maxiter=ITERATIONS, maxcor=8))
    return done.x.reshape(m, CLASSES), done.fun


def probabilities(D, W):
    o = D @ W
    o -= o.max(1, keepdims=True)
    p = np.exp(o)
    return p / p.sum(1, keepdims=True)


def bare_lightness(x, p, view):
    out = np.full(len(x), USUAL_BARE)
    for v in np.unique(view):
        m = view == v
        w = p[m, 0]
        if w.mean() < 0.03:
            continue
        order = np.argsort(x[m, 0])
        sums = np.cumsum(w[order])
        out[m] = x[m, 0][order][np.searchsorted(sums, sums[-1] / 2)]
    return out


def report(name, p, y, view):
    best = p.argmax(1)
    errors = np.array([(best[view == v] >= 2).mean() - (y[view == v] >= 2).mean() for v in np.unique(view)])
    iou = [((best == k) & (y == k)).sum() / max(1, ((best == k) | (y == k)).sum()) for k in range(CLASSES)]
    size = np.abs(errors)
    print(f'{name}: IoU {np.round(iou, 2)} residue |error| median {np.median(size):.4f} p90 {np.percentile(size, 90):.4f}'
          f' p95 {np.percentile(size, 95):.4f} bias {errors.mean():.4f}', flush=True)


def main():
    view, y, x = read(sys.argv[1])
    rng = np.random.default_rng(7)
    held = (view // 2) % 8 < 2
    unknown = np.full(len(x), np.nan)
    train = np.flatnonzero(~held)
    shift = rng.normal(0, 1, (len(train), 3)) * JITTER
    jittered = x[train].copy()
    jittered[:, 0:3] += shift
    jittered[:, 3:6] += shift
    W = None
    bare = unknown
    for round_ in range(3):
        shifted = bare[train] + shift[:, 0]
        D = sparse.vstack([design(x[train], bare[train]), design(jittered, shifted), design(x[train], unknown[train])])
        W, loss = fit(D, np.tile(y[train], 3), np.ones(3 * len(train)), W)
        bare = bare_lightness(x, probabilities(design(x, unknown), W), view)
        print('round', round_, 'loss', round(loss, 4))
    p = probabilities(design(x, bare), W)
    for kind, mask in (('rendered', (view // 2) % 2 == 0), ('composed', (view // 2) % 2 == 1)):
        for part, half in (('whole', 0), ('zone', 1)):
            m = mask & held & (view % 2 == half)
            if m.any():
                report(f'held out {kind} {part}', p[m], y[m], view[m])
    write(W, sys.argv[2])


def write(W, path):
    lines = [
        "import type { ColourEvidence } from './colour-evidence.ts';",
        "import { evidenceTable } from './evidence-table.ts';",
        '',
        '/** Written by models/train/colour-evidence/fit.py; log odds in steps of the last number. */',
        'export const COLOUR_EVIDENCE: ColourEvidence = {',
    ]
    start = 0
    for name, axes in AXES.items():
        size = int(np.prod([a[2] for a in axes]))
        part = W[start:start + size]
        part = part - part.mean(1, keepdims=True)
        start += size
        unit = np.abs(part).max() / 127
        text = base64.b64encode(np.round(part / unit).astype(np.int8).tobytes()).decode()
        axis_text = ', '.join(f'{{ low: {a[0]}, high: {a[1]}, nodes: {a[2]} }}' for a in axes)
        lines.append(f"  {name}: evidenceTable(\n    [{axis_text}],\n    '{text}',\n    {unit:.6g},\n  ),")
    lines.append('};\n')
    open(path, 'w').write('\n'.join(lines))


main()
