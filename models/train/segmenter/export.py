"""Writes a network as ONNX with free height and width.

    python3 export.py WEIGHTS.pt DESIGN OUT.onnx

The weights may be those of a narrower design: it is padded, and gives the same answers.
"""
import sys

import torch
from torch import nn

from designs import DESIGNS, FOLDED
from grow import grow


class Folded(nn.Module):
    """Unfolding four pixels from the channels is left to the reader, who looks at every value anyway."""

    def __init__(self, net):
        super().__init__()
        self.net = net
        with torch.no_grad():
            net.head.weight[:FOLDED] /= net.temperature
            net.head.bias[:FOLDED] /= net.temperature

    def forward(self, lab, condition):
        return self.net.folded(lab, condition)


def export(net, path):
    """Changes `net`: its temperature goes into the weights."""
    net = Folded(net.eval().float().cpu())
    lab = torch.zeros(1, 3, 256, 256)
    condition = torch.zeros(1, 2)
    torch.onnx.export(
        net, (lab, condition), path, input_names=['lab', 'condition'], output_names=['logits'], opset_version=17,
        dynamic_axes={'lab': {2: 'height', 3: 'width'}, 'logits': {2: 'half_height', 3: 'half_width'}}, dynamo=False)


if __name__ == '__main__':
    weights, design, out = sys.argv[1:]
    net = DESIGNS[design]()
    net.load_state_dict(grow(torch.load(weights, map_location='cpu'), net, keep_silent=True))
    export(net, out)
