"""What the rear network is taught: strips along drawn arrows, and how wrong its answers are."""

from dataclasses import dataclass
from typing import ClassVar

import torch
from torch.nn import functional

from chance import Chance
from drawn_rears import DrawnRears
from loss import heat_loss, weighted_mean
from scene import REARS
from rear_model import INPUT_PLANES, STRIP_WIDTH, RearNetwork

#: Share of the other answer that is asked for: nobody is to be surer than that.
DOUBT = 0.02


@dataclass
class RearLesson:
    """Strips to learn from, the plan of learning and the loss."""

    steps: int = 10000
    #: Strips per step, of all processes together.
    batch: int = 1024
    #: Scenes drawn at once, and photographs of each; a strip is cut along every arrow in them.
    scenes: int = 256
    looks: int = 8
    #: How often each strip is learned from, and how many are at hand to choose from.
    shows: int = 4
    room: int = 40960
    rate: float = 5e-3
    weight_decay: float = 1e-3

    name: ClassVar = "rear"
    side: ClassVar = 320
    #: A strip of the shortest kind, and the free dimensions of the weights file.
    example: ClassVar = torch.zeros(1, INPUT_PLANES, STRIP_WIDTH, 128)
    axes: ClassVar = {"planes": {3: "length"}, "evidence": {2: "cells"}}

    def begin_drawing(self, seed, device):
        """Opens an endless supply of strips, another one for each seed."""
        self.rears = DrawnRears(Chance(seed, device), self.scenes, self.side, REARS)

    def network(self):
        """The network to teach, knowing nothing."""
        return RearNetwork()

    def draw(self):
        """New strips, a row each."""
        return self.rears.draw(self.looks)

    def shown(self, rows):
        """The strips as they are: each is mirrored at random when it is cut."""
        return rows

    @staticmethod
    def losses(logits, rows):
        """Both parts of the loss by name; logits float32."""
        told = rows.fletched * (1 - 2 * DOUBT) + DOUBT
        kind = functional.binary_cross_entropy_with_logits(logits[:, 1], told, reduction="none")
        return {
            "end": heat_loss(logits[:, 0], rows.end, rows.end_weight),
            "fletched": weighted_mean(kind, rows.fletched_weight),
        }

    @staticmethod
    def sheet(rows, answers=None):
        """Strips, below each where it ends (green fletched, red bare), then the same as answered."""
        cells = []
        for i in range(min(48, len(rows.planes))):
            stacked = [rows.planes[i, :3]]
            told = [(rows.end[i], rows.fletched[i])]
            if answers is not None:
                told.append((answers[i, 0], answers[i, 1]))
            for end, fletched in told:
                coloured = torch.stack((end * (1 - fletched), end * fletched, 0 * end))
                wide = functional.interpolate(coloured[None], size=rows.planes.shape[-1])[0]
                stacked.append(wide[:, None].expand(-1, 6, -1))
            cells.append(torch.cat(stacked, dim=1))
        across = min(6, len(cells))
        sheets = [
            torch.cat(cells[i : i + across], dim=2) for i in range(0, len(cells) - across + 1, across)
        ]
        return torch.cat(sheets, dim=1).permute(1, 2, 0)
