"""The network that tells fletched arrows from bare ones: reads a strip along an arrow's image.

Input planes, float32, (strips, 4, STRIP_WIDTH, length), the length divisible by STRIDE; the strip runs
along the arrow from its entry's side to the side of its nock, SHAFT_PX pixels to the shaft's width at
its rear end:

0-2  red, green, blue, 0 to 1; black outside the photo
3    foreshortening: how long the image of a length of shaft at the rear end is, against its width

Output, (strips, 2, length / STRIDE), probabilities along the strip: that the shaft whose axis the strip
follows ends here, and that an arrow that ends here has vanes.
"""

import torch
from torch import nn

from convolution import convolution

INPUT_PLANES = 4
STRIP_WIDTH = 64
SHAFT_PX = 6
STRIDE = 4
OUTPUTS = ("end", "fletched")


def along(planes, dilation):
    """Convolution along the strip only."""
    return convolution(planes, planes, (1, 5), (0, 2 * dilation), dilation=(1, dilation))


class RearNetwork(nn.Module):
    """Halves the strip twice both ways, then across until one row is left, which is read along."""

    def __init__(self, widths=(24, 32, 48, 64)):
        super().__init__()
        first, second, third, last = widths
        across = nn.MaxPool2d((2, 1))
        self.row = nn.Sequential(
            nn.PixelUnshuffle(2),
            convolution(INPUT_PLANES * 4, first),
            convolution(first, second, stride=2),
            convolution(second, second),
            across,
            convolution(second, third),
            across,
            convolution(third, third),
            convolution(third, last, (STRIP_WIDTH // 16, 1), 0),
        )
        self.read = nn.Sequential(*(along(last, dilation) for dilation in (1, 2, 4, 4)))
        self.heads = nn.Conv2d(last, len(OUTPUTS), 1)
        with torch.no_grad():
            self.heads.bias.copy_(torch.tensor([-3.0, 0.0]))

    def logits(self, planes):
        """OUTPUTS before the sigmoid."""
        return self.heads(self.read(self.row(planes)))[:, :, 0]

    def forward(self, planes):
        """OUTPUTS as the tool uses them."""
        return torch.sigmoid(self.logits(planes))
