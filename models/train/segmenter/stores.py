"""Training data in GPU memory: windows and zones of draw-windows.ts, and bridge photos; and where a process works."""
import glob
import os
import time

import numpy as np
import torch
import torch.nn.functional as F
from PIL import Image

SIDE = 384
ZONE_SIDE = 640
CROP = 256
UNKNOWN = 255
# No dwell at all.
WHOLE_DWELL = 200
# What the program tells the network where nobody knows the scale.
UNKNOWN_STEP_MM = 1.0
RANK, WORLD = int(os.environ.get('RANK', 0)), int(os.environ.get('WORLD_SIZE', 1))
DEVICE = f"cuda:{os.environ.get('LOCAL_RANK', 0)}" if torch.cuda.is_available() else 'cpu'
# Error of a window's residue share, as share: what one not yet seen counts as, and the most that counts.
FIRST_ERROR, MOST_ERROR = 0.06, 0.25
# Least part of a window that something is known of.
LEAST_KNOWN = 0.2


class Windows:
    """A growing store of square windows, or of zones, in GPU memory: this process's share of the seeds."""

    def __init__(self, options, suffix, side, capacity):
        self.pattern = f'{options.windows}/*.{suffix}'
        self.consume = options.consume
        self.side = side
        self.lab = torch.empty((capacity, 3, side, side), dtype=torch.int16, device=DEVICE)
        self.target = torch.empty((capacity, side, side), dtype=torch.uint8, device=DEVICE)
        self.dwell = torch.empty((capacity, side // 2, side // 2), dtype=torch.uint8, device=DEVICE)
        self.tail = torch.empty((capacity, 2), device=DEVICE)
        self.is_held = np.zeros(capacity, bool)
        self.known = np.zeros(capacity)
        # Running error of the residue share per window: see `chances`.
        self.error = torch.full((capacity,), FIRST_ERROR, device=DEVICE)
        self.count = 0
        self.seen = set()

    def refresh(self, most):
        names = [n for n in glob.glob(self.pattern) if n not in self.seen and seed_of(n) // 20 % WORLD == RANK][:most]
        for name in names:
            self.seen.add(name)
            data = np.fromfile(name, np.uint8)
            if self.consume:
                os.remove(name)
            count = self.side * self.side
            head = 7 * count + count // 4
            for record in data.reshape(-1, head + 8):
                if self.count >= len(self.is_held):
                    continue
                i = self.count
                planes = record[:6 * count].copy().view(np.int16).reshape(3, self.side, self.side)
                self.lab[i] = torch.from_numpy(planes).to(DEVICE)
                target = record[6 * count:7 * count].reshape(self.side, self.side)
                self.target[i] = torch.from_numpy(target.copy()).to(DEVICE)
                dwell = record[7 * count:head].reshape(self.side // 2, self.side // 2)
                self.dwell[i] = torch.from_numpy(dwell.copy()).to(DEVICE)
                self.tail[i] = torch.from_numpy(record[head:].copy().view(np.float32)).to(DEVICE)
                self.known[i] = max((target != UNKNOWN).mean(), (dwell != UNKNOWN).mean())
                self.is_held[i] = seed_of(name) % 20 == 0
                self.count += 1

    def keep_reading(self):
        while True:
            self.refresh(20)
            time.sleep(0.5)

    def pick(self, held):
        return np.flatnonzero((self.is_held[:self.count] == held) & (self.known[:self.count] > LEAST_KNOWN))

    def chances(self, index, even):
        """Running sum of chances: windows whose share of residue the network gets wrong come more often, the less the
        larger `even` is."""
        weight = self.error[torch.from_numpy(index).to(DEVICE)].cpu().numpy().astype(np.float64) + even
        return np.cumsum(weight / weight.sum())


def learn_errors(store, places, error):
    store.error[places] = torch.lerp(store.error[places], error.clamp(max=MOST_ERROR), 0.3)


def seed_of(name):
    return int(os.path.basename(name).split('.')[0])


def condition_of(tail):
    """Log of the scale against 0.25 mm, and 1 when the colours are not normalised."""
    return torch.stack([torch.log2(tail[:, 0] / 0.25), tail[:, 1]], 1)


def bridge_condition(n):
    return torch.tensor([[np.log2(UNKNOWN_STEP_MM / 0.25), 1.0]], device=DEVICE, dtype=torch.float32).repeat(n, 1)


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
