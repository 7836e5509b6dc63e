"""Batches of drawn faces with the network's input planes and what it should answer."""

from dataclasses import dataclass

import torch
from torch.nn import functional

from arrows import ArrowMaps, Arrows, arrow_shadows, draw_arrows, place_arrows
from camera import photograph
from glyphs import distance_pictures
from holes import Holes, draw_holes
from light import light_field, shadow_mask
from model import STRIDE
from print_layer import Glyphs, draw_print, line_plane
from scene import FACE, Scene, draw_scene

#: A hole that changes less of the paper's lightness than this (sum of steps over its shaft's area)
#: is neither asked for nor held against the network.
LEAST_SEEN = 0.02

#: Extra weight of holes that touch: there is more to learn there.
CROWDED = 1.0
#: Extra weight where figures are printed: of all that is no hole, they look most like one.
PRINTED = 1.5
#: Thinnest shaft on the paper for which holes and entries are asked, flat pixels.
LEAST_SHAFT_PX = 3.8


@dataclass
class Batch:
    """Planes (batch, 7, side, side); targets on cells of STRIDE pixels (batch, cells, cells)."""

    planes: torch.Tensor
    hole: torch.Tensor
    entry: torch.Tensor
    fresh: torch.Tensor
    disc: torch.Tensor
    shaft: torch.Tensor
    core: torch.Tensor
    vane: torch.Tensor
    nock: torch.Tensor
    towards: torch.Tensor  # (batch, 2, cells, cells)
    to_mark: torch.Tensor  # (batch, 2, cells, cells), shaft widths
    hole_weight: torch.Tensor
    entry_weight: torch.Tensor
    fresh_weight: torch.Tensor
    disc_weight: torch.Tensor
    towards_weight: torch.Tensor
    to_mark_weight: torch.Tensor


def at_points(field, points, side):
    """Values of a field (batch, side, side) at points (batch, count, 2)."""
    places = (points * (2 / side) - 1)[:, :, None]
    values = functional.grid_sample(
        field[:, None], places, mode="bilinear", padding_mode="zeros", align_corners=False
    )
    return values[:, 0, :, 0]


def mark_targets(scene, centres, sigma, wanted):
    """Heat of marks and the offsets to the nearest, on cells."""
    cells = scene.side // STRIDE
    steps = (torch.arange(cells, device=centres.device) + 0.5) * STRIDE
    heat = torch.zeros(scene.batch, cells, cells, device=centres.device)
    nearest = torch.full_like(heat, 1e9)
    offset = torch.zeros(scene.batch, 2, cells, cells, device=centres.device)
    which = torch.zeros_like(heat, dtype=torch.long)
    for k in range(centres.shape[1]):
        dx = centres[:, k, 0, None] - steps
        dy = centres[:, k, 1, None] - steps
        distance2 = dx[:, None, :] ** 2 + dy[:, :, None] ** 2
        blob = torch.exp(-distance2 / (2 * sigma[:, None, None] ** 2))
        heat = torch.maximum(heat, blob * wanted[:, k, None, None])
        distance2 = torch.where(wanted[:, k, None, None] > 0, distance2, torch.full_like(heat, 1e9))
        closer = distance2 < nearest
        nearest = torch.where(closer, distance2, nearest)
        here = torch.stack(
            (dx[:, None, :].expand_as(heat), dy[:, :, None].expand_as(heat)), dim=1
        )
        offset = torch.where(closer[:, None], here, offset)
        which = torch.where(closer, torch.full_like(which, k), which)
    return heat, nearest.sqrt(), offset, which


def near_any(scene, centres, radius, chosen):
    """1 on cells within `radius` (batch, count) of any chosen centre."""
    cells = scene.side // STRIDE
    steps = (torch.arange(cells, device=centres.device) + 0.5) * STRIDE
    found = torch.zeros(scene.batch, cells, cells, device=centres.device)
    for k in range(centres.shape[1]):
        dx = centres[:, k, 0, None] - steps
        dy = centres[:, k, 1, None] - steps
        inside = dx[:, None, :] ** 2 + dy[:, :, None] ** 2 < radius[:, k, None, None] ** 2
        found = torch.maximum(found, inside * chosen[:, k, None, None])
    return found


