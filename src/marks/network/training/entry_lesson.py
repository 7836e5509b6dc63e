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

#: Output planes in order, probabilities: shafts, the middle half of their width, entries, vanes.
OUTPUTS = ("shaft", "core", "entry", "vane")
AT = {name: index for index, name in enumerate(OUTPUTS + LESSONS)}
WIDTHS = (20, 36, 60, 80, 96)
UP_WIDTHS = (60, 40, 26, 20)


@dataclass
class EntryLesson(MarkLesson):
    """Pictures to learn from, the plan of learning and the loss."""

    steps: int = 20000

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
        cells = []
        for i in range(min(24, len(rows.planes))):
            asked = torch.stack((rows.core[i], 0.5 * rows.shaft[i], rows.entry[i]))
            stacked = [rows.planes[i, :3], functional.interpolate(asked[None], scale_factor=2)[0]]
            if answers is not None:
                answer = torch.stack(
                    (answers[i, AT["core"]], 0.5 * answers[i, AT["shaft"]], answers[i, AT["entry"]])
                )
                stacked.append(functional.interpolate(answer[None], scale_factor=2)[0])
            cells.append(torch.cat(stacked, dim=1))
        across = min(6, len(cells))
        sheets = [
            torch.cat(cells[i : i + across], dim=2) for i in range(0, len(cells) - across + 1, across)
        ]
        return torch.cat(sheets, dim=1).permute(1, 2, 0)
