"""The step that both networks are built of."""

from torch import nn


def convolution(inputs, outputs, kernel=3, padding=1, **options):
    """Convolution, batch normalisation, ReLU."""
    return nn.Sequential(
        nn.Conv2d(inputs, outputs, kernel, padding=padding, bias=False, **options),
        nn.BatchNorm2d(outputs),
        nn.ReLU(inplace=True),
    )
