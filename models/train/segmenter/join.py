"""Puts two networks into one file: the first answers where a card normalises the colours, the second where none does.

    python3 join.py WITH_CARD.onnx WITHOUT_CARD.onnx OUT.onnx
"""
import sys

import onnx
from onnx import TensorProto, helper

FLAG = 1  # of the condition: 1 where colours are not normalised


def branch(path, prefix):
    """The graph of a file as a branch, which reads `lab` and `condition` from the graph round it."""
    graph = onnx.load(path).graph
    kept = {'', 'lab', 'condition'}

    def renamed(names):
        return [n if n in kept else prefix + n for n in names]

    nodes = []
    for node in graph.node:
        copy = onnx.NodeProto()
        copy.CopyFrom(node)
        copy.name = prefix + node.name
        copy.input[:], copy.output[:] = renamed(node.input), renamed(node.output)
        nodes.append(copy)
    for tensor in graph.initializer:
        tensor.name = prefix + tensor.name
    logits = graph.output[0]
    logits.name = prefix + logits.name
    return helper.make_graph(nodes, prefix, [], [logits], list(graph.initializer))


def main():
    with_card, without_card, out = sys.argv[1:]
    model = onnx.load(with_card)
    logits = onnx.ValueInfoProto()
    logits.CopyFrom(model.graph.output[0])
    constants = [
        helper.make_tensor('flag_place', TensorProto.INT64, [], [FLAG]),
        helper.make_tensor('half', TensorProto.FLOAT, [1], [0.5]),
    ]
    nodes = [
        helper.make_node('Gather', ['condition', 'flag_place'], ['flag'], axis=1),
        helper.make_node('Greater', ['flag', 'half'], ['is_without_card']),
        helper.make_node(
            'If', ['is_without_card'], ['logits'], name='choose',
            then_branch=branch(without_card, 'without_card.'), else_branch=branch(with_card, 'with_card.')),
    ]
    joined = helper.make_model(
        helper.make_graph(nodes, 'surface classes', list(model.graph.input), [logits], constants),
        opset_imports=model.opset_import, ir_version=model.ir_version)
    onnx.checker.check_model(joined)
    onnx.save(joined, out)


main()
