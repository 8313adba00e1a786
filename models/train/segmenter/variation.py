"""Batches of stored windows and zones, varied: errors of light, colour and optics, and surfaces that no scene put together."""
import numpy as np
import torch
import torch.nn.functional as F

from stores import CROP, DEVICE, SIDE, UNKNOWN

WIDE_CROP = 384
BATCH = 64
WIDE_BATCH = 28
ZONE_BATCH = 10
GROUP = 4
CLASSES = 6


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
    """Crops (N, 3, H, W) of stored windows, their classes and lack of dwell; groups of GROUP share place and turn, which keeps the copying short."""
    size, count = (WIDE_CROP, WIDE_BATCH) if is_wide else (CROP, BATCH)
    chosen = index[np.searchsorted(chances, rng.random(count)).clip(max=len(index) - 1)]
    labs, targets, dwells = [], [], []
    for k in range(0, count, GROUP):
        i = torch.from_numpy(chosen[k:k + GROUP]).to(DEVICE)
        y, x = 2 * rng.integers(0, (SIDE - size) // 2 + 1, 2)
        pieces = (windows.lab[i, :, y:y + size, x:x + size], windows.target[i, y:y + size, x:x + size],
                  windows.dwell[i, y // 2:(y + size) // 2, x // 2:(x + size) // 2])
        if rng.random() < 0.5:
            pieces = [p.flip(-1) for p in pieces]
        turn = int(rng.integers(4))
        lab, truth, dwell = (torch.rot90(p, turn, (-2, -1)) for p in pieces)
        labs.append(lab.float() / 100)
        targets.append(truth)
        dwells.append(dwell)
    places = torch.from_numpy(chosen).to(DEVICE)
    return torch.cat(labs), torch.cat(targets), torch.cat(dwells), windows.tail[places], places


def mix_classes(lab, target, dwell, tail):
    """Lays some classes of one window over another with the same kind of colours: surfaces that no scene put together."""
    n = len(lab)
    other = torch.arange(n, device=DEVICE).roll(GROUP)
    alike = (tail[:, 1] == tail[other, 1]).float().view(n, 1, 1)
    taken = (torch.rand(n, CLASSES, device=DEVICE) < 0.45).float()
    taken[:, 0] = 0
    taken *= (torch.rand(n, 1, device=DEVICE) < 0.35).float()
    picked = torch.gather(taken, 1, target[other].long().clamp(max=CLASSES - 1).flatten(1)).view_as(target).float() * alike
    picked = (picked > 0) & (target[other] != UNKNOWN)
    laid = F.max_pool2d(picked[:, None].float(), 2)[:, 0] > 0
    return (torch.where(picked[:, None], lab[other], lab), torch.where(picked, target[other], target),
            torch.where(laid & (dwell != dwell[other]), torch.full_like(dwell, UNKNOWN), dwell))


def flatten_classes(lab, target, dwell):
    """Takes texture and colour variation out of single classes, and shifts each class a little: plainer materials than ours.
    Bare steel and stain move together, since a stain is known by its difference to the steel round it. Stripes go with it."""
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
    gone = (chosen[:, 0] > 0) & (dwell > 0)
    return out, torch.where(gone, torch.full_like(dwell, UNKNOWN), dwell)


def zone_batch(zones, rng, chances, index):
    """Whole zones; half of them as they are, for their colours are the program's own, errors included."""
    chosen = index[np.searchsorted(chances, rng.random(ZONE_BATCH)).clip(max=len(index) - 1)]
    places = torch.from_numpy(chosen).to(DEVICE)
    pieces = (zones.lab[places].float() / 100, zones.target[places], zones.dwell[places])
    if rng.random() < 0.5:
        pieces = [p.flip(-1) for p in pieces]
    turn = int(rng.integers(4))
    lab, target, dwell = (torch.rot90(p, turn, (-2, -1)) for p in pieces)
    varied = chance(len(lab), 0.5)
    lab = varied * vary(lab, torch.zeros(len(lab), 1, 1, 1, device=DEVICE)) + (1 - varied) * lab
    return lab, target, dwell, zones.tail[places], places
