"""Fits the evidence of bands (server/measure/streaks/bands/band-trees.ts) on rows of dump-bands.ts.

    python3 fit-bands.py ROWS.jsonl [...] [--write]

Prints, of zones that a fit did not see (eightfold, whole zones): how many streaks of contrast 3 and more are found at which
share of alarms on zones without streaks, of rendered photos and of test surfaces apart. Needs numpy and scikit-learn.
"""
import json
import sys

import numpy as np
from sklearn.ensemble import GradientBoostingClassifier
from sklearn.model_selection import GroupKFold

OUT = __file__.rsplit('/', 4)[0] + '/server/measure/streaks/bands/band-trees.ts'
TREES, DEPTH, RATE = 60, 3, 0.08
SAME_DEGREES = 5
# Contrast (CIEDE2000) from which streaks are to be found, and below which they teach nothing.
CLEAR, FAINT = 3.0, 2.0


def booster():
    return GradientBoostingClassifier(
        n_estimators=TREES, max_depth=DEPTH, learning_rate=RATE, subsample=0.7, min_samples_leaf=8, random_state=1)


def apart(a, b):
    return abs((a - b + 90) % 180 - 90)


def is_clear(zone):
    truth = zone['truth']
    return truth is not None and truth['contrast'] >= CLEAR and 0.02 <= truth['cover'] <= 0.98


def examples(zones):
    """Signs, whether they are a streak's, weight, zone, and whether nothing else forbids it."""
    names = list(next(c for z in zones for c in z['candidates'])['signs'])
    rows = []
    for k, zone in enumerate(zones):
        truth = zone['truth']
        for c in zone['candidates']:
            signs = [c['signs'][n] for n in names]
            if truth is None:
                rows.append((signs, 0, 1.0, k, c['isOpen']))
            elif apart(c['degrees'], truth['degrees']) < SAME_DEGREES:
                if truth['contrast'] >= FAINT:
                    rows.append((signs, 1, 1.0 if is_clear(zone) else 0.3, k, c['isOpen']))
            elif truth['contrast'] < CLEAR:
                rows.append((signs, 0, 0.5, k, c['isOpen']))
    signs, label, weight, zone, is_open = (np.array(v) for v in zip(*rows))
    return names, signs, label, weight, zone, is_open


def report(zones, label, zone, is_open, odds):
    best = np.full(len(zones), -99.0)
    for k, o, free in zip(zone, odds, is_open):
        if free:
            best[k] = max(best[k], o)
    rendered = np.array([z['isRendered'] for z in zones])
    none = np.array([z['truth'] is None for z in zones])
    clear = np.array([is_clear(z) for z in zones])
    little = np.array([z['residue'] < 0.2 for z in zones])
    for least in (0.4, 0.6, 0.8, 1.0, 1.2, 1.5):
        part = lambda which: f'{np.mean(best[which] > least):.3f} of {which.sum()}'
        print(f'from {least}: rendered: alarms {part(none & rendered)}, found {part(clear & rendered)}, with little residue '
              f'{part(clear & rendered & little)}; test surfaces: alarms {part(none & ~rendered)}, found {part(clear & ~rendered)}')


def unseen_odds(signs, label, weight, zone, count):
    total = np.zeros(len(label))
    for turn in range(3):
        groups = np.random.default_rng(turn).permutation(count)[zone]
        for train, test in GroupKFold(8).split(signs, label, groups):
            model = booster().fit(signs[train], label[train], sample_weight=weight[train])
            total[test] += model.decision_function(signs[test]) / 3
    return total


def whole_tree(tree, names):
    """Sign, threshold and odds of a tree filled up to its full depth."""
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


def write(model, names, zones):
    trees = [whole_tree(t[0].tree_, names) for t in model.estimators_]
    prior = model.init_.class_prior_
    lines = [f'    {{ sign: {s}, most: {m}, odds: {o} }},' for s, m, o in trees]
    head = [
        "import type { EvidenceTree } from './evidence-tree.ts';", '',
        f'/** Written by models/train/streaks/fit-bands.py from {len(zones)} zones. */',
        'export const BAND_TREES: { readonly offset: number; readonly trees: readonly EvidenceTree[] } = {',
        f'  offset: {np.log(prior[1] / prior[0]):.4f},', '  trees: [']
    open(OUT, 'w').write('\n'.join(head + lines + ['  ],', '};', '']))


def main():
    zones = [json.loads(line) for name in sys.argv[1:] if not name.startswith('--') for line in open(name)]
    names, signs, label, weight, zone, is_open = examples(zones)
    print(len(zones), 'zones,', len(label), 'candidates,', int(label.sum()), 'of them streaks')
    report(zones, label, zone, is_open, unseen_odds(signs, label, weight, zone, len(zones)))
    if '--write' in sys.argv:
        write(booster().fit(signs, label, sample_weight=weight), names, zones)


main()
