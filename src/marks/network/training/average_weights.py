"""Writes the mean of several weights files of one network.

Trainings that continue one another end beside the same valley; their mean lies nearer to its floor
than any of them (Wortsman et al. 2022, "Model soups", proceedings of ICML, PMLR 162).
"""

import argparse
from pathlib import Path

import numpy
import onnx
from onnx import numpy_helper


def main():
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", type=Path, nargs="+")
    parser.add_argument("--out", type=Path, required=True)
    options = parser.parse_args()
    models = [onnx.load(str(path)) for path in options.files]
    for tensors in zip(*(model.graph.initializer for model in models), strict=True):
        parts = [numpy_helper.to_array(tensor) for tensor in tensors]
        if len({part.shape for part in parts}) > 1:
            raise SystemExit("The files hold different networks: average files of one network.")
        if parts[0].dtype == numpy.float32:
            mean = numpy.mean(parts, axis=0, dtype=numpy.float64).astype(numpy.float32)
            tensors[0].CopyFrom(numpy_helper.from_array(mean, tensors[0].name))
    onnx.save(models[0], str(options.out))


if __name__ == "__main__":
    main()
