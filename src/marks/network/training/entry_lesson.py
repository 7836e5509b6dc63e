"""What the entry network is taught: parts of faces where arrows stand, one by one and in bunches."""

from dataclasses import dataclass
from typing import ClassVar

import torch
from torch.nn import functional

from chance import Chance
from drawn_faces import DrawnFaces
from loss import heat_loss, mask_loss, weighted_mean
from mark_lesson import MarkLesson
from model import LESSONS, MarkNetwork
from scene import ENTRIES
from sheet import sheet_of

#: Output planes in order, probabilities: shafts, the middle half of their width, entries, vanes.
OUTPUTS = ("shaft", "core", "entry", "vane")
AT = {name: index for index, name in enumerate(OUTPUTS + LESSONS)}
WIDTHS = (20, 36, 60, 80, 96)
UP_WIDTHS = (60, 40, 26, 20)


@dataclass
class EntryLesson(MarkLesson):
    """Pictures to learn from, the plan of learning and the loss."""

    steps: int = 13000

    name: ClassVar = "entry"
    side: ClassVar = 192

    def begin_drawing(self, seed, device):
        """Opens an endless supply of pictures, another one for each seed."""
        self.faces = DrawnFaces(Chance(seed, device), self.scenes, self.side, ENTRIES)

    def network(self):
        """The network to teach, knowing nothing."""
        return MarkNetwork(OUTPUTS, LESSONS, WIDTHS, UP_WIDTHS)

    @staticmethod
    def losses(logits, rows):
        """Every part of the loss by name; logits float32."""
        votes = logits[:, AT["to_mark_x"] : AT["to_mark_y"] + 1]
        towards = logits[:, AT["towards_entry_x"] : AT["towards_entry_y"] + 1]
        near_entry = rows.to_mark_weight * (rows.entry > 0.05)
        return {
            "entry": 2.0 * heat_loss(logits[:, AT["entry"]], rows.entry, rows.entry_weight),
            "shaft": mask_loss(logits[:, AT["shaft"]], rows.shaft, 1.0),
            "core": mask_loss(logits[:, AT["core"]], rows.core, 1.0),
            "vane": 0.5 * mask_loss(logits[:, AT["vane"]], rows.vane, 1.0),
            "towards": 0.3 * weighted_mean(
                (towards - rows.towards).abs().sum(1), rows.towards_weight
            ),
            "to_mark": 0.5 * weighted_mean(
                functional.smooth_l1_loss(votes, rows.to_mark, reduction="none", beta=0.1).sum(1),
                near_entry,
            ),
        }

    @staticmethod
    def sheet(rows, answers=None):
        """Pictures, below each what is asked (core red, shaft green, entry blue), then answers."""
        def coloured(core, shaft, entry):
            return torch.stack((core, 0.5 * shaft, entry), dim=1)

        shown = [coloured(rows.core, rows.shaft, rows.entry)]
        if answers is not None:
            shown.append(coloured(*(answers[:, AT[name]] for name in ("core", "shaft", "entry"))))
        return sheet_of(rows.planes[:, :3], shown)
