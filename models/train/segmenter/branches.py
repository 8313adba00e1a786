"""One of the two networks that join.py puts into a file."""
import onnx

WITH_CARD, WITHOUT_CARD = 'with_card.', 'without_card.'
INPUTS = ('', 'lab', 'condition')


def branch_of(path, prefix):
    """Graph of the network that answers in one case: a branch of the file, or all of it where it holds a single one."""
    graph = onnx.load(path).graph
    chooser = next((node for node in graph.node if node.op_type == 'If'), None)
    if chooser is None:
        return graph
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
