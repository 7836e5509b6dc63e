"""What the mark network is taught: drawn faces, and how wrong its answers about them are."""

from dataclasses import dataclass
from typing import ClassVar

import torch
from torch.nn import functional

from chance import Chance
from drawn_faces import DrawnFaces, turned
from loss import heat_loss, mask_loss, weighted_mean
from model import INPUT_PLANES, LESSONS, OUTPUTS, MarkNetwork
from parts import converted, joined
from sheet import sheet_of

AT = {name: index for index, name in enumerate(OUTPUTS + LESSONS)}


@dataclass
class MarkLesson:
    """Pictures to learn from, the plan of learning and the loss."""

    steps: int = 15000
    #: Pictures per step, of all processes together.
    batch: int = 256
    #: Scenes drawn at once, and photographs of each.
    scenes: int = 768
    looks: int = 4
    #: How often each picture is learned from, and how many are at hand to choose from.
    shows: int = 2
    room: int = 12288
    rate: float = 5e-3
    weight_decay: float = 1e-4

    name: ClassVar = "mark"
    side: ClassVar = 256
    #: A picture of the smallest kind, and the free dimensions of the weights file.
    example: ClassVar = torch.zeros(1, INPUT_PLANES, 128, 128)
    axes: ClassVar = {
        "planes": {2: "height", 3: "width"}, "evidence": {2: "rows", 3: "columns"}
    }

    def begin_drawing(self, seed, device):
        """Opens an endless supply of pictures, another one for each seed."""
        self.faces = DrawnFaces(Chance(seed, device), self.scenes, self.side)

    def network(self):
        """The network to teach, knowing nothing."""
        return MarkNetwork()

    def draw(self):
        """New pictures, a row each."""
        return joined([converted(look, torch.float16) for look in self.faces.draw(self.looks)])

    def shown(self, rows):
        """The same pictures mirrored or turned at random."""
        return turned(rows, *torch.randint(2, (3,)).tolist())

    @staticmethod
    def losses(logits, rows):
        """Every part of the loss by name; logits float32."""
        votes = logits[:, AT["to_mark_x"] : AT["to_mark_y"] + 1]
        towards = logits[:, AT["towards_entry_x"] : AT["towards_entry_y"] + 1]
        fresh = functional.binary_cross_entropy_with_logits(
            logits[:, AT["fresh"]], rows.fresh, reduction="none"
        )
        return {
            "hole": 1.3 * heat_loss(logits[:, AT["hole"]], rows.hole, rows.hole_weight),
            "entry": 1.5 * heat_loss(logits[:, AT["entry"]], rows.entry, rows.entry_weight),
            "fresh": 1.2 * weighted_mean(fresh, rows.fresh_weight),
            "disc": 0.7 * mask_loss(logits[:, AT["disc"]], rows.disc, rows.disc_weight),
            "shaft": mask_loss(logits[:, AT["shaft"]], rows.shaft, 1.0),
            "vane": 0.5 * mask_loss(logits[:, AT["vane"]], rows.vane, 1.0),
            "nock": 0.5 * mask_loss(logits[:, AT["nock"]], rows.nock, 1.0),
            "towards": 0.3 * weighted_mean(
                (towards - rows.towards).abs().sum(1), rows.towards_weight
            ),
            "to_mark": weighted_mean(
                functional.smooth_l1_loss(votes, rows.to_mark, reduction="none", beta=0.1).sum(1),
                rows.to_mark_weight,
            ),
        }

    @staticmethod
    def sheet(rows, answers=None):
        """Pictures, below each what is asked (hole red, shaft green, vane and entry blue), then answers."""
        def coloured(hole, shaft, entry, vane):
            return torch.stack((hole, shaft, torch.maximum(entry, 0.6 * vane)), dim=1)

        shown = [coloured(rows.hole, rows.shaft, rows.entry, rows.vane)]
        if answers is not None:
            names = ("hole", "shaft", "entry", "vane")
            shown.append(coloured(*(answers[:, AT[name]] for name in names)))
        return sheet_of(rows.planes[:, :3], shown)
