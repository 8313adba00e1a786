"""Puts two networks into one file: the first answers where a card normalises the colours, the second where none does.

    python3 join.py WITH_CARD.onnx WITHOUT_CARD.onnx OUT.onnx

Either may be taken out of a joined file. Weights are kept as half floats, which changes the class of 6 in 100 000 pixels. A
network without an output for lack of dwell tells that there is none.
"""
import sys

import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper

from branches import WITHOUT_CARD, WITH_CARD, branch_of, halve, rename

FLAG = 1  # of the condition: 1 where colours are not normalised
CHANNELS = 25
NO_LACK = -20.0


def branch(path, prefix):
    """A network as a branch, which reads `lab` and `condition` from the graph round it."""
    graph = branch_of(path, prefix)
    for tensor in graph.initializer:
        if tensor.name.startswith('net.head.'):
            value = numpy_helper.to_array(tensor)
            missing = CHANNELS - len(value)
            fill = NO_LACK if tensor.name.endswith('bias') else 0.0
            more = np.full((missing, *value.shape[1:]), fill, value.dtype)
            tensor.CopyFrom(numpy_helper.from_array(np.concatenate([value, more]), tensor.name))
    rename(graph, lambda name: prefix + name)
    halve(graph)
    logits = helper.make_tensor_value_info(graph.output[0].name, TensorProto.FLOAT, [1, CHANNELS, 'half_height', 'half_width'])
    return helper.make_graph(list(graph.node), prefix, [], [logits], list(graph.initializer))


def main():
    with_card, without_card, out = sys.argv[1:]
    model = onnx.load(with_card)
    logits = helper.make_tensor_value_info('logits', TensorProto.FLOAT, [1, CHANNELS, 'half_height', 'half_width'])
    constants = [
        helper.make_tensor('flag_place', TensorProto.INT64, [], [FLAG]),
        helper.make_tensor('half', TensorProto.FLOAT, [1], [0.5]),
    ]
    nodes = [
        helper.make_node('Gather', ['condition', 'flag_place'], ['flag'], axis=1),
        helper.make_node('Greater', ['flag', 'half'], ['is_without_card']),
        helper.make_node(
            'If', ['is_without_card'], ['logits'], name='choose',
            then_branch=branch(without_card, WITHOUT_CARD), else_branch=branch(with_card, WITH_CARD)),
    ]
    joined = helper.make_model(
        helper.make_graph(nodes, 'surface classes', list(model.graph.input), [logits], constants),
        opset_imports=model.opset_import, ir_version=model.ir_version)
    onnx.checker.check_model(joined)
    onnx.save(joined, out)


main()
