"""Rewrites a weights file whose network first packs 2 x 2 pixels into planes.

What comes out is `model.py`'s network with the same answers: a 3 x 3 convolution over packed planes is
one of 6 x 6 over the pixels that steps by two.
"""

import argparse
from pathlib import Path

import onnx
from onnx import helper, numpy_helper

from model import STRIDE


def stem_over_pixels(weight):
    """Weight over pixels, (outputs, planes, 6, 6), of one over packed ones, (outputs, 4 planes, 3, 3)."""
    outputs, packed, rows, columns = weight.shape
    planes = packed // STRIDE**2
    # What is packed is ordered by plane, then row, then column.
    apart = weight.reshape(outputs, planes, STRIDE, STRIDE, rows, columns)
    return apart.transpose(0, 1, 4, 2, 5, 3).reshape(
        outputs, planes, rows * STRIDE, columns * STRIDE
    )


def main():
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--out", type=Path, required=True)
    options = parser.parse_args()
    model = onnx.load(str(options.file))
    graph = model.graph
    at = next(i for i, node in enumerate(graph.node) if node.op_type == "Conv")
    if at == 0:
        raise SystemExit("The first step of this network is a convolution already.")
    tensors = {tensor.name: tensor for tensor in graph.initializer}
    old = graph.node[at]
    tensor = tensors[old.input[1]]
    weight = stem_over_pixels(numpy_helper.to_array(tensor))
    tensor.CopyFrom(numpy_helper.from_array(weight.copy(), tensor.name))
    stem = helper.make_node(
        "Conv",
        [graph.input[0].name, *old.input[1:]],
        old.output,
        name=old.name,
        kernel_shape=weight.shape[2:],
        strides=[STRIDE] * 2,
        pads=[STRIDE] * 4,
    )
    rest = list(graph.node)[at + 1 :]
    del graph.node[:]
    graph.node.extend([stem, *rest])
    onnx.checker.check_model(model)
    onnx.save(model, str(options.out))


if __name__ == "__main__":
    main()
