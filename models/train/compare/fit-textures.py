"""Fits what tells textures apart (server/measure/residue/texture-trees.ts) on rows of dump-textures.ts.

    python3 fit-textures.py ROWS.jsonl [...] [--write]

Prints, of sheets that a fit did not see (fivefold, whole sheets): how many pairs whose contrast differs by 25 % are told the
right way round, and how many equals the same (halves of one patch, patches treated alike), at which least difference.
Needs numpy and scikit-learn.
"""
import json
import sys

import numpy as np
from sklearn.ensemble import GradientBoostingRegressor
from sklearn.model_selection import GroupKFold

OUT = __file__.rsplit('/', 4)[0] + '/server/measure/residue/texture-trees.ts'
TREES, DEPTH, RATE, LEAST_LEAF = 60, 4, 0.12, 40
# Signs are differences but for the last two, which both patches share.
SHARED = 2
# Larger ratios teach nothing about those that are hard to tell.
MOST_LOG = 0.6
CLEAR, SAME = np.log(1.25), np.log(1.05)
SAME_RESIDUE = 0.005
# Cells that scatter as much as all else, as in textures-apart.ts.
CELLS_SHARED = 49
# Pairs, halves, pairs treated alike: equals show what else moves the signs.
WEIGHTS = {'pair': 1.0, 'half': 2.0, 'twin': 3.0}


def booster():
    return GradientBoostingRegressor(
        n_estimators=TREES, max_depth=DEPTH, learning_rate=RATE, subsample=0.6, min_samples_leaf=LEAST_LEAF, random_state=1)


def log_square(band):
    left = band['square'] - band['noise']
    return np.log((left + np.hypot(left, 0.2 * band['noise'] + 0.003)) / 2)


def signs_apart(p, q):
    """As in textures-apart.ts."""
    noisier = [max(x['bands'][k]['noise'] / max(1e-9, x['bands'][k]['square']) for x in (p, q)) for k in (0, 1)]
    return [
        *(log_square(a) - log_square(b) for a, b in zip(p['bands'], q['bands'])),
        p['unevenness'] - q['unevenness'],
        np.log(p['plainPart']) - np.log(q['plainPart']),
        p['stainPart'] - q['stainPart'],
        p['lightness'] - q['lightness'],
        max(0, p['lightness'] - 80) - max(0, q['lightness'] - 80),
        p['blurMm'] - q['blurMm'],
        np.sqrt(p['blurMm'] * q['blurMm']),
        min(1, sum(noisier) / 2),
    ]


def examples(sheets):
    """Signs, logarithm of the true ratio, kind, whether a half is the same in residue, cells, sheet."""
    rows = []
    for k, sheet in enumerate(sheets):
        def add(p, q, contrasts, kind, is_same):
            if p is None or q is None or not all(contrasts):
                return
            chance = np.sqrt(1 + CELLS_SHARED * (1 / p['cells'] + 1 / q['cells']))
            rows.append((signs_apart(p, q), np.log(contrasts[0] / contrasts[1]), kind, is_same, chance, k))
        patches = sheet['patches']
        for i, p in enumerate(patches):
            for q in patches[i + 1:]:
                contrasts = (p['contrast'], q['contrast'])
                is_twin = sheet['hasTwins'] and p['name'] == 'A' and q['name'] == 'B'
                is_alike = is_twin and all(contrasts) and abs(np.log(contrasts[0] / contrasts[1])) < SAME
                add(p['texture'], q['texture'], contrasts, 'twin' if is_alike else 'pair', is_alike)
        for half in sheet['halves']:
            is_same = abs(half['residues'][0] - half['residues'][1]) < SAME_RESIDUE
            add(*half['textures'], half['contrasts'], 'half', is_same)
    return tuple(np.array(v) for v in zip(*rows))


def swapped(signs):
    return np.hstack([-signs[:, :-SHARED], signs[:, -SHARED:]])


def fit(signs, logs, weight):
    clipped = np.clip(logs, -MOST_LOG, MOST_LOG)
    return booster().fit(
        np.vstack([signs, swapped(signs)]), np.hstack([clipped, -clipped]), sample_weight=np.hstack([weight, weight]))


def apart(model, signs):
    return (model.predict(signs) - model.predict(swapped(signs))) / 2


def report(logs, kind, is_same, chance, told):
    clear = (kind != 'half') & (np.abs(logs) >= CLEAR)
    for least in (0.028, 0.032, 0.036, 0.04, 0.045, 0.05):
        called = np.where(np.abs(told) > least * chance, np.sign(told), 0)
        part = lambda which, what: f'{np.mean(called[which] == what):.3f} of {which.sum()}'
        print(f'from {least}: right {part(clear, np.sign(logs[clear]))}, wrong way round {part(clear, -np.sign(logs[clear]))}; '
              f'same: halves {part((kind == "half") & is_same, 0)}, treated alike {part(kind == "twin", 0)}')


def unseen(signs, logs, weight, sheet):
    told = np.zeros(len(logs))
    for train, test in GroupKFold(5, shuffle=True, random_state=1).split(signs, logs, sheet):
        told[test] = apart(fit(signs[train], logs[train], weight[train]), signs[test])
    return told


def whole_tree(tree):
    """Sign, threshold and answer of a tree filled up to its full depth."""
    inner = 2 ** DEPTH - 1
    sign, most, odds = [0] * inner, [0.0] * inner, [0.0] * (inner + 1)

    def fill(place, node):
        if place >= inner:
            odds[place - inner] = round(float(RATE * tree.value[node][0][0]), 4)
            return
        is_leaf = tree.children_left[node] < 0
        if not is_leaf:
            sign[place], most[place] = int(tree.feature[node]), float(f'{tree.threshold[node]:.5g}')
        fill(2 * place + 1, node if is_leaf else tree.children_left[node])
        fill(2 * place + 2, node if is_leaf else tree.children_right[node])

    fill(0, 0)
    return sign, most, odds


def write(model, sheets):
    trees = [whole_tree(t[0].tree_) for t in model.estimators_]
    flat = lambda part: ', '.join(str(v) for tree in trees for v in tree[part])
    open(OUT, 'w').write(
        "import type { EvidenceTrees } from '../evidence-trees.ts';\n\n"
        f'/** Written by models/train/compare/fit-textures.py from {len(sheets)} comparison sheets. */\n'
        f'export const TEXTURE_TREES: EvidenceTrees = {{\n  offset: 0,\n  depth: {DEPTH},\n'
        f'  sign: [{flat(0)}],\n  most: [{flat(1)}],\n  odds: [{flat(2)}],\n}};\n')


def main():
    sheets = [json.loads(line) for name in sys.argv[1:] if not name.startswith('--') for line in open(name)]
    signs, logs, kind, is_same, chance, sheet = examples(sheets)
    print(len(sheets), 'sheets,', len(logs), 'pairs')
    weight = np.array([WEIGHTS[k] for k in kind])
    report(logs, kind, is_same, chance, unseen(signs, logs, weight, sheet))
    if '--write' in sys.argv:
        write(fit(signs, logs, weight), sheets)


main()
