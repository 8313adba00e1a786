"""Trains one design, or several for comparison, on windows that draw-windows.ts keeps writing, and on the bridge photos.

    python3 train.py --windows FOLDER --bridge FOLDER --out FOLDER --seconds N --designs a,b [--smoke]
    python3 -m torch.distributed.run --standalone --nproc_per_node GPUS train.py ...     (every GPU its share of the seeds)

Everything is held and varied on the GPU; files are deleted once read, with --consume. Windows and zones whose seed is a
multiple of 20 are kept for validation, and so are every fifth block of 20 consecutive bridge photos (consecutive photos
show the same bridge): evaluation is on those.
"""
import argparse
import json
import os
import threading
import time

import numpy as np
import torch
import torch.distributed as dist
import torch.nn.functional as F

from designs import DESIGNS
from export import export
from grow import grow
from judge import best_temperature, evaluate
from stores import (
    DEVICE, RANK, SIDE, UNKNOWN, WHOLE_DWELL, WORLD, ZONE_SIDE, Bridge, Windows, bridge_condition, condition_of, learn_errors)
from variation import flatten_classes, mix_classes, vary, window_batch, zone_batch

BRIDGE_BATCH = 20
KIND = DEVICE.split(':')[0]
# Weight of the squared error of a whole zone's residue share; that of a window weighs less.
ZONE_BIAS_WEIGHT = 10.0
DWELL_WEIGHT = 1.0
# Stain is rare and faint: unweighted, it was hardly ever told from bare steel.
CLASS_WEIGHTS = torch.tensor([1.0, 1, 2, 1, 1, 1])


def say(*words):
    if RANK == 0:
        print(*words, flush=True)


def window_loss(logits, target, bias_weight=2.0):
    logits = logits.float()
    known = target != UNKNOWN
    loss = F.cross_entropy(logits, target.long(), ignore_index=UNKNOWN, weight=CLASS_WEIGHTS.to(DEVICE))
    measured = known & (target > 0)
    p = torch.softmax(logits, 1)
    body = p[:, 3:].sum(1)
    truth = (target >= 3) & known
    pb = body.clamp(1e-5, 1 - 1e-5)
    binary = F.binary_cross_entropy(pb[measured], truth[measured].float())
    area = measured.flatten(1).sum(1).clamp(min=1)
    bias = ((body * measured).flatten(1).sum(1) - (truth & measured).flatten(1).sum(1)) / area
    return loss + 0.5 * binary + bias_weight * (bias ** 2).mean(), bias.detach().abs()


def dwell_loss(logit, dwell):
    """Cross-entropy of the share of dwell that a place lacks; logit and dwell (N, H, W) at half the size."""
    known = (dwell != UNKNOWN).float()
    share = (dwell.float() / WHOLE_DWELL).clamp(max=1)
    loss = F.binary_cross_entropy_with_logits(logit.float(), share, reduction='none')
    return (loss * known).sum() / known.sum().clamp(min=1)


def bridge_loss(logits, truth):
    p = torch.softmax(logits.float(), 1)[:, 3].clamp(1e-5, 1 - 1e-5)
    known = (truth != UNKNOWN).float()
    y = (truth == 1).float()
    bce = (F.binary_cross_entropy(p, y, reduction='none') * known).sum() / known.sum()
    dice = 1 - (2 * (p * y * known).sum() + 1) / ((p * known).sum() + (y * known).sum() + 1)
    return bce + 0.5 * dice


class Average:
    """Exponential moving average of the weights: what is kept."""

    def __init__(self, net, decay=0.998):
        self.decay = decay
        self.state = {k: v.clone().float() for k, v in net.state_dict().items()}

    def update(self, net, step):
        d = min(self.decay, (1 + step) / (10 + step))
        for k, v in net.state_dict().items():
            self.state[k].lerp_(v.float(), 1 - d) if v.dtype.is_floating_point else self.state[k].copy_(v)


