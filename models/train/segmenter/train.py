"""Trains one design, or several for comparison, on windows that draw-windows.ts keeps writing, and on the bridge photos.

    python3 train.py --windows FOLDER --bridge FOLDER --out FOLDER --seconds N --designs a,b [--smoke]

Everything is held and varied on the GPU. Windows whose seed is a multiple of 20 are kept for validation, and so are every
fifth block of 20 consecutive bridge photos (consecutive photos show the same bridge): evaluation is on those.
"""
import argparse
import glob
import json
import os
import time

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

from designs import DESIGNS
from export import export
from grow import grow

SIDE = 384
COUNT = SIDE * SIDE
RECORD = 7 * COUNT + 8
CROP = 256
WIDE_CROP = 384
UNKNOWN = 255
BATCH = 64
WIDE_BATCH = 28
GROUP = 4
BRIDGE_BATCH = 20
CLASSES = 6
UNKNOWN_STEP_MM = 1.0
DEVICE = 'cuda'
# Error of a window's residue share, as share: what one not yet seen counts as, and the most that counts.
FIRST_ERROR, MOST_ERROR = 0.06, 0.25
# Stain is rare and faint: unweighted, it was hardly ever told from bare steel.
CLASS_WEIGHTS = torch.tensor([1.0, 1, 2, 1, 1, 1])


def say(*words):
    print(*words, flush=True)


class Windows:
    """A growing store of windows in GPU memory."""

    def __init__(self, folder, capacity):
        self.folder = folder
        self.lab = torch.empty((capacity, 3, SIDE, SIDE), dtype=torch.int16, device=DEVICE)
        self.target = torch.empty((capacity, SIDE, SIDE), dtype=torch.uint8, device=DEVICE)
        self.tail = torch.empty((capacity, 2), device=DEVICE)
        self.is_held = np.zeros(capacity, bool)
        self.known = np.zeros(capacity)
        # Running error of the residue share per window: see `chances`.
        self.error = torch.full((capacity,), FIRST_ERROR, device=DEVICE)
        self.count = 0
        self.seen = set()

    def refresh(self, most=400):
        names = [n for n in glob.glob(self.folder + '/*.win') if n not in self.seen][:most]
        for name in names:
            self.seen.add(name)
            seed = int(os.path.basename(name)[:-4])
            data = np.fromfile(name, np.uint8)
            for k in range(len(data) // RECORD):
                if self.count >= len(self.is_held):
                    return
                record = data[k * RECORD:(k + 1) * RECORD]
                i = self.count
                self.lab[i] = torch.from_numpy(record[:6 * COUNT].copy().view(np.int16).reshape(3, SIDE, SIDE)).to(DEVICE)
                target = record[6 * COUNT:7 * COUNT].reshape(SIDE, SIDE)
                self.target[i] = torch.from_numpy(target.copy()).to(DEVICE)
                self.tail[i] = torch.from_numpy(record[7 * COUNT:].copy().view(np.float32)).to(DEVICE)
                self.known[i] = (target != UNKNOWN).mean()
                self.is_held[i] = seed % 20 == 0
                self.count += 1

    def pick(self, held):
        return np.flatnonzero((self.is_held[:self.count] == held) & (self.known[:self.count] > 0.35))


    def chances(self, index, even):
        """Running sum of chances: windows whose share of residue the network gets wrong come more often, the less the
        larger `even` is."""
        weight = self.error[torch.from_numpy(index).to(DEVICE)].cpu().numpy().astype(np.float64) + even
        return np.cumsum(weight / weight.sum())


def condition_of(tail):
    """Log of the scale against 0.25 mm, and 1 when the colours are not normalised."""
    return torch.stack([torch.log2(tail[:, 0] / 0.25), tail[:, 1]], 1)


def lab_of_photos(rgb):
    """sRGB bytes (N, H, W, 3) to Lab D50, as the program does for a photo without a card."""
    v = rgb.float() / 255
    lin = torch.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)
    m = torch.tensor([[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169],
                      [0.0139322, 0.0971045, 0.7141733]], device=rgb.device)
    xyz = lin @ m.T / torch.tensor([0.96422, 1.0, 0.82521], device=rgb.device)
    f = torch.where(xyz > 216 / 24389, xyz.clamp(min=1e-9) ** (1 / 3), (24389 / 27 * xyz + 16) / 116)
    return torch.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], 1)


