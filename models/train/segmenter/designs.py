"""Network designs that were tried. All take Lab (N, 3, H, W; H and W multiples of 32) and a condition (N, 2), and give six
logits per pixel (not measured, bare, stain, rust, scale, coating), and at half the size the logit of lack of dwell: how much
of its dwell a place lacked under the last round, as stripes and seams show it. Work is done at half size and below; the head
tells four pixels at once, which `both` unfolds."""
import torch
from torch import nn

CLASSES = 6
# Values of the condition: log of the scale, and whether colours are not normalised.
CONDITION = 2
# Channels of the head: classes times four pixels, and lack of dwell.
FOLDED = 4 * CLASSES
MEAN = (50.0, 2.0, 5.0)
SCALE = (25.0, 12.0, 16.0)


def conv(cin, cout, k=3, stride=1, groups=1):
    return nn.Sequential(
        nn.Conv2d(cin, cout, k, stride, k // 2, groups=groups, bias=False), nn.BatchNorm2d(cout), nn.ReLU(inplace=True))


class Plain(nn.Module):
    """Two 3 x 3 convolutions, the second with a shortcut."""

    def __init__(self, cin, cout):
        super().__init__()
        self.a = conv(cin, cout)
        self.b = nn.Sequential(nn.Conv2d(cout, cout, 3, 1, 1, bias=False), nn.BatchNorm2d(cout))

    def forward(self, x):
        x = self.a(x)
        return torch.relu(x + self.b(x))


class Separable(nn.Module):
    """Inverted residual: widen, 5 x 5 per channel, narrow."""

    def __init__(self, cin, cout, wide=None):
        super().__init__()
        wide = wide or 2 * cout
        self.body = nn.Sequential(
            conv(cin, wide, 1), conv(wide, wide, 5, groups=wide),
            nn.Conv2d(wide, cout, 1, bias=False), nn.BatchNorm2d(cout))
        self.short = nn.Identity() if cin == cout else nn.Conv2d(cin, cout, 1, bias=False)

    def forward(self, x):
        return torch.relu(self.short(x) + self.body(x))


class Look(nn.Module):
    """Attention: every place of the deepest layer asks blocks of 2 x 2 places, wherever they are. Says nothing at first."""
    HEADS = 4

    def __init__(self, width):
        super().__init__()
        self.ask = nn.Conv2d(width, width, 1)
        self.offer = nn.Conv2d(width, 2 * width, 1)
        self.tell = nn.Conv2d(width, width, 1)
        nn.init.zeros_(self.tell.weight)
        nn.init.zeros_(self.tell.bias)

    def forward(self, x):
        n, c, h, w = x.shape
        part = c // self.HEADS
        asked = self.ask(x).reshape(n, self.HEADS, part, -1).transpose(2, 3)
        keys, values = self.offer(nn.functional.avg_pool2d(x, 2)).reshape(n, 2, self.HEADS, part, -1).unbind(1)
        weights = torch.softmax(asked @ keys * part ** -0.5, -1)
        return x + self.tell((weights @ values.transpose(2, 3)).transpose(2, 3).reshape(n, c, h, w))


def silent(block):
    """A block that answers what it is given until it learns more (its input is not negative)."""
    nn.init.zeros_(block.body[-1].weight)
    return block


class Unet(nn.Module):
    """`deeper`: one more block on either side of the layer above the deepest, and places of the deepest that look at one another."""

    def __init__(self, widths, block, depth_end=1, deeper=False):
        super().__init__()
        self.register_buffer('mean', torch.tensor(MEAN).view(1, 3, 1, 1))
        self.register_buffer('scale', torch.tensor(SCALE).view(1, 3, 1, 1))
        self.register_buffer('temperature', torch.ones(1))
        w0 = widths[0]
        self.stem = conv(3, w0, 5, stride=2)
        self.down = nn.ModuleList()
        for cin, cout in zip(widths[:-1], widths[1:]):
            self.down.append(nn.ModuleDict({'block': block(cin, cin), 'shrink': conv(cin, cout, 3, stride=2)}))
        self.end = nn.Sequential(*[block(widths[-1], widths[-1]) for _ in range(depth_end)])
        self.context = nn.Sequential(nn.Linear(widths[-1] + CONDITION, widths[-1]), nn.ReLU(), nn.Linear(widths[-1], widths[-1]))
        self.condition = nn.Conv2d(CONDITION, w0, 1)
        self.up = nn.ModuleList()
        for cin, cout in zip(widths[:0:-1], widths[-2::-1]):
            self.up.append(nn.ModuleDict({
                'grow': nn.Sequential(nn.Conv2d(cin, cout, 1, bias=False), nn.BatchNorm2d(cout)), 'block': block(cout, cout)}))
        self.head = nn.Conv2d(w0, FOLDED + 1, 1)
        last, low = widths[-1], widths[-2]
        self.look = nn.Sequential(Look(last), silent(block(last, last))) if deeper else nn.Identity()
        self.more_down, self.more_up = (silent(block(low, low)) if deeper else nn.Identity() for _ in range(2))

    def folded(self, lab, condition):
        """Logits before the temperature (N, 25, H / 2, W / 2): channel 4 k + 2 dy + dx is class k at pixel (2 y + dy, 2 x + dx), the last lack of dwell."""
        # Told at every place, by a convolution: the runtime keeps its own order of channels through sums of two convolutions,
        # and through a sum with one value a channel it does not, which takes a tenth more time.
        told = condition[:, :, None, None].expand(-1, -1, lab.shape[2] // 2, lab.shape[3] // 2)
        x = self.condition(told) + self.stem((lab - self.mean) / self.scale)
        kept = []
        for level in self.down:
            x = level['block'](x)
            if level is self.down[-1]:
                x = self.more_down(x)
            kept.append(x)
            x = level['shrink'](x)
        x = self.look(self.end(x))
        around = torch.cat([x.mean((2, 3)), condition], 1)
        x = x + self.context(around)[:, :, None, None]
        for level, skip in zip(self.up, reversed(kept)):
            x = nn.functional.interpolate(level['grow'](x), scale_factor=2.0, mode='nearest')
            x = level['block'](torch.relu(x + skip))
            if level is self.up[0]:
                x = self.more_up(x)
        return self.head(x)

    def both(self, lab, condition):
        """Class logits (N, 6, H, W) and those of lack of dwell (N, H / 2, W / 2)."""
        folded = self.folded(lab, condition)
        return nn.functional.pixel_shuffle(folded[:, :FOLDED], 2) / self.temperature, folded[:, FOLDED]

    def forward(self, lab, condition):
        return self.both(lab, condition)[0]


def thrifty(cin, cout):
    """Less widened at half the size, where time goes: the runtime pads to a multiple of 16 channels anyway."""
    return Separable(cin, cout, 48 if cout == 32 else None)


DESIGNS = {
    'plain-16': lambda: Unet((16, 32, 64, 96, 128), Plain),
    'lean-16': lambda: Unet((16, 40, 96, 160, 192), Plain, 2),
    'plain-24': lambda: Unet((24, 48, 96, 128, 160), Plain, 2),
    'separable-24': lambda: Unet((24, 48, 96, 128, 160), Separable, 2),
    'deep-24': lambda: Unet((24, 48, 96, 160, 224), Separable, 3),
    'separable-24-to-32': lambda: Unet((32, 48, 96, 128, 160), thrifty, 2),
    'looking-32': lambda: Unet((32, 48, 96, 160, 256), thrifty, 2, deeper=True),
    'separable-32': lambda: Unet((32, 64, 128, 192, 224), Separable, 2),
    'shallow-24': lambda: Unet((24, 48, 64), Plain),
}
