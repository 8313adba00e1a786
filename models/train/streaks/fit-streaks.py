"""Fits the evidence of waves and of bands (wave-trees.ts, band-trees.ts in server/measure/streaks) on rows of dump-streaks.ts.

    python3 fit-streaks.py ROWS.jsonl [...] [--write]

Prints, of zones that a fit did not see (sixfold, whole zones): how many streaks of contrast 3 and more are found at which
share of alarms on zones without streaks, of rendered photos and of test surfaces apart, by waves, by bands and by either.
Needs numpy and scikit-learn.
"""
import json
import re
import sys

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.model_selection import GroupKFold

ROOT = __file__.rsplit('/', 4)[0] + '/server/measure/streaks/'
# Signs that speak for a streak the more, or against it, whatever else is there.
RISING = {'dwellWave': 1, 'dwellRise': 1, 'unrest': -1}
# Where the signs and the trees of each stand: files and names begin so.
PLACES = {'waves': ('waves/wave', 'WAVE'), 'bands': ('bands/band', 'BAND')}
DEPTH = 3
BOOST = {
    'waves': dict(max_iter=100, learning_rate=0.06, l2_regularization=10.0, max_features=0.4),
    'bands': dict(max_iter=200, learning_rate=0.05, l2_regularization=10.0, max_features=0.5),
}
SAME_DEGREES, SAME_PITCH = 5, 0.06
# Contrast (CIEDE2000) from which streaks are to be found, and below which they teach nothing.
CLEAR, FAINT = 3.0, 2.0


def booster(kind):
    file, name = PLACES[kind]
    listed = re.search(name + r'_SIGNS = \[(.*?)\]', open(f'{ROOT}{file}-signs.ts').read(), re.S).group(1)
    names = re.findall(r"'(\w+)'", listed)
    return HistGradientBoostingClassifier(
        **BOOST[kind], monotonic_cst=[RISING.get(sign, 0) for sign in names], max_depth=DEPTH,
        max_leaf_nodes=2 ** DEPTH, min_samples_leaf=20, early_stopping=False, random_state=1)


def apart(a, b):
    return abs((a - b + 90) % 180 - 90)


def is_clear(zone):
    truth = zone['truth']
    return truth is not None and truth['contrast'] >= CLEAR and 0.02 <= truth['cover'] <= 0.98


def examples(zones, kind):
    """Signs, whether they are a streak's (-1 teaches nothing), weight, zone, and whether nothing else forbids it, of all candidates."""
    rows = []
    for k, zone in enumerate(zones):
        truth = zone['truth']
        for c in zone[kind]:
            if truth is None:
                label, weight = 0, 1.0
            elif apart(c['degrees'], truth['degrees']) < SAME_DEGREES:
                label = 1 if truth['contrast'] >= FAINT else -1
                is_off = kind == 'waves' and truth['pitch'] and abs(c['pitch'] / truth['pitch'] - 1) > SAME_PITCH
                weight = 1.0 if is_clear(zone) and not is_off else 0.3
            else:
                label, weight = 0, 0.3 if is_clear(zone) else 0.5
            rows.append((c['signs'], label, weight, k, c.get('isOpen', True)))
    return [np.array(v) for v in zip(*rows)]


def unseen_odds(kind, signs, label, weight, zone, count):
    odds = np.full(len(label), -99.0)
    groups = np.random.default_rng(1).permutation(count)[zone]
    for train, test in GroupKFold(6).split(signs, label, groups):
        train = train[label[train] >= 0]
        model = booster(kind).fit(signs[train], label[train], sample_weight=weight[train])
        odds[test] = model.decision_function(signs[test])
    return odds


def most_of(count, zone, odds):
    best = np.full(count, -99.0)
    np.maximum.at(best, zone, odds)
    return best


def report(zones, best):
    part = lambda which: np.array([which(z) for z in zones])
    none, clear, rendered = part(lambda z: z['truth'] is None), part(is_clear), part(lambda z: z['isRendered'])
    told = part(lambda z: z['isDwellTold'])
    much = part(lambda z: z['residue'] >= 0.2)
    share = lambda found, which: f'{np.mean(found[which]):.3f} of {which.sum()}'
    for least in (0.0, 0.4, 0.8, 1.2, 1.6, 2.0, 2.5):
        for name, found in {**{k: v > least for k, v in best.items()},
                            'either': np.any([v > least for v in best.values()], axis=0)}.items():
            print(f'from {least} by {name:6}: rendered: alarms {share(found, none & rendered)}, found {share(found, clear & rendered)}, '
                  f'with much residue {share(found, clear & rendered & much)}, with dwell told {share(found, none & rendered & told)}, '
                  f'{share(found, clear & rendered & told)}; test surfaces: alarms {share(found, none & ~rendered)}, '
                  f'found {share(found, clear & ~rendered)}')


def whole_tree(nodes):
    """Sign, threshold and odds of a tree filled up to its full depth."""
    inner = 2 ** DEPTH - 1
    sign, most, odds = [0] * inner, [0.0] * inner, [0.0] * (inner + 1)

    def fill(place, node):
        if place >= inner:
            odds[place - inner] = round(float(node['value']), 4)
            return
        if not node['is_leaf']:
            sign[place], most[place] = int(node['feature_idx']), float(f'{node["num_threshold"]:.5g}')
        fill(2 * place + 1, node if node['is_leaf'] else nodes[node['left']])
        fill(2 * place + 2, node if node['is_leaf'] else nodes[node['right']])

    fill(0, nodes[0])
    return sign, most, odds


def write(kind, model, zones):
    file, name = PLACES[kind]
    offset = float(np.ravel(model._baseline_prediction)[0])
    trees = [whole_tree(predictors[0].nodes) for predictors in model._predictors]
    flat = lambda part: ', '.join(str(v) for tree in trees for v in tree[part])
    open(f'{ROOT}{file}-trees.ts', 'w').write(
        "import type { EvidenceTrees } from '../../evidence-trees.ts';\n\n"
        f'/** Written by models/train/streaks/fit-streaks.py from {len(zones)} zones. */\n'
        f'export const {name}_TREES: EvidenceTrees = {{\n  offset: {offset:.4f},\n  depth: {DEPTH},\n'
        f'  sign: [{flat(0)}],\n  most: [{flat(1)}],\n  odds: [{flat(2)}],\n}};\n')


def main():
    zones = [json.loads(line) for name in sys.argv[1:] if not name.startswith('--') for line in open(name)]
    best = {}
    for kind in PLACES:
        signs, label, weight, zone, is_open = examples(zones, kind)
        print(kind, 'of', len(zones), 'zones:', len(label), 'candidates,', int((label == 1).sum()), 'of them streaks')
        odds = unseen_odds(kind, signs, label, weight, zone, len(zones))
        best[kind] = most_of(len(zones), zone[is_open], odds[is_open])
        if '--write' in sys.argv:
            teaches = label >= 0
            model = booster(kind).fit(signs[teaches], label[teaches], sample_weight=weight[teaches])
            write(kind, model, zones)
    report(zones, best)


main()