class Bridge:
    def __init__(self, folder):
        names = sorted(os.listdir(folder + '/images'))
        rgb, truth, held = [], [], []
        for i, name in enumerate(names):
            rgb.append(np.asarray(Image.open(f'{folder}/images/{name}').convert('RGB').resize((512, 512))))
            mask = np.asarray(Image.open(f'{folder}/masks/{name.rsplit(".", 1)[0]}.png'))
            mask = (mask if mask.ndim == 2 else mask[..., 0]) > 0
            mask = mask.astype(np.uint8)
            mask[455:500, 350:500] = UNKNOWN  # the orange date stamp
            truth.append(mask)
            held.append((i // 20) % 5 == 3)
        self.lab = torch.cat([lab_of_photos(torch.from_numpy(np.stack(rgb[i:i + 32])).to(DEVICE)) for i in range(0, len(rgb), 32)])
        self.truth = torch.from_numpy(np.stack(truth)).to(DEVICE)
        self.held = np.array(held)

    def batch(self, rng, n):
        index = torch.from_numpy(rng.choice(np.flatnonzero(~self.held), n)).to(DEVICE)
        angle = torch.from_numpy(rng.uniform(-0.35, 0.35, n)).float().to(DEVICE)
        zoom = torch.from_numpy(np.exp(rng.uniform(np.log(0.35), np.log(1.1), n))).float().to(DEVICE)
        flip = torch.from_numpy(rng.choice([-1.0, 1.0], n)).float().to(DEVICE)
        shift = torch.from_numpy(rng.uniform(-1, 1, (n, 2))).float().to(DEVICE) * (1 - zoom.clamp(max=1))[:, None]
        c, s = torch.cos(angle) * zoom, torch.sin(angle) * zoom
        theta = torch.stack([torch.stack([c * flip, -s, shift[:, 0]], 1), torch.stack([s * flip, c, shift[:, 1]], 1)], 1)
        grid = F.affine_grid(theta, (n, 3, CROP, CROP), align_corners=False)
        lab = F.grid_sample(self.lab[index], grid, align_corners=False, padding_mode='reflection')
        truth = F.grid_sample(self.truth[index][:, None].float(), grid, mode='nearest', align_corners=False, padding_mode='reflection')
        return lab, truth[:, 0].round().to(torch.uint8)


def uniform(n, low, high):
    return torch.empty(n, 1, 1, 1, device=DEVICE).uniform_(low, high)


def normal(n, sigma, channels=1):
    return torch.randn(n, channels, 1, 1, device=DEVICE) * sigma


def chance(n, p):
    return (torch.rand(n, 1, 1, 1, device=DEVICE) < p).float()


def blur(x, sigma):
    radius = 3
    t = torch.arange(-radius, radius + 1, device=DEVICE).float()
    kernel = torch.exp(-t[None] ** 2 / (2 * sigma.view(-1, 1) ** 2))
    kernel = kernel / kernel.sum(1, keepdim=True)
    n, channels, h, w = x.shape
    weights = kernel.repeat_interleave(channels, 0)
    flat = x.reshape(1, n * channels, h, w)
    flat = F.conv2d(F.pad(flat, (radius,) * 4, mode='reflect'), weights[:, None, None, :], groups=n * channels)
    flat = F.conv2d(flat, weights[:, None, :, None], groups=n * channels)
    return flat.reshape(n, channels, h, w)


def vary(lab, loose):
    """Errors of light, colour and optics. `loose` (N, 1, 1, 1) is 1 where colours are not normalised."""
    n, _, h, w = lab.shape
    wild = torch.maximum(loose, chance(n, 0.1))
    L = lab[:, :1] * (1 + normal(n, 0.04)) + normal(n, 1.8) + wild * normal(n, 6)
    ab = lab[:, 1:] * (1 + normal(n, 0.06)) + normal(n, 1.0, 2) + wild * normal(n, 3.5, 2)
    y = torch.linspace(-1, 1, h, device=DEVICE).view(1, 1, h, 1)
    x = torch.linspace(-1, 1, w, device=DEVICE).view(1, 1, 1, w)
    L = L * (1 + chance(n, 0.5) * (normal(n, 0.05) * x + normal(n, 0.05) * y))
    # A shadow with a soft straight edge.
    angle = uniform(n, -3.14159, 3.14159)
    side = torch.sigmoid((torch.cos(angle) * x + torch.sin(angle) * y + uniform(n, -0.7, 0.7)) * uniform(n, 2, 30))
    dark = 1 - chance(n, 0.12) * uniform(n, 0.1, 0.4) * side
    out = torch.cat([L * dark, ab * dark], 1)
    soft = blur(out, uniform(n, 0.4, 1.6))
    mix = chance(n, 0.35)
    out = mix * soft + (1 - mix) * out
    noise = torch.randn_like(out) * torch.tensor([1.0, 0.7, 0.8], device=DEVICE).view(1, 3, 1, 1)
    coarse = F.interpolate(torch.randn(n, 3, h // 2, w // 2, device=DEVICE), scale_factor=2, mode='nearest')
    return out + chance(n, 0.6) * uniform(n, 0, 1.6) * (noise + 0.5 * coarse)


def window_batch(windows, rng, index, is_wide, chances):
    """Crops (N, 3, H, W) of stored windows; groups of GROUP share place and turn, which keeps the copying short."""
    size, count = (WIDE_CROP, WIDE_BATCH) if is_wide else (CROP, BATCH)
    chosen = index[np.searchsorted(chances, rng.random(count)).clip(max=len(index) - 1)]
    labs, targets = [], []
    for k in range(0, count, GROUP):
        i = torch.from_numpy(chosen[k:k + GROUP]).to(DEVICE)
        y, x = rng.integers(0, SIDE - size + 1, 2)
        piece, truth = windows.lab[i, :, y:y + size, x:x + size], windows.target[i, y:y + size, x:x + size]
        if rng.random() < 0.5:
            piece, truth = piece.flip(-1), truth.flip(-1)
        turn = int(rng.integers(4))
        labs.append(torch.rot90(piece, turn, (-2, -1)).float() / 100)
        targets.append(torch.rot90(truth, turn, (-2, -1)))
    places = torch.from_numpy(chosen).to(DEVICE)
    return torch.cat(labs), torch.cat(targets), windows.tail[places], places


def mix_classes(lab, target, tail):
    """Lays some classes of one window over another with the same kind of colours: surfaces that no scene put together."""
    n = len(lab)
    other = torch.arange(n, device=DEVICE).roll(GROUP)
    alike = (tail[:, 1] == tail[other, 1]).float().view(n, 1, 1)
    taken = (torch.rand(n, CLASSES, device=DEVICE) < 0.45).float()
    taken[:, 0] = 0
    taken *= (torch.rand(n, 1, device=DEVICE) < 0.35).float()
    picked = torch.gather(taken, 1, target[other].long().clamp(max=CLASSES - 1).flatten(1)).view_as(target).float() * alike
    picked = (picked > 0) & (target[other] != UNKNOWN)
    return torch.where(picked[:, None], lab[other], lab), torch.where(picked, target[other], target)


def flatten_classes(lab, target):
    """Takes texture and colour variation out of single classes, and shifts each class a little: plainer materials than ours.
    Bare steel and stain move together, since a stain is known by its difference to the steel round it."""
    n = len(lab)
    chosen = (torch.rand(n, 1, 1, 1, device=DEVICE) < 0.2).float()
    out = lab.clone()
    bare_shift = None
    for k in range(1, CLASSES):
        mask = (target == k)[:, None].float()
        area = mask.sum((2, 3), keepdim=True).clamp(min=1)
        mean = (lab * mask).sum((2, 3), keepdim=True) / area
        keep = uniform(n, 0.0, 1.0)
        shift = torch.randn(n, 3, 1, 1, device=DEVICE) * torch.tensor([5.0, 2.0, 2.5], device=DEVICE).view(1, 3, 1, 1)
        if k == 1:
            bare_shift = shift
        if k == 2:
            shift = bare_shift
        out = out + chosen * mask * (mean + keep * (lab - mean) + shift - lab)
    return out


def window_loss(logits, target):
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
    return loss + 0.5 * binary + 2.0 * (bias ** 2).mean(), bias.detach().abs()


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


@torch.no_grad()
def evaluate(net, windows, bridge):
    net.eval()
    index = windows.pick(True)
    confusion = torch.zeros(6, 6, device=DEVICE)
    errors, kinds = [], []
    for i in index:
        lab = windows.lab[i][None].float() / 100
        target = windows.target[i][None]
        logits = net(lab, condition_of(windows.tail[i][None])).float()
        best = logits.argmax(1)
        known = target != UNKNOWN
        confusion += torch.bincount(target[known].long() * 6 + best[known], minlength=36).view(6, 6).float()
        measured = known & (target > 0)
        if measured.float().mean() > 0.5:
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
        'residueErrorMedian': round(float(np.median(carded)), 4), 'residueErrorP95': round(float(np.percentile(carded, 95)), 4),
        'residueBias': round(float(errors[kinds == 0].mean()), 4),
        'bridgeIou': round(tp / max(1, tp + fp + fn), 4), 'bridgeF1': round(2 * tp / max(1, 2 * tp + fp + fn), 4),
        'confusion': [[int(v) for v in row] for row in confusion.cpu().numpy()],
    }


def bridge_condition(n):
    return torch.tensor([[np.log2(UNKNOWN_STEP_MM / 0.25), 1.0]], device=DEVICE, dtype=torch.float32).repeat(n, 1)


def bridge_probability(net, lab):
    """Rust probability of whole photos: mean over two mirror images."""
    c = bridge_condition(len(lab))
    both = [torch.softmax(net(lab, c).float(), 1)[:, 3], torch.softmax(net(lab.flip(-1), c).float(), 1)[:, 3].flip(-1)]
    return (both[0] + both[1]) / 2


@torch.no_grad()
def best_temperature(net, windows, rng):
    index = rng.permutation(windows.pick(True))[:160]
    logits, targets = [], []
    for i in index:
        out = net(windows.lab[i][None].float() / 100, condition_of(windows.tail[i][None])).float()[0].permute(1, 2, 0)
        target = windows.target[i]
        known = target != UNKNOWN
        keep = torch.rand(int(known.sum()), device=DEVICE) < 0.05
        logits.append(out[known][keep])
        targets.append(target[known][keep].long())
    logits, targets = torch.cat(logits), torch.cat(targets)
    losses = [(F.cross_entropy(logits / t, targets).item(), t) for t in np.linspace(0.7, 2.0, 53)]
    return min(losses)[1]


def train(name, windows, bridge, options):
    torch.manual_seed(11)
    torch.backends.cudnn.benchmark = True
    rng = np.random.default_rng(11)
    net = DESIGNS[name]().to(DEVICE).to(memory_format=torch.channels_last)
    if options.resume:
        net.load_state_dict(grow(torch.load(options.resume, map_location=DEVICE), net, keep_silent=False))
        net.temperature.fill_(1.0)
    average = Average(net)
    optimiser = torch.optim.AdamW(net.parameters(), lr=1e-3, weight_decay=1e-3)
    start = last = time.time()
    step = 0
    kept = start
    index = windows.pick(False)
    chances = windows.chances(index, options.even)
    while True:
        part = (time.time() - start) / max(options.seconds, 1e-3)
        if part >= 1 or (options.smoke and step >= 12):
            break
        rate = options.rate * min(1, (step + 1) / 300) * (0.5 + 0.5 * np.cos(np.pi * part)) + 1e-5
        for group in optimiser.param_groups:
            group['lr'] = rate
        if time.time() - last > 15:
            windows.refresh(300)
            index = windows.pick(False)
            chances = windows.chances(index, options.even)
            last = time.time()
        lab, target, tail, places = window_batch(windows, rng, index, step % 3 == 2, chances)
        lab, target = mix_classes(lab, target, tail)
        lab = flatten_classes(lab, target)
        bridge_lab, bridge_truth = bridge.batch(rng, BRIDGE_BATCH)
        loose = torch.cat([tail[:, 1], torch.ones(BRIDGE_BATCH, device=DEVICE)]).view(-1, 1, 1, 1)
        condition = torch.cat([condition_of(tail), bridge_condition(BRIDGE_BATCH)])
        count = len(lab)
        if lab.shape[-1] == CROP:
            inputs = vary(torch.cat([lab, bridge_lab]), loose).contiguous(memory_format=torch.channels_last)
            with torch.autocast('cuda', torch.bfloat16):
                logits = net(inputs, condition)
            loss_bridge = bridge_loss(logits[count:], bridge_truth)
        else:
            inputs = vary(lab, loose[:count]).contiguous(memory_format=torch.channels_last)
            with torch.autocast('cuda', torch.bfloat16):
                logits = net(inputs, condition[:count])
            loss_bridge = torch.zeros((), device=DEVICE)
        loss_windows, error = window_loss(logits[:count], target)
        windows.error[places] = torch.lerp(windows.error[places], error.clamp(max=MOST_ERROR), 0.3)
        loss = loss_windows + 0.5 * loss_bridge
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        average.update(net, step)
        step += 1
        if time.time() - kept > 200:
            torch.save(average.state, f'{options.out}/{name}.part')
            kept = time.time()
        if step % 200 == 0:
            say(f'{name} step {step} t {time.time() - start:.0f} windows {windows.count} loss {loss_windows.item():.4f} bridge {loss_bridge.item():.4f}')
    net.load_state_dict({k: v.to(net.state_dict()[k].dtype) for k, v in average.state.items()})
    net.eval()
    result = evaluate(net, windows, bridge)
    net.eval()
    temperature = best_temperature(net, windows, rng)
    net.temperature.fill_(temperature)
    result |= {'design': name, 'steps': step, 'windows': windows.count, 'temperature': round(float(temperature), 3),
               'parameters': sum(p.numel() for p in net.parameters())}
    say(json.dumps({k: v for k, v in result.items() if k != 'confusion'}))
    torch.save(net.state_dict(), f'{options.out}/{name}.pt')
    export(net, f'{options.out}/{name}.onnx')
    json.dump(result, open(f'{options.out}/{name}.json', 'w'))


def main():
    parser = argparse.ArgumentParser()
    for word in ('windows', 'bridge', 'out', 'designs'):
        parser.add_argument('--' + word, required=True)
    parser.add_argument('--seconds', type=float, required=True)
    parser.add_argument('--capacity', type=int, default=30000)
    parser.add_argument('--resume', help='weights to go on from, of this design or a narrower one')
    parser.add_argument('--rate', type=float, default=3e-3)
    parser.add_argument('--even', type=float, default=0.3, help='0.03 picks hard windows up to nine times as often, 0.3 up to twice')
    parser.add_argument('--smoke', action='store_true')
    options = parser.parse_args()
    os.makedirs(options.out, exist_ok=True)
    bridge = Bridge(options.bridge)
    windows = Windows(options.windows, options.capacity)
    windows.refresh(100000)
    say('windows', windows.count, 'bridge', len(bridge.held), 'held', bridge.held.sum())
    for name in options.designs.split(','):
        windows.refresh(100000)
        train(name, windows, bridge, options)


main()