def frame_edge(scene, chance, flat):
    """Blackens what lies outside the photo's frame; returns the picture and what is inside."""
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    outwards = chance.direction(batch)
    edge = torch.where(
        chance.happens(0.08, batch) > 0, chance.uniform(-0.1, 0.5, batch) * side, 1e4
    )
    reach = (x - side / 2) * outwards[:, 0, None, None] + (y - side / 2) * outwards[
        :, 1, None, None
    ]
    inside = (reach < edge[:, None, None]).float()
    return flat * inside[:, None], inside


@dataclass
class Drawn:
    """Lit scenes before they are photographed, and what was drawn in them."""

    scene: Scene
    radiance: torch.Tensor
    paper: torch.Tensor
    figures: Glyphs
    holes: Holes
    arrows: Arrows
    covers: ArrowMaps


class DrawnScenes:
    """An endless, seeded supply of lit scenes with all that is in them."""

    def __init__(self, chance, batch, side, views=FACE):
        self.views = views
        self.chance = chance
        self.batch = batch
        self.side = side
        self.glyphs = distance_pictures(chance.device)

    def lit(self):
        """The next scenes."""
        chance = self.chance
        scene = draw_scene(chance, self.batch, self.side, self.views)
        arrows = place_arrows(scene, chance)
        reflectance, paper, boss, figures = draw_print(scene, chance, self.glyphs)
        reflectance, holes = draw_holes(
            scene, chance, reflectance, boss, arrows.entry, arrows.there
        )
        direct = shadow_mask(scene, chance) * arrow_shadows(scene, chance, arrows)
        light = light_field(scene, chance, direct)
        radiance, covers = draw_arrows(scene, chance, reflectance * light, light, arrows)
        return Drawn(scene, radiance, paper, figures, holes, arrows, covers)


