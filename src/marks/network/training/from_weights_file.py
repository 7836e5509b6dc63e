"""Training on from a weights file, in which every batch normalisation is folded into its convolution."""

import onnx
import torch
from onnx import numpy_helper
from torch import nn

from model import OUTPUTS


def folded_convolutions(path):
    """Weight (outputs, inputs, rows, columns) and bias of an ONNX file's convolutions, as they run."""
    graph = onnx.load(str(path)).graph
    tensors = {tensor.name: numpy_helper.to_array(tensor) for tensor in graph.initializer}
    return [
        tuple(torch.from_numpy(tensors[name].copy()) for name in node.input[1:3])
        for node in graph.node
        if node.op_type == "Conv"
    ]


@torch.no_grad()
def continue_from_file(network, path, batches):
    """Gives the network the answers of a weights file, ready to be trained on.

    batches: input planes of drawn pictures, (batch, 7, height, width) each. Each normalisation gets the
    statistics of its convolution on them and, as scale and shift, what undoes these: it changes nothing
    by these statistics and next to nothing by a batch's own. Lessons are no part of the file; they start
    at zero, so that they leave the features alone until they mean something. Raises ValueError where the
    file holds another network.
    """
    parts = [part for part in network.modules() if isinstance(part, (nn.Conv2d, nn.BatchNorm2d))]
    convolutions = [part for part in parts if isinstance(part, nn.Conv2d)]
    norms = [part for part in parts if isinstance(part, nn.BatchNorm2d)]
    folded = folded_convolutions(path)
    shapes = [tuple(weight.shape) for weight, _ in folded]
    own = [tuple(part.weight.shape) for part in convolutions]
    own[-1] = (len(OUTPUTS), *own[-1][1:])
    if shapes != own:
        raise ValueError(f"{path} holds convolutions {shapes}, the network has {own}.")

    for convolution, norm, (weight, bias) in zip(convolutions[:-1], norms, folded[:-1]):
        convolution.weight.copy_(weight)
        norm.running_mean.zero_()
        norm.running_var.fill_(1 - norm.eps)
        norm.weight.fill_(1)
        norm.bias.copy_(bias)
    network.heads.weight.zero_()
    network.heads.bias.zero_()
    network.heads.weight[: len(OUTPUTS)] = folded[-1][0].to(network.heads.weight.device)
    network.heads.bias[: len(OUTPUTS)] = folded[-1][1].to(network.heads.bias.device)

    sums = {norm: torch.zeros(3, norm.num_features, dtype=torch.float64) for norm in norms}

    def note(norm, inputs):
        """Adds up count, sum and sum of squares of what a normalisation is given."""
        values = inputs[0].double().cpu()
        sums[norm][0] += values.numel() / norm.num_features
        sums[norm][1] += values.sum((0, 2, 3))
        sums[norm][2] += (values**2).sum((0, 2, 3))

    hooks = [norm.register_forward_pre_hook(note) for norm in norms]
    network.eval()
    for planes in batches:
        network(planes)
    network.train()
    for hook in hooks:
        hook.remove()
    for norm in norms:
        count, total, squares = sums[norm]
        mean = total / count
        variance = (squares / count - mean**2).clamp(min=0)
        norm.running_mean.copy_(mean)
        norm.running_var.copy_(variance)
        norm.weight.copy_((norm.running_var + norm.eps).sqrt())
        norm.bias.add_(norm.running_mean)
