"""The network: a small U-Net at half the flat picture's resolution.

Input planes, float32, all of shape (batch, 7, height, width), sides divisible by 32:

0-2  red, green, blue of the flat picture, 0 to 1
3    printed lines: 1 on a dividing line as geometry places it, falling to 0 a shaft away
4-5  image of the face's normal, x right and y down: rise in flat pixels per pixel of height
6    log2(shaft diameter in flat pixels / 8)

Output planes, (batch, 7, height / 2, width / 2); see OUTPUTS.
"""

import torch
from torch import nn

from convolution import convolution

STRIDE = 2
INPUT_PLANES = 7

#: Output planes in order, probabilities.
OUTPUTS = ("hole", "fresh", "disc", "shaft", "entry", "vane", "nock")
#: Plain numbers that are asked for in training only: they teach where marks are and shafts lead.
LESSONS = (
    "towards_entry_x",
    "towards_entry_y",
    "to_mark_x",
    "to_mark_y",
)


class MarkNetwork(nn.Module):
    """U-Net whose first convolution steps by two pixels: all detail, a quarter of the work.

    Answers `outputs` as probabilities, and in training `lessons` besides.
    """

    def __init__(
        self, outputs=OUTPUTS, lessons=LESSONS, widths=(16, 28, 48, 64, 80), up_widths=(48, 32, 20, 16)
    ):
        super().__init__()
        self.outputs = len(outputs)
        self.stem = convolution(
            INPUT_PLANES, widths[0], 3 * STRIDE, padding=STRIDE, stride=STRIDE
        )
        self.down = nn.ModuleList()
        for above, here in zip(widths[:-1], widths[1:]):
            self.down.append(
                nn.Sequential(nn.MaxPool2d(2), convolution(above, here), convolution(here, here))
            )
        self.up = nn.ModuleList()
        below = widths[-1]
        for beside, here in zip(reversed(widths[:-1]), up_widths):
            self.up.append(convolution(below + beside, here))
            below = here
        self.heads = nn.Conv2d(below, len(outputs) + len(lessons), 1)
        with torch.no_grad():
            self.heads.bias.fill_(0.0)
            self.heads.bias[: len(outputs)] = -3.0

    def features(self, planes):
        """What the outputs are read from, (batch, planes, height / 2, width / 2)."""
        levels = [self.stem(planes)]
        for step in self.down:
            levels.append(step(levels[-1]))
        here = levels.pop()
        for step in self.up:
            above = levels.pop()
            here = nn.functional.interpolate(here, scale_factor=2.0, mode="nearest")
            here = step(torch.cat((here, above), dim=1))
        return here

    def logits(self, planes):
        """OUTPUTS before the sigmoid, then LESSONS."""
        return self.heads(self.features(planes))

    def forward(self, planes):
        """OUTPUTS as the tool uses them."""
        count = self.outputs
        here = self.features(planes)
        return torch.sigmoid(
            nn.functional.conv2d(here, self.heads.weight[:count], self.heads.bias[:count])
        )
