"""Channels in numbers that processors take at once, without a change to what a network answers.

A convolution whose planes are not a multiple of a few channels is done much more slowly by runtimes that
work on blocks of them. Planes of nothing but zeros, which nothing reads, fill the blocks up.
"""

import numpy
import onnx
from onnx import numpy_helper


def aligned(model, multiple):
    """Fills the planes between a network's convolutions up to a multiple of channels, in place.

    For graphs of convolutions without groups, and of steps that take each plane alone or stack planes.
    """
    graph = model.graph
    weights = {one.name: one for one in graph.initializer}
    #: Of every plane of a tensor whether it is one of the network's own.
    own = {one.name: None for one in graph.input}

    def feeds_convolution(name):
        """Whether a convolution reads a tensor, or what is made of it; the others are answers."""
        return any(
            node.op_type == "Conv" or any(map(feeds_convolution, node.output))
            for node in graph.node
            if name in node.input
        )

    for node in graph.node:
        if node.op_type == "Conv":
            kernel = numpy_helper.to_array(weights[node.input[1]])
            bias = numpy_helper.to_array(weights[node.input[2]])
            before = own[node.input[0]]
            if before is None:
                before = numpy.ones(kernel.shape[1], bool)
            count = kernel.shape[0]
            read_on = feeds_convolution(node.output[0])
            whole = -(-count // multiple) * multiple if read_on else count
            after = numpy.arange(whole) < count
            wide = numpy.zeros((whole, len(before), *kernel.shape[2:]), kernel.dtype)
            wide[numpy.ix_(after, before)] = kernel
            wide_bias = numpy.zeros(whole, bias.dtype)
            wide_bias[after] = bias
            for name, values in ((node.input[1], wide), (node.input[2], wide_bias)):
                weights[name].CopyFrom(numpy_helper.from_array(values, name))
            own[node.output[0]] = after
        elif node.op_type == "Concat":
            own[node.output[0]] = numpy.concatenate([own[name] for name in node.input])
        else:
            for name in node.output:
                own[name] = own.get(node.input[0]) if node.input else None
    del graph.value_info[:]
    onnx.checker.check_model(model)
    return model