def shared(net, part):
    """Means the gradients over all processes, and returns the mean of `part`, so that all go on alike."""
    if WORLD == 1:
        return part
    grads = [p.grad for p in net.parameters() if p.grad is not None]
    flat = torch.cat([g.flatten() for g in grads] + [torch.tensor([part], device=DEVICE)])
    dist.all_reduce(flat)
    flat /= WORLD
    at = 0
    for g in grads:
        g.copy_(flat[at:at + g.numel()].view_as(g))
        at += g.numel()
    return flat[-1].item()


def resumed(name, options):
    net = DESIGNS[name]().to(DEVICE).to(memory_format=torch.channels_last)
    if options.resume:
        net.load_state_dict(grow(torch.load(options.resume, map_location=DEVICE), net, keep_silent=False))
        net.temperature.fill_(1.0)
    return net


class Supply:
    """Batches of windows, and of whole zones every other time, from stores that keep growing."""

    def __init__(self, windows, zones, options):
        self.windows, self.zones, self.even = windows, zones, options.evenness
        self.rng = np.random.default_rng(11 + RANK)
        for store in (windows, zones):
            threading.Thread(target=store.keep_reading, daemon=True).start()
        self.last = 0
        self.refresh()

    def refresh(self):
        if time.time() - self.last < 15:
            return
        self.index, self.zone_index = self.windows.pick(False), self.zones.pick(False)
        self.chances = self.windows.chances(self.index, self.even)
        self.zone_chances = self.zones.chances(self.zone_index, self.even)
        self.last = time.time()

    def windows_of(self, is_wide):
        lab, target, dwell, tail, places = window_batch(self.windows, self.rng, self.index, is_wide, self.chances)
        lab, target, dwell = mix_classes(lab, target, dwell, tail)
        lab, dwell = flatten_classes(lab, target, dwell)
        return lab, target, dwell, tail, places

    def zones_of(self):
        return zone_batch(self.zones, self.rng, self.zone_chances, self.zone_index)


def step_loss(net, supply, bridge, step):
    """Loss of one batch: whole zones every other step, else windows, small ones together with bridge photos."""
    if step % 2 == 1:
        lab, target, dwell, tail, places = supply.zones_of()
        with torch.autocast(KIND, torch.bfloat16):
            logits, lack = net.both(lab.contiguous(memory_format=torch.channels_last), condition_of(tail))
        loss, error = window_loss(logits, target, ZONE_BIAS_WEIGHT)
        learn_errors(supply.zones, places, error)
        return loss + DWELL_WEIGHT * dwell_loss(lack, dwell), 'zones'
    is_wide = step % 6 == 4
    lab, target, dwell, tail, places = supply.windows_of(is_wide)
    count = len(lab)
    loose, condition = tail[:, 1].view(-1, 1, 1, 1), condition_of(tail)
    if not is_wide:
        bridge_lab, bridge_truth = bridge.batch(supply.rng, BRIDGE_BATCH)
        lab = torch.cat([lab, bridge_lab])
        loose = torch.cat([loose, torch.ones(BRIDGE_BATCH, 1, 1, 1, device=DEVICE)])
        condition = torch.cat([condition, bridge_condition(BRIDGE_BATCH)])
    with torch.autocast(KIND, torch.bfloat16):
        logits, lack = net.both(vary(lab, loose).contiguous(memory_format=torch.channels_last), condition)
    loss, error = window_loss(logits[:count], target)
    loss = loss + DWELL_WEIGHT * dwell_loss(lack[:count], dwell)
    learn_errors(supply.windows, places, error)
    return (loss if is_wide else loss + 0.5 * bridge_loss(logits[count:], bridge_truth)), 'windows'