class DrawnFaces(DrawnScenes):
    """An endless, seeded supply of batches."""

    @torch.no_grad()
    def draw(self, looks=1):
        """The next scenes, each photographed `looks` times: a list of batches.

        Later looks are mirrored or turned at random: drawing is dearer than photographing.
        """
        chance = self.chance
        drawn = self.lit()
        scene, radiance, holes = drawn.scene, drawn.radiance, drawn.holes
        targets = self.targets(
            scene, (holes, drawn.figures), drawn.arrows, drawn.covers, drawn.paper
        )
        batches = []
        for look in range(looks):
            flat, noise = photograph(chance, radiance, scene)
            batch = self.look(scene, flat, noise, holes, targets)
            batches.append(batch if look == 0 else turned(batch, *chance.integer(0, 1, 3).tolist()))
        return batches

    def look(self, scene, flat, noise, holes, targets):
        """A batch of photographed scenes: what lies outside the frame is neither seen nor asked."""
        chance, side = self.chance, self.side
        flat, framed = frame_edge(scene, chance, flat)
        x, y = scene.grid()
        size = (self.batch, side, side)
        points = torch.stack((x.expand(size), y.expand(size)), dim=-1)
        told = scene.told_camera(chance)
        rise = (points - told[:, None, None, :2]) / told[:, None, None, 2:]
        scale = torch.log2(scene.told / 8)[:, None, None, None].expand(-1, 1, side, side)
        lines = line_plane(scene, chance)[:, None]
        planes = torch.cat((flat, lines, rise.permute(0, 3, 1, 2), scale), dim=1)
        seen = functional.avg_pool2d(framed[:, None], STRIDE)[:, 0]
        # A faint hole in a noisy picture: whoever says nothing of it is not wrong.
        drowned = holes.there * (holes.seen < LEAST_SEEN + 0.8 * noise[:, None])
        reach = 0.8 * scene.shaft[:, None].expand_as(holes.seen)
        drowned = near_any(scene, holes.centres, reach, drowned)
        plain = seen * (1 - drowned)
        return Batch(
            planes=planes,
            **{
                **targets,
                "hole_weight": targets["hole_weight"] * plain,
                "disc_weight": targets["disc_weight"] * plain,
                "entry_weight": targets["entry_weight"] * seen,
                "fresh_weight": targets["fresh_weight"] * plain,
                "to_mark_weight": targets["to_mark_weight"] * seen,
                "towards_weight": targets["towards_weight"] * seen,
                "shaft": targets["shaft"] * seen,
                "core": targets["core"] * seen,
                "vane": targets["vane"] * seen,
                "nock": targets["nock"] * seen,
            },
        )

    def targets(self, scene, on_paper, arrows, covers, paper):
        """What the network should answer, by the names of Batch; on_paper: holes and glyphs."""
        holes, figures = on_paper
        side = self.side
        shaft = scene.shaft

        def to_cells(field):
            return functional.avg_pool2d(field[:, None], STRIDE)[:, 0]

        covered = torch.maximum(torch.maximum(covers.shaft, covers.vane), covers.nock)
        about = functional.avg_pool2d(covered[:, None], 5, stride=1, padding=2)[:, 0]
        plain = (holes.seen > LEAST_SEEN) & (at_points(about, holes.centres, side) < 0.35)
        plain = plain & (at_points(paper, holes.centres, side) > 0.5)
        wanted = holes.there * plain
        doubtful = holes.there * (~plain)
        entry_plain = covers.hidden < 0.5
        entry_wanted = arrows.there * entry_plain
        entry_doubtful = arrows.there * (~entry_plain)

        sigma = (0.2 * shaft).clamp(min=1.3)
        hole, hole_away, hole_offset, which = mark_targets(scene, holes.centres, sigma, wanted)
        entry, entry_away, entry_offset, _ = mark_targets(scene, arrows.entry, sigma, entry_wanted)
        disc = near_any(scene, holes.centres, holes.diameter / 2, wanted)
        fresh = holes.fresh.gather(1, which.flatten(1)).view_as(hole)
        wide = shaft[:, None, None]
        closer = (entry_away < hole_away)[:, None]
        away = torch.minimum(entry_away, hole_away)
        reach = 0.8 * shaft[:, None].expand_as(holes.seen)
        doubt = near_any(scene, holes.centres, reach, doubtful)
        entry_reach = shaft[:, None].expand_as(arrows.there)
        entry_doubt = near_any(scene, arrows.entry, entry_reach, entry_doubtful)
        crowd = near_any(scene, holes.centres, reach, holes.crowded * wanted)
        print_reach = 0.6 * figures.height + 0.25 * shaft[:, None]
        print_near = near_any(scene, figures.centres, print_reach, figures.there.float())
        # Where shafts are thinner than any reading has them on the face, only arrows are asked.
        coarse = (shaft > LEAST_SHAFT_PX)[:, None, None].float()
        shaft_cells = to_cells(covers.shaft)
        return {
            "hole": hole,
            "entry": entry,
            "fresh": fresh,
            "disc": disc,
            "shaft": shaft_cells,
            "core": to_cells(covers.core),
            "vane": to_cells(covers.vane),
            "nock": to_cells(covers.nock),
            "towards": functional.avg_pool2d(covers.towards.permute(0, 3, 1, 2), STRIDE),
            "to_mark": torch.where(closer, entry_offset, hole_offset) / wide[:, None],
            "hole_weight": (1 - doubt * (hole < 0.3)) * (1 + CROWDED * crowd + PRINTED * print_near) * coarse,
            "entry_weight": (1 - entry_doubt * (entry < 0.3)) * coarse,
            # Wide shafts leave larger holes, but each hole is asked once.
            "fresh_weight": (hole_away < 0.5 * wide).float() / wide**2 * coarse,
            "disc_weight": (1 - doubt * (disc < 0.5)) * coarse,
            "towards_weight": (shaft_cells > 0.6).float(),
            "to_mark_weight": (away < 0.7 * wide).float() * coarse,
        }


#: Planes and targets that are vectors: where their x and y lie in dimension 1.
VECTORS = {"planes": 4, "towards": 0, "to_mark": 0}


def turned(batch, flip_x, flip_y, swap):
    """The batch mirrored left to right, upside down, or with x and y exchanged (0 or 1 each)."""
    fields = {}
    for name, field in vars(batch).items():
        field = field.clone()
        at = VECTORS.get(name)
        for flip, dimension, part in ((flip_x, -1, 0), (flip_y, -2, 1)):
            if flip:
                field = field.flip(dimension)
                if at is not None:
                    field[:, at + part] = -field[:, at + part]
        if swap:
            field = field.transpose(-1, -2)
            if at is not None:
                field = field.clone()
                field[:, [at, at + 1]] = field[:, [at + 1, at]]
        fields[name] = field.contiguous()
    return Batch(**fields)
