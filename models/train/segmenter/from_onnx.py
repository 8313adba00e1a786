"""Weights to go on from, out of a committed model.onnx (those for photos with a card), whose batch normalisations are folded into its convolutions.

    python3 from_onnx.py MODEL.onnx DESIGN WINDOWS_FOLDER OUT.pt

Batch normalisation is put back so that the network answers as before: its running statistics are taken layer by layer from
windows of draw-windows.ts, and its scale and offset undo them. Filters are brought to norm 1 a layer, as training likes.
"""
import glob
import sys

import numpy as np
import torch
from onnx import numpy_helper
from torch import nn

from branches import WITH_CARD, branch_of
from designs import DESIGNS

SIDE = 384
COUNT = SIDE * SIDE
RECORD = 7 * COUNT + COUNT // 4 + 8
FILES = 16


def windows_of(folder):
    """Lab (N, 3, SIDE, SIDE) and condition (N, 2) of three windows each of some files."""
    lab, condition = [], []
    for name in sorted(glob.glob(folder + '/*.win'))[:FILES]:
        for record in np.fromfile(name, np.uint8).reshape(-1, RECORD)[::2]:
            lab.append(record[:6 * COUNT].copy().view(np.int16).reshape(3, SIDE, SIDE) / np.float32(100))
            step, flag = record[-8:].copy().view(np.float32)
            condition.append([np.log2(step / 0.25), flag])
    return torch.from_numpy(np.stack(lab)), torch.tensor(condition, dtype=torch.float32)


def load_folded(net, graph):
    """Puts the named weights into `net`; returns folded (weight, bias) pairs in the order of their use."""
    values = {t.name: torch.from_numpy(numpy_helper.to_array(t).copy()) for t in graph.initializer}
    state = net.state_dict()
    for name in state:
        if 'net.' + name in values:
            value = values['net.' + name].view(-1, *state[name].shape[1:])
            # Outputs that the file does not know yet start from nothing.
            state[name] = torch.cat([value, torch.zeros_like(state[name][len(value):])])
    net.load_state_dict(state)
    return [tuple(values[n] for n in node.input[1:3])
            for node in graph.node if node.op_type == 'Conv' and not node.input[1].startswith('net.')]


@torch.no_grad()
def unfold(net, pairs, lab, condition):
    queue = list(pairs)
    bias = []

    def fill(conv, _):
        if conv.bias is not None:  # in the file by its name
            return
        weight, offset = queue.pop(0)
        factor = 1 / weight.flatten(1).norm(dim=1).mean()
        conv.weight.copy_(weight * factor)
        bias.append((offset, factor))

    def undo(norm, inputs):
        offset, factor = bias.pop()
        variance, mean = torch.var_mean(inputs[0], dim=(0, 2, 3), correction=0)
        norm.running_mean.copy_(mean)
        norm.running_var.copy_(variance)
        norm.weight.copy_(torch.sqrt(variance + norm.eps) / factor)
        norm.bias.copy_(offset + mean / factor)

    for module in net.modules():
        if isinstance(module, nn.Conv2d):
            module.register_forward_pre_hook(fill)
        if isinstance(module, nn.BatchNorm2d):
            module.register_forward_pre_hook(undo)
    net.eval()
    answer = net(lab, condition)
    assert not queue and not bias
    return answer


def main():
    path, design, folder, out = sys.argv[1:]
    lab, condition = windows_of(folder)
    net = DESIGNS[design]()
    first = unfold(net, load_folded(net, branch_of(path, WITH_CARD)), lab, condition)
    fresh = DESIGNS[design]()
    fresh.load_state_dict(net.state_dict())
    with torch.no_grad():
        print('largest change of an answer', (fresh.eval()(lab[:4], condition[:4]) - first[:4]).abs().max().item())
    torch.save(net.state_dict(), out)


main()
