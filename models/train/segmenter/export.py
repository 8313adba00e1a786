"""Writes a network as ONNX with free height and width."""
import torch


def export(net, path):
    net = net.eval().float().cpu()
    lab = torch.zeros(1, 3, 256, 256)
    condition = torch.zeros(1, 2)
    torch.onnx.export(
        net, (lab, condition), path, input_names=['lab', 'condition'], output_names=['logits'], opset_version=17,
        dynamic_axes={'lab': {2: 'height', 3: 'width'}, 'logits': {2: 'height', 3: 'width'}}, dynamo=False)
