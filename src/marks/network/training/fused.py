"""Functions over whole batches of pictures as few kernels of a GPU."""

import functools

import torch


def fused(function):
    """Compiles a function of tensors, which it draws no chances in, where the first is on a GPU."""
    compiled = torch.compile(function, dynamic=False)

    @functools.wraps(function)
    def either(first, *others):
        return (compiled if first.is_cuda else function)(first, *others)

    return either
