"""Batches of strips along drawn arrows, with where each arrow ends and whether it has vanes."""

from dataclasses import dataclass

import torch
from torch.nn import functional

from arrows import rear_ends
from camera import photograph
from drawn_faces import DrawnScenes, at_points, frame_edge
from parts import joined
from rear_model import SHAFT_PX, STRIDE, STRIP_WIDTH

#: Length of the strips to learn from.
STRIP_LENGTH = 160
#: What of an arrow stands out of the paper, about, and how much of the way to the camera at most.
OUTSIDE_MM = 600
NEAREST = 0.85
#: One sigma of the end's heat, shafts.
END_SD = 1.0
#: Samples per strip pixel and axis.
FINER = 2


@dataclass
class Strips:
    """Planes (strips, 4, STRIP_WIDTH, STRIP_LENGTH), float16; the rest (strips, STRIP_LENGTH / STRIDE)."""

    planes: torch.Tensor
    end: torch.Tensor
    end_weight: torch.Tensor
    fletched: torch.Tensor
    fletched_weight: torch.Tensor


def leaving(ends, way, side):
    """How far back along `way` from its end an arrow leaves the picture; 0 where it ends inside."""
    middle = side / 2
    out = (ends - middle).abs() - middle
    outwards = (ends - middle).sign() * way
    back = torch.where(out > 0, out / outwards.clamp(min=1e-6), torch.zeros_like(out)).amax(-1)
    crossing = ends - back[..., None] * way
    hit = ((crossing - middle).abs() <= middle + 1).all(-1)
    return torch.where(hit, back, torch.full_like(back, torch.inf))


class DrawnRears(DrawnScenes):
    """An endless, seeded supply of strips."""

    @torch.no_grad()
    def draw(self, looks=1):
        """Strips along every arrow of the next scenes, each scene photographed `looks` times."""
        chance = self.chance
        drawn = self.lit()
        found = []
        for _ in range(looks):
            flat, _ = photograph(chance, drawn.radiance, drawn.scene)
            flat, framed = frame_edge(drawn.scene, chance, flat)
            found.append(self.strips(drawn, flat, framed))
        return joined(found)

    def strips(self, drawn, flat, framed):
        """One strip along each arrow that is there, placed and aimed as roughly as a reading does."""
        chance, scene, arrows = self.chance, drawn.scene, drawn.arrows
        side, batch = self.side, self.batch
        shape = arrows.there.shape
        ends = rear_ends(scene, arrows)
        way = ends - arrows.entry
        way = way / way.norm(dim=-1, keepdim=True).clamp(min=1e-3)
        height = scene.camera[:, 2]
        above = torch.minimum(OUTSIDE_MM * scene.mm, NEAREST * height)
        grow = height / (height - above)
        px = (scene.told * grow / SHAFT_PX)[:, None] * torch.exp(chance.normal(0.08, *shape))
        rise = (scene.rise(arrows.entry) * way).sum(-1).clamp(min=0.01) * grow[:, None]

        # Mostly the end lies in the strip, sometimes beyond either of its own ends. Of an arrow that
        # leaves the photo the strip shows where it does.
        left = leaving(ends, way, side) / px
        leaves = left > 0
        place = torch.where(
            leaves | (chance.happens(0.75, *shape) > 0),
            chance.uniform(0.1, 0.9, *shape),
            chance.uniform(-0.25, 1.15, *shape),
        ) * STRIP_LENGTH + left.clamp(min=0.0, max=1e4)
        turn = chance.normal(0.02, *shape)
        along = torch.stack(
            (way[..., 0] - turn * way[..., 1], way[..., 1] + turn * way[..., 0]), dim=-1
        )
        rough = torch.where(chance.happens(0.2, *shape) > 0, 1.5, 0.5)
        beside = chance.normal(1.0, *shape) * rough * SHAFT_PX
        mirror = 1 - 2 * chance.happens(0.5, *shape)
        across = torch.stack((-along[..., 1], along[..., 0]), dim=-1) * mirror[..., None]

        steps = (torch.arange(FINER * STRIP_LENGTH, device=flat.device) + 0.5) / FINER
        rows = (torch.arange(FINER * STRIP_WIDTH, device=flat.device) + 0.5) / FINER
        ahead = (steps - place[..., None]) * px[..., None]
        aside = (rows - STRIP_WIDTH / 2 + beside[..., None]) * px[..., None]
        points = (
            ends[:, :, None, None]
            + ahead[:, :, None, :, None] * along[:, :, None, None]
            + aside[:, :, :, None, None] * across[:, :, None, None]
        )
        points = points.flatten(1, 2) * (2 / side) - 1
        seen = functional.grid_sample(flat, points, align_corners=False)
        seen = functional.avg_pool2d(seen, FINER)
        seen = seen.view(batch, 3, shape[1], STRIP_WIDTH, STRIP_LENGTH).transpose(1, 2)
        short = rise[:, :, None, None, None].expand(-1, -1, 1, STRIP_WIDTH, STRIP_LENGTH)
        planes = torch.cat((seen, short), dim=2)

        inside = at_points(framed, ends, side) > 0.5
        wanted = (inside & (drawn.covers.rear_hidden < 0.5)).float()
        cells = (torch.arange(STRIP_LENGTH // STRIDE, device=flat.device) + 0.5) * STRIDE
        off = (cells - place[..., None]) / (END_SD * SHAFT_PX)
        heat = torch.exp(-(off**2) / 2)
        hidden = (inside & (drawn.covers.rear_hidden >= 0.5)).float()
        crosses = leaves & torch.isfinite(left)
        kept = (arrows.there > 0) & (inside | (crosses & (chance.happens(0.5, *shape) > 0)))
        return Strips(
            planes=planes[kept].half(),
            end=(heat * wanted[..., None])[kept],
            end_weight=(1 - hidden[..., None] * (heat > 0.1))[kept],
            fletched=arrows.vaned[..., None].expand_as(heat)[kept],
            fletched_weight=(heat * (heat > 0.3) * wanted[..., None])[kept],
        )
