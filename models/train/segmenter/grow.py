"""Weights of one design put into a wider or deeper one, which then gives the same answers."""
import torch

from designs import CONDITION

# Blocks of a deeper design that answer nothing at first.
SILENT = ('look.', 'more_down.', 'more_up.')


def grow(state, net, keep_silent):
    """State for `net` from the state of a narrower net of the same build, or one without blocks that answer nothing at first.

    New inputs of a layer weigh nothing, so the answers stay. With `keep_silent` new outputs are 0 as well (only the shape
    changes); else they keep the first weights of `net`, so that training can use them.
    """
    out = {}
    for name, target in net.state_dict().items():
        if name.startswith(SILENT) and name not in state:
            out[name] = target
            continue
        source = state[name].to(target.device)
        if source.shape == target.shape:
            out[name] = source.to(target.dtype)
            continue
        value = torch.zeros_like(target) if keep_silent else target.clone()
        if keep_silent and name.endswith('running_var'):
            value.fill_(1.0)
        if target.dim() > 1 and source.shape[1] < target.shape[1]:
            value[:, source.shape[1]:] = 0
        if name == 'context.0.weight':
            # The condition follows what the deepest layer tells.
            source = torch.cat([source[:, :-CONDITION], source.new_zeros(len(source), target.shape[1] - source.shape[1]), source[:, -CONDITION:]], 1)
        value[tuple(slice(0, n) for n in source.shape)] = source.to(target.dtype)
        out[name] = value
    return out

