"""Holes of every kind, specks that are none, and where standing arrows push the paper in."""

from dataclasses import dataclass

import torch

from canvas import Canvas
from print_layer import linear

HOLES = 30
SPECKS = 8
PATCH = 56


@dataclass
class Holes:
    """Holes of a batch; tensors (batch, HOLES) unless said otherwise."""

    centres: torch.Tensor  # (batch, HOLES, 2)
    diameter: torch.Tensor  # of the shaft that made it
    fresh: torch.Tensor  # 1 of this end, 0 older
    there: torch.Tensor  # 1 where a hole was made
    seen: torch.Tensor  # change of reflectance per shaft area


def place(scene, chance):
    """Centres: spread, grouped or touching."""
    batch, side = scene.batch, scene.side
    spread = chance.uniform(-0.02, 1.02, batch, HOLES, 2) * side
    middle = chance.uniform(0.1, 0.9, batch, 1, 2) * side
    sd = (chance.log_uniform(0.8, 9.0, batch) * scene.shaft)[:, None, None]
    grouped = middle + chance.normal(1.0, batch, HOLES, 2) * sd
    is_grouped = chance.happens(0.45, batch, 1) * chance.happens(0.8, batch, HOLES)
    centres = torch.where(is_grouped[..., None] > 0, grouped, spread)
    # Some sit next to their neighbour, touching or overlapping it.
    step = chance.direction(batch, HOLES) * (
        chance.uniform(0.35, 1.5, batch, HOLES) * scene.shaft[:, None]
    )[..., None]
    pair = chance.happens(0.12, batch, HOLES)[..., None] > 0
    beside = torch.roll(centres, 1, dims=1) + step
    centres = torch.where(pair, beside, centres)
    count = chance.choice([0, 1, 3, 5, 8, 12, 20, 30], batch)
    there = (torch.arange(HOLES, device=chance.device)[None] < count[:, None]).float()
    return centres, there


def edge_radius(chance, theta, shape, ragged, elongated, flapped):
    """Outline of a torn cavity relative to its mean radius, by angle."""

    def each(low, high):
        return chance.uniform(low, high, *shape)[..., None, None]

    outline = 1 + elongated[..., None, None] * torch.cos(2 * (theta - each(0, 6.28)))
    for k in (3, 4, 5, 7, 10):
        amplitude = ragged[..., None, None] * each(0.0, 1.0) / k**0.5
        outline = outline + amplitude * torch.cos(k * (theta - each(0, 6.28)))
    n = chance.integer(2, 4, *shape).float()[..., None, None]
    star = torch.cos(n * (theta - each(0, 6.28))).abs() ** each(0.5, 2.0)
    return (outline * (1 - flapped[..., None, None] * star)).clamp(min=0.05)


