"""One of the two networks that join.py puts into a file."""
import numpy as np
import onnx
from onnx import TensorProto, helper, numpy_helper

WITH_CARD, WITHOUT_CARD = 'with_card.', 'without_card.'
INPUTS = ('', 'lab', 'condition')
HALF = '.half'
# Smaller tensors are not worth it.
LEAST_HALVED = 256


def branch_of(path, prefix):
    """Graph of the network that answers in one case: a branch of the file, or all of it where it holds a single one."""
    graph = onnx.load(path).graph
    chooser = next((node for node in graph.node if node.op_type == 'If'), None)
    if chooser is None:
        return graph
    for part in chooser.attribute:
        widen(part.g)
    branches = [part.g for part in chooser.attribute]
    branch = next(part for part in branches if part.output[0].name.startswith(prefix))
    rename(branch, lambda name: name.removeprefix(prefix))
    branch.input.extend(graph.input)
    return branch


def rename(graph, change):
    """Changes the names of all values but the inputs, and of the nodes that have one."""
    def changed(names):
        return [n if n in INPUTS else change(n) for n in names]

    for node in graph.node:
        node.name = change(node.name) if node.name else ''
        node.input[:], node.output[:] = changed(node.input), changed(node.output)
    for value in (*graph.initializer, *graph.output):
        value.name = change(value.name)


def halve(graph):
    """Keeps large weights as half floats: half the file, and the runtime widens them once as it opens it."""
    widening = []
    for tensor in graph.initializer:
        values, name = numpy_helper.to_array(tensor), tensor.name
        if values.dtype != np.float32 or values.size < LEAST_HALVED:
            continue
        tensor.CopyFrom(numpy_helper.from_array(values.astype(np.float16), name + HALF))
        widening.append(helper.make_node('Cast', [name + HALF], [name], to=TensorProto.FLOAT))
    nodes = [*widening, *graph.node]
    del graph.node[:]
    graph.node.extend(nodes)


def widen(graph):
    """Undoes `halve`, but for the digits."""
    for tensor in graph.initializer:
        if tensor.name.endswith(HALF):
            values = numpy_helper.to_array(tensor).astype(np.float32)
            tensor.CopyFrom(numpy_helper.from_array(values, tensor.name.removesuffix(HALF)))
    nodes = [node for node in graph.node if not node.input or not node.input[0].endswith(HALF)]
    del graph.node[:]
    graph.node.extend(nodes)
