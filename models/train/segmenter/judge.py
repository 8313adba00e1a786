"""Scores of a network on held-back windows, zones and bridge photos, and its best temperature."""
import numpy as np
import torch
import torch.nn.functional as F

from stores import DEVICE, LEAST_KNOWN, UNKNOWN, bridge_condition, condition_of


@torch.no_grad()
def evaluate(net, windows, bridge, most=1500):
    net.eval()
    index = windows.pick(True)[:most]
    confusion = torch.zeros(6, 6, device=DEVICE)
    errors, kinds = [], []
    seen = []
    for i in index:
        lab = windows.lab[i][None].float() / 100
        target = windows.target[i][None]
        logits, lack = net.both(lab, condition_of(windows.tail[i][None]))
        logits = logits.float()
        seen.append(seen_dwell(lack[0].float(), windows.dwell[i]))
        best = logits.argmax(1)
        known = target != UNKNOWN
        confusion += torch.bincount(target[known].long() * 6 + best[known], minlength=36).view(6, 6).float()
        measured = known & (target > 0)
        if measured.float().mean() > LEAST_KNOWN:
            rest = logits.clone()
            rest[:, 0] = -1e4
            body = rest.argmax(1) >= 3
            errors.append(((body & measured).sum() / measured.sum() - ((target >= 3) & measured).sum() / measured.sum()).item())
            kinds.append(windows.tail[i, 1].item())
    iou = (confusion.diag() / (confusion.sum(0) + confusion.sum(1) - confusion.diag()).clamp(min=1)).cpu().numpy()
    errors, kinds = np.array(errors), np.array(kinds)
    carded = np.abs(errors[kinds == 0])
    tp = fp = fn = 0
    for i in np.flatnonzero(bridge.held):
        p = bridge_probability(net, bridge.lab[i][None])
        truth, known = bridge.truth[i] == 1, bridge.truth[i] != UNKNOWN
        best = (p[0] > 0.5) & known
        tp += (best & truth).sum().item()
        fp += (best & ~truth & known).sum().item()
        fn += (~best & truth).sum().item()
    net.train()
    return {
        'iou': [round(float(v), 4) for v in iou], 'meanIou': round(float(iou[1:].mean()), 4),
        'residueErrorMedian': round(float(np.median(carded)), 4),
        'residueErrorP90': round(float(np.percentile(carded, 90)), 4), 'residueErrorP95': round(float(np.percentile(carded, 95)), 4),
        'residueBias': round(float(errors[kinds == 0].mean()), 4),
        'dwellApart': round(apart(np.array([s for s in seen if s is not None])), 4),
        'bridgeIou': round(tp / max(1, tp + fp + fn), 4), 'bridgeF1': round(2 * tp / max(1, 2 * tp + fp + fn), 4),
        'confusion': [[int(v) for v in row] for row in confusion.cpu().numpy()],
    }


def seen_dwell(lack, dwell):
    """Lack of dwell that is told, mean of the strongest tenth, and whether there is any; None where little is known of it."""
    known = dwell != UNKNOWN
    if known.float().mean() < LEAST_KNOWN:
        return None
    told = torch.sigmoid(lack[known]).sort(descending=True).values
    return told[:max(1, len(told) // 10)].mean().item(), float(((dwell >= 100) & known).sum() > 0.02 * known.sum())


def apart(seen):
    """Chance that a window with stripes is told more lack of dwell than one without (area under the ROC curve)."""
    told, is_there = seen[:, 0], seen[:, 1] > 0
    if is_there.all() or not is_there.any():
        return float('nan')
    return float((told[is_there][:, None] > told[~is_there][None]).mean())


def bridge_probability(net, lab):
    """Rust probability of whole photos: mean over two mirror images."""
    c = bridge_condition(len(lab))
    both = [torch.softmax(net(lab, c).float(), 1)[:, 3], torch.softmax(net(lab.flip(-1), c).float(), 1)[:, 3].flip(-1)]
    return (both[0] + both[1]) / 2


@torch.no_grad()
def best_temperature(net, zones, rng):
    index = rng.permutation(zones.pick(True))[:160]
    logits, targets = [], []
    for i in index:
        out = net(zones.lab[i][None].float() / 100, condition_of(zones.tail[i][None])).float()[0].permute(1, 2, 0)
        target = zones.target[i]
        known = target != UNKNOWN
        keep = torch.rand(int(known.sum()), device=DEVICE) < 0.05
        logits.append(out[known][keep])
        targets.append(target[known][keep].long())
    logits, targets = torch.cat(logits), torch.cat(targets)
    losses = [(F.cross_entropy(logits / t, targets).item(), t) for t in np.linspace(0.7, 2.0, 53)]
    return min(losses)[1]