def draw_holes(scene, chance, reflectance, boss, entries, entry_there):
    """Paints holes, specks and the dents round entries; returns the picture and the holes.

    entries: (batch, arrows, 2); these get rim and creases, never a label.
    """
    batch, device = scene.batch, reflectance.device
    centres, there = place(scene, chance)
    old_only = chance.happens(0.12, batch, 1)
    new_only = chance.happens(0.25, batch, 1)
    fresh = chance.happens(0.35, batch, HOLES) * (1 - old_only)
    fresh = torch.maximum(fresh, new_only.expand_as(fresh))
    other = chance.uniform(0.6, 1.5, batch, HOLES)
    same = chance.happens(0.6, batch, 1).expand(batch, HOLES)
    widen = torch.where((fresh > 0) | (same > 0), torch.ones_like(other), other)
    diameter = scene.shaft[:, None] * widen

    specks = chance.uniform(0.0, 1.0, batch, SPECKS, 2) * scene.side
    speck_there = chance.happens(0.4, batch, 1) * chance.happens(0.6, batch, SPECKS)
    arrows = entries.shape[1]
    all_centres = torch.cat((centres, entries, specks), dim=1)
    all_there = torch.cat((there, entry_there, speck_there), dim=1)
    count = HOLES + arrows + SPECKS
    shape = (batch, count)
    is_hole = torch.zeros(count, device=device)
    is_hole[:HOLES] = 1
    is_entry = torch.zeros(count, device=device)
    is_entry[HOLES : HOLES + arrows] = 1
    is_speck = 1 - is_hole - is_entry

    shaft = scene.shaft[:, None]
    size = torch.cat(
        (diameter, shaft.expand(batch, arrows), shaft.expand(batch, SPECKS)), dim=1
    )
    crisp = torch.cat((fresh, chance.happens(0.8, batch, arrows + SPECKS)), dim=1)

    # How far the paper stayed open, as a part of the shaft's radius.
    wide = chance.happens(0.88, *shape)
    open_new = torch.where(
        wide > 0, chance.uniform(0.42, 1.05, *shape), chance.uniform(0.1, 0.45, *shape)
    )
    habit = chance.uniform(0.15, 0.9, batch, 1)
    open_old = (habit * chance.uniform(0.3, 1.3, *shape)).clamp(0.0, 1.0)
    opened = torch.where(crisp > 0, open_new, open_old)
    opened = opened * is_hole + chance.uniform(0.9, 1.35, *shape) * is_entry
    opened = opened + chance.uniform(0.08, 0.3, *shape) * is_speck
    life = 1 - is_speck  # specks have neither rim nor relief

    canvas = Canvas(reflectance, PATCH)
    shift = chance.normal(0.07, *shape, 2) * size[..., None]
    x0, y0 = canvas.offsets(all_centres)
    x = x0 - shift[..., 0, None, None]
    y = y0 - shift[..., 1, None, None]
    distance = torch.hypot(x, y) + 1e-3
    theta = torch.atan2(y, x)
    unit = (size / 2)[..., None, None]

    def each(low, high):
        return chance.uniform(low, high, *shape)[..., None, None]

    def sometimes(probability, low, high):
        return chance.happens(probability, *shape)[..., None, None] * each(low, high)

    ragged = chance.happens(0.75, *shape) * chance.uniform(0.0, 0.35, *shape)
    elongated = chance.uniform(0.0, 0.15, *shape) + (1 - crisp) * chance.uniform(
        0.0, 0.4, *shape
    ) * chance.happens(0.5, *shape)
    flapped = chance.happens(0.25, *shape) * chance.uniform(0.2, 0.8, *shape) * is_hole
    mean_radius = opened[..., None, None] * unit
    outline = mean_radius * edge_radius(chance, theta, shape, ragged, elongated, flapped)
    soft = 0.8 + sometimes(0.3, 0.0, 0.25) * unit

    # Creases run out from the hole, relief catches the light, dirt darkens the surroundings.
    warp = theta + each(0.0, 0.5) * torch.cos(2 * theta + each(0, 6.28))
    n = chance.integer(2, 7, *shape).float()[..., None, None]
    spoke = torch.exp(-(1 - torch.cos(n * (warp - each(0, 6.28)))) * each(1.5, 9.0))
    uneven = 0.5 + 0.5 * torch.cos(theta - each(0, 6.28))
    reach = torch.exp(-(distance / unit - opened[..., None, None]).clamp(min=0) / each(0.25, 1.5))
    sign = torch.where(chance.happens(0.4, *shape)[..., None, None] > 0, 1.0, -1.0)
    factor = 1 + sign * sometimes(0.65, 0.05, 0.6) * spoke * uneven * reach * life[:, None, None]
    sun = scene.sun_slope / (1 + scene.sun_slope.norm(dim=-1, keepdim=True))
    lx, ly = -sun[:, 0, None, None, None], -sun[:, 1, None, None, None]
    bump = torch.exp(-(((distance / unit - each(0.8, 1.5)) / each(0.25, 0.7)) ** 2))
    relief = (x * lx + y * ly) / distance * sometimes(0.7, -0.35, 0.7) * bump
    factor = factor + relief * life[:, None, None]
    dirt = torch.exp(-((distance / unit / each(0.9, 2.2)) ** 2)) * sometimes(0.35, 0.0, 0.35)
    factor = (factor * (1 - dirt * life[:, None, None])).clamp(0.25, 2.0)

    # Rim of torn paper: where it stands up, how wide, and how bright.
    part = 0.5 + 0.5 * torch.cos(theta - each(0, 6.28)) + each(-0.6, 0.8) * torch.cos(
        chance.integer(2, 6, *shape).float()[..., None, None] * theta + each(0, 6.28)
    )
    rim_width = part.clamp(0.0, 1.0) * each(0.1, 0.55) * unit
    tongue = (torch.cos(n * theta + each(0, 6.28)) - 0.55).clamp(min=0.0) * 2.2
    rim_width = rim_width + sometimes(0.35, 0.1, 0.9) * tongue * unit
    rim = ((outline + rim_width - distance) / soft + 0.5).clamp(0, 1)
    rim = rim * (rim_width / 0.7).clamp(0, 1) * sometimes(0.75, 0.15, 1.0) * life[:, None, None]
    bright = chance.happens(0.7, *shape)
    rim_tone = torch.where(
        bright > 0, chance.uniform(0.5, 1.0, *shape), chance.uniform(0.03, 0.35, *shape)
    )
    warm = 1 - chance.uniform(0.0, 0.35, *shape)[..., None] * torch.tensor(
        [0.0, 0.3, 1.0], device=device
    )
    rim_colour = linear(rim_tone[..., None] * warm)[..., None, None, :]
    rim_colour = rim_colour * (1 + 0.5 * (x * lx + y * ly) / (unit * 2)).clamp(0.4, 1.6)[..., None]

    # The cavity: dark, or the boss seen through it, lit on the side that the light reaches.
    inside = ((outline - distance) / soft + 0.5).clamp(0, 1)
    grey_habit = chance.happens(0.3, batch, 1) * chance.uniform(0.0, 0.25, batch, 1)
    depth = chance.uniform(0.0, 0.06, *shape) + (1 - crisp) * grey_habit
    through = chance.happens(0.25, batch, 1) * chance.happens(0.6, *shape)
    seen_boss = boss.mean((1, 2))[:, None] * chance.uniform(0.05, 0.9, *shape)[..., None]
    straw = torch.tensor([0.55, 0.42, 0.2], device=device) * chance.uniform(0.1, 1.0, *shape)[
        ..., None
    ]
    seen_boss = torch.where(chance.happens(0.4, batch, 1)[..., None] > 0, straw, seen_boss)
    cavity = torch.where(through[..., None] > 0, seen_boss, depth[..., None].expand(*shape, 3))
    cavity = cavity[..., None, None, :] * (
        1 - each(0.0, 1.0) * (x * lx + y * ly) / (mean_radius + 1)
    ).clamp(0.2, 1.8)[..., None]
    strength = torch.where(crisp > 0, chance.uniform(0.8, 1.0, *shape),
                           chance.uniform(0.4, 1.0, *shape))
    speck_strength = chance.uniform(0.15, 0.7, *shape)
    strength = strength * life + speck_strength * is_speck
    inside = inside * strength[..., None, None]
    # A cavity much smaller than a pixel darkens less.
    inside = inside * (mean_radius / 0.5).clamp(0, 1)
    flap = sometimes(0.3, -0.5, 0.4)
    folded = ((unit * each(0.6, 1.0) - distance) / soft + 0.5).clamp(0, 1) * life[:, None, None]
    factor = factor * (1 + flap * folded)

    changed = []
    order = torch.randperm(count, generator=torch.Generator().manual_seed(0)).tolist()
    area = 0.785 * size**2
    for k in order:

        def recipe(old, k=k):
            new = old * factor[:, k, ..., None]
            new = new + (rim_colour[:, k] - new) * rim[:, k, ..., None]
            new = new + (cavity[:, k] - new) * inside[:, k, ..., None]
            return torch.where(all_there[:, k, None, None, None] > 0, new, old)

        old, new = canvas.change(all_centres, k, recipe)
        if k < HOLES:
            # Judged as a camera would: steps of lightness, not of linear light.
            step = (new.clamp(1e-4, 1) ** 0.45 - old.clamp(1e-4, 1) ** 0.45).abs().mean(-1)
            changed.append((k, step.sum((1, 2)) / area[:, k]))
    seen = torch.stack([value for _, value in sorted(changed, key=lambda pair: pair[0])], dim=1)
    holes = Holes(centres=centres, diameter=diameter, fresh=fresh, there=there, seen=seen)
    return canvas.picture().clamp(0.0, 1.0), holes