def train(name, stores, bridge, options):
    torch.manual_seed(11 + RANK)
    torch.backends.cudnn.benchmark = True
    windows, zones = stores
    supply = Supply(windows, zones, options)
    net = resumed(name, options)
    if WORLD > 1:
        for value in net.state_dict().values():
            dist.broadcast(value, 0)
    average = Average(net)
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-3, weight_decay=1e-3)
    start = kept = time.time()
    step, part = 0, 0.0
    while part < 1 and not (options.smoke and step >= 12):
        supply.refresh()
        loss, kind = step_loss(net, supply, bridge, step)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        part = shared(net, (time.time() - start) / max(options.seconds, 1e-3))
        rate = options.rate * min(1, (step + 1) / 300) * (0.5 + 0.5 * np.cos(np.pi * min(1, part))) + 1e-5
        for group in optimiser.param_groups:
            group['lr'] = rate
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        average.update(net, step)
        step += 1
        if RANK == 0 and time.time() - kept > 200:
            torch.save(average.state, f'{options.out}/{name}.part')
            kept = time.time()
        if step % 200 < 2:
            say(f'{name} step {step} t {time.time() - start:.0f} windows {windows.count} zones {zones.count} {kind} {loss.item():.4f}')
    if RANK == 0:
        keep(name, net, average, {'steps': step, 'options': options, 'bridge': bridge, 'windows': windows, 'zones': zones})


def keep(name, net, average, run):
    """Judges the kept average beside the weights that training went on from, and writes both files and scores."""
    options, windows, zones, bridge = (run[k] for k in ('options', 'windows', 'zones', 'bridge'))
    net.load_state_dict({k: v.to(net.state_dict()[k].dtype) for k, v in average.state.items()})
    torch.save(net.state_dict(), f'{options.out}/{name}.pt')
    result = evaluate(net, windows, bridge) | {'zones': evaluate(net, zones, bridge)}
    if options.resume:
        result['zonesBefore'] = evaluate(resumed(name, options), zones, bridge)
    net.eval()
    temperature = best_temperature(net, zones, np.random.default_rng(3))
    net.temperature.fill_(temperature)
    result |= {'design': name, 'steps': run['steps'], 'windows': windows.count, 'zoneCount': zones.count, 'processes': WORLD,
               'temperature': round(float(temperature), 3), 'parameters': sum(p.numel() for p in net.parameters())}
    say(json.dumps(result))
    torch.save(net.state_dict(), f'{options.out}/{name}.pt')
    json.dump(result, open(f'{options.out}/{name}.json', 'w'))
    export(net, f'{options.out}/{name}.onnx')


def main():
    parser = argparse.ArgumentParser()
    for word in ('windows', 'bridge', 'out', 'designs'):
        parser.add_argument('--' + word, required=True)
    parser.add_argument('--seconds', type=float, required=True)
    parser.add_argument('--capacity', type=int, default=28000, help='windows of one process; a third as many zones')
    parser.add_argument('--first', type=int, default=200, help='zones of one process to wait for before training')
    parser.add_argument('--consume', action='store_true', help='delete files once read')
    parser.add_argument('--resume', help='weights to go on from, of this design or a narrower one')
    parser.add_argument('--rate', type=float, default=3e-3)
    parser.add_argument('--evenness', type=float, default=0.3, help='0.03 picks hard windows up to nine times as often, 0.3 up to twice')
    parser.add_argument('--smoke', action='store_true')
    options = parser.parse_args()
    os.makedirs(options.out, exist_ok=True)
    if WORLD > 1:
        if KIND == 'cuda':
            torch.cuda.set_device(DEVICE)
        dist.init_process_group('nccl' if KIND == 'cuda' else 'gloo')
    bridge = Bridge(options.bridge)
    windows = Windows(options, 'win', SIDE, options.capacity)
    zones = Windows(options, 'zone', ZONE_SIDE, options.capacity // 3)
    for name in options.designs.split(','):
        while len(zones.pick(False)) < options.first:
            windows.refresh(1000)
            zones.refresh(1000)
            time.sleep(1)
        say('windows', windows.count, 'zones', zones.count, 'bridge', len(bridge.held), 'held', bridge.held.sum())
        train(name, (windows, zones), bridge, options)
    if WORLD > 1:
        dist.barrier()
        dist.destroy_process_group()


main()
