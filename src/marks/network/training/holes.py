"""Holes of every kind, specks that are none, and where standing arrows push the paper in.

The holes of one face are alike: what made them, what they stay open to in that paper on that boss, and
what time does to them there. Behind a new hole the boss has only begun to close, its paper is torn
clean and its fibres stand up. Later the boss comes back, hands and arrows that are drawn press the rim
flat, fibres break off, dust and straw fill the hole, damp and dirt darken it round about, and what
hits beside it pushes it shut or tears it on. How much of each shows is the face's own; on some
faces nothing shows.
"""

from dataclasses import dataclass

import torch

from canvas import Canvas, in_rounds
from print_layer import linear

HOLES = 40
SPECKS = 8
PATCH = 72


@dataclass
class Holes:
    """Holes of a batch; tensors (batch, HOLES) unless said otherwise."""

    centres: torch.Tensor  # (batch, HOLES, 2)
    diameter: torch.Tensor  # of the shaft that made it
    fresh: torch.Tensor  # 1 of this end, 0 older
    there: torch.Tensor  # 1 where a hole was made
    seen: torch.Tensor  # change of reflectance per shaft area
    crowded: torch.Tensor  # 1 where another hole touches it or nearly does


@dataclass
class Items:
    """Holes, entries and specks that are there, one row each."""

    picture: torch.Tensor
    centre: torch.Tensor  # (items, 2)
    size: torch.Tensor  # diameter of the shaft that made it
    hole: torch.Tensor
    entry: torch.Tensor
    speck: torch.Tensor
    #: How long ago it was made: 0 this end, up to 1.
    age: torch.Tensor
    #: Part of its opening that later hits close again.
    pressed: torch.Tensor
    order: torch.Tensor


def place(scene, chance):
    """Centres: spread, grouped or touching."""
    batch, side = scene.batch, scene.side
    spread = chance.uniform(-0.02, 1.02, batch, HOLES, 2) * side
    middle = chance.uniform(0.1, 0.9, batch, 1, 2) * side
    sd = (chance.log_uniform(0.8, 9.0, batch) * scene.shaft)[:, None, None]
    grouped = middle + chance.normal(1.0, batch, HOLES, 2) * sd
    is_grouped = chance.happens(0.5, batch, 1) * chance.happens(0.8, batch, HOLES)
    centres = torch.where(is_grouped[..., None] > 0, grouped, spread)
    # Some sit next to their neighbour, touching or overlapping it.
    step = chance.direction(batch, HOLES) * (
        chance.uniform(0.35, 1.5, batch, HOLES) * scene.shaft[:, None]
    )[..., None]
    pair = chance.happens(0.16, batch, HOLES)[..., None] > 0
    beside = torch.roll(centres, 1, dims=1) + step
    centres = torch.where(pair, beside, centres)
    count = chance.choice([0, 1, 3, 5, 8, 12, 20, 30, 40], batch)
    there = (torch.arange(HOLES, device=chance.device)[None] < count[:, None]).float()
    return centres, there


def edge_radius(chance, theta, ragged, elongated, flapped):
    """Outline of a torn cavity relative to its mean radius, by angle."""

    def each(low, high):
        return chance.uniform(low, high, len(theta))[:, None, None]

    outline = 1 + elongated[:, None, None] * torch.cos(2 * (theta - each(0, 6.28)))
    for k in (3, 4, 5, 7, 10):
        amplitude = ragged[:, None, None] * each(0.0, 1.0) / k**0.5
        outline = outline + amplitude * torch.cos(k * (theta - each(0, 6.28)))
    n = chance.integer(2, 4, len(theta)).float()[:, None, None]
    star = torch.cos(n * (theta - each(0, 6.28))).abs() ** each(0.5, 2.0)
    return (outline * (1 - flapped[:, None, None] * star)).clamp(min=0.05)


def draw_holes(scene, chance, reflectance, boss, entries, entry_there):
    """Paints holes, specks and the dents round entries; returns the picture and the holes.

    boss: (batch, 3), what shows through; entries: (batch, arrows, 2); these get rim and creases,
    never a label.
    """
    batch, device = scene.batch, reflectance.device
    centres, there = place(scene, chance)
    old_only = chance.happens(0.12, batch, 1)
    new_only = chance.happens(0.22, batch, 1)
    fresh = chance.happens(0.35, batch, HOLES) * (1 - old_only)
    fresh = torch.maximum(fresh, new_only.expand_as(fresh))
    # Other archers' shafts made some of the old ones.
    other = chance.uniform(0.5, 1.5, batch, HOLES)
    same = torch.maximum(chance.happens(0.45, batch, 1), chance.happens(0.4, batch, HOLES))
    diameter = scene.shaft[:, None] * torch.where((fresh > 0) | (same > 0), torch.ones_like(other), other)

    apart = (centres[:, :, None] - centres[:, None]).norm(dim=-1)
    both = there[:, :, None] * there[:, None] * (1 - torch.eye(HOLES, device=device))
    apart = torch.where(both > 0, apart / scene.shaft[:, None, None], torch.full_like(apart, 1e6))
    crowded = (apart < 1.3).any(-1).float() * there
    later = torch.arange(HOLES, device=device)[None] + 1000 * fresh
    hit_again = ((apart < 1.2) & (later[:, None] > later[:, :, None])).any(-1).float()

    items = listed(scene, chance, (centres, there, diameter, fresh, hit_again), entries, entry_there)
    picture, changed = paint(scene, chance, items, reflectance, boss)
    seen = torch.zeros(batch, HOLES, device=device)
    seen[there > 0] = changed[: int(there.sum())]
    holes = Holes(
        centres=centres, diameter=diameter, fresh=fresh, there=there, seen=seen, crowded=crowded
    )
    return picture, holes


def listed(scene, chance, holes, entries, entry_there):
    """Everything to paint as Items: holes first, in the order of `there.nonzero()`."""
    batch, device = scene.batch, entries.device
    centres, there, diameter, fresh, hit_again = holes
    specks = chance.uniform(0.0, 1.0, batch, SPECKS, 2) * scene.side
    speck_there = chance.happens(0.4, batch, 1) * chance.happens(0.6, batch, SPECKS)
    parts = []
    for kind, (at, shown) in enumerate(
        ((centres, there), (entries, entry_there), (specks, speck_there))
    ):
        which = shown.nonzero()
        own = (which[:, 0], which[:, 1])
        size = diameter[own] if kind == 0 else scene.shaft[own[0]]
        parts.append((own[0], at[own], size, torch.full_like(size, kind)))
    picture, centre, size, kind = (torch.cat(part) for part in zip(*parts))
    own = (there > 0).nonzero()
    own = (own[:, 0], own[:, 1])
    count, holes_count = len(size), len(own[0])
    # Of a face that was put up today even the oldest holes are young.
    worn = torch.where(
        chance.happens(0.12, batch) > 0,
        chance.uniform(0.0, 0.3, batch),
        chance.uniform(0.4, 1.0, batch),
    )
    age = torch.zeros(count, device=device)
    age[:holes_count] = (1 - fresh[own]) * worn[picture[:holes_count]] * chance.uniform(
        0.2, 1.0, holes_count
    )
    dirty = chance.happens(0.2, count) * chance.uniform(0.0, 1.0, count)
    age = torch.where(kind == 0, age, dirty)
    pressed = torch.zeros(count, device=device)
    pressed[:holes_count] = hit_again[own] * chance.uniform(0.0, 0.6, holes_count)
    order = chance.uniform(0.0, 1.0, count)
    order[:holes_count] = own[1] / HOLES + fresh[own]
    order = order + 2.0 * (kind == 1)
    return Items(
        picture, centre, size, (kind == 0).float(), (kind == 1).float(), (kind == 2).float(),
        age, pressed, order,
    )


def paint(scene, chance, items, reflectance, boss):
    """Paints the items; returns the picture and how much each changed it per shaft area."""
    device = reflectance.device
    count, of = len(items.size), items.picture
    batch = scene.batch
    age, size = items.age, items.size
    is_hole, is_entry, is_speck = items.hole, items.entry, items.speck

    def each(low, high):
        return chance.uniform(low, high, count)[:, None, None]

    def sometimes(probability, low, high):
        return chance.happens(probability, count)[:, None, None] * each(low, high)

    def habit(low, high):
        """What is the same for all items of a picture."""
        return chance.uniform(low, high, batch)[of]

    # How far the paper stays open, as a part of the shaft's radius.
    opened = habit(0.55, 1.0) * chance.uniform(0.83, 1.15, count)
    tight = chance.happens(0.07, count) > 0
    opened = torch.where(tight, chance.uniform(0.1, 0.45, count), opened)
    # The boss comes back quickly at first, and seldom all the way.
    closed = habit(0.25, 1.1) * age.sqrt() * chance.uniform(0.4, 1.2, count)
    # What is pulled out, or hits the edge, tears some on.
    torn_on = chance.happens(0.1, count) * chance.uniform(0.0, 0.5, count) * age
    opened = opened * (1 - closed.clamp(max=0.95)) * (1 + torn_on)
    opened = opened * (1 - items.pressed) * is_hole + chance.uniform(0.9, 1.35, count) * is_entry
    opened = opened + chance.uniform(0.08, 0.3, count) * is_speck
    life = (1 - is_speck)[:, None, None]  # specks have neither rim nor relief

    canvas = Canvas(reflectance, PATCH, of, items.centre)
    shift = chance.normal(0.07, count, 2) * size[:, None]
    x0, y0 = canvas.offsets()
    x = x0 - shift[:, 0, None, None]
    y = y0 - shift[:, 1, None, None]
    distance = torch.hypot(x, y) + 1e-3
    theta = torch.atan2(y, x)
    unit = (size / 2)[:, None, None]
    aged = age[:, None, None]

    ragged = chance.happens(0.75, count) * chance.uniform(0.0, 0.35, count) * (1 + 0.7 * age)
    elongated = chance.uniform(0.0, 0.15, count) + age * chance.uniform(
        0.0, 0.5, count
    ) * chance.happens(0.5, count)
    flapped = chance.happens(0.25, count) * chance.uniform(0.2, 0.8, count) * is_hole
    mean_radius = opened[:, None, None] * unit
    outline = mean_radius * edge_radius(chance, theta, ragged, elongated, flapped)
    # Use frays the edge.
    frayed = habit(0.0, 0.45)[:, None, None] * aged * each(0.2, 1.0)
    soft = 0.8 + sometimes(0.3, 0.0, 0.2) * unit + frayed * unit

    # Creases run out from the hole, relief catches the light, dirt darkens the surroundings.
    warp = theta + each(0.0, 0.5) * torch.cos(2 * theta + each(0, 6.28))
    n = chance.integer(2, 7, count).float()[:, None, None]
    spoke = torch.exp(-(1 - torch.cos(n * (warp - each(0, 6.28)))) * each(1.5, 9.0))
    uneven = 0.5 + 0.5 * torch.cos(theta - each(0, 6.28))
    reach = torch.exp(-(distance / unit - opened[:, None, None]).clamp(min=0) / each(0.25, 1.5))
    sign = torch.where(chance.happens(0.4, count)[:, None, None] > 0, 1.0, -1.0)
    factor = 1 + sign * sometimes(0.65, 0.05, 0.6) * spoke * uneven * reach * life
    sun = scene.sun_slope / (1 + scene.sun_slope.norm(dim=-1, keepdim=True))
    lx, ly = -sun[of, 0, None, None], -sun[of, 1, None, None]
    bump = torch.exp(-(((distance / unit - each(0.8, 1.5)) / each(0.25, 0.7)) ** 2))
    relief = (x * lx + y * ly) / distance * sometimes(0.7, -0.35, 0.7) * bump
    factor = factor + relief * life
    dirt = torch.exp(-((distance / unit / each(0.9, 2.2)) ** 2))
    soiled = aged * habit(-0.3, 0.5).clamp(min=0)[:, None, None] * each(0.2, 1.0)
    dirt = dirt * (sometimes(0.2, 0.0, 0.2) + soiled)
    factor = (factor * (1 - dirt.clamp(max=0.6) * life)).clamp(0.25, 2.0)

    # Rim of torn paper: where it stands up, how wide, and how bright; clean when new.
    part = 0.5 + 0.5 * torch.cos(theta - each(0, 6.28)) + each(-0.6, 0.8) * torch.cos(
        chance.integer(2, 6, count).float()[:, None, None] * theta + each(0, 6.28)
    )
    rim_width = part.clamp(0.0, 1.0) * each(0.1, 0.55) * unit
    tongue = (torch.cos(n * theta + each(0, 6.28)) - 0.55).clamp(min=0.0) * 2.2
    rim_width = rim_width + sometimes(0.35, 0.1, 0.9) * tongue * unit
    rim = ((outline + rim_width - distance) / soft + 0.5).clamp(0, 1)
    # Paper that tears in fibres does so everywhere; pressed flat they catch less light.
    fibrous = habit(0.35, 1.0)[:, None, None] * sometimes(0.82, 0.4, 1.0)
    worn_off = 1 - (aged.sqrt() * habit(0.0, 1.2)[:, None, None] * each(0.5, 1.1)).clamp(max=1)
    rim = rim * (rim_width / 0.7).clamp(0, 1) * fibrous * life * worn_off
    bright = chance.uniform(0.0, 1.0, count) > 0.15 + 0.35 * age
    rim_tone = torch.where(
        bright, chance.uniform(0.55, 1.0, count), chance.uniform(0.03, 0.35, count)
    )
    rim_tone = rim_tone * (1 - age * chance.uniform(0.0, 0.5, count))
    warm = 1 - chance.uniform(0.0, 0.35, count)[:, None] * torch.tensor(
        [0.0, 0.3, 1.0], device=device
    )
    rim_colour = linear(rim_tone[:, None] * warm)[:, None, None, :]
    rim_colour = rim_colour * (1 + 0.5 * (x * lx + y * ly) / (unit * 2)).clamp(0.4, 1.6)[..., None]

    # The cavity: dark, or the boss seen through it, lit on the side that the light reaches.
    inside = ((outline - distance) / soft + 0.5).clamp(0, 1)
    filling = habit(-0.3, 0.35).clamp(min=0)
    depth = chance.uniform(0.0, 0.06, count) + age * filling * chance.uniform(0.3, 1.0, count)
    through = chance.happens(0.25, batch)[of] * chance.happens(0.6, count)
    seen_boss = boss[of] * chance.uniform(0.05, 0.9, count)[:, None]
    straw = torch.tensor([0.55, 0.42, 0.2], device=device) * chance.uniform(0.1, 1.0, count)[:, None]
    seen_boss = torch.where(chance.happens(0.4, batch)[of, None] > 0, straw, seen_boss)
    cavity = torch.where(through[:, None] > 0, seen_boss, depth[:, None].expand(count, 3))
    cavity = cavity[:, None, None, :] * (
        1 - each(0.0, 1.0) * (x * lx + y * ly) / (mean_radius + 1)
    ).clamp(0.2, 1.8)[..., None]
    strength = 1 - chance.uniform(0.0, 0.15, count) - age * habit(0.0, 0.6) * chance.uniform(0.2, 1.0, count)
    strength = torch.where(is_speck > 0, chance.uniform(0.15, 0.7, count), strength)
    inside = inside * strength[:, None, None]
    # A cavity much smaller than a pixel darkens less.
    inside = inside * (mean_radius / 0.5).clamp(0, 1)
    flap = sometimes(0.3, -0.5, 0.4)
    folded = ((unit * each(0.6, 1.0) - distance) / soft + 0.5).clamp(0, 1) * life
    factor = factor * (1 + flap * folded)

    changed = torch.zeros(count, device=device)
    area = 0.785 * size**2
    for now in in_rounds(of, items.order):

        def recipe(pixels, now=now):
            new = pixels * factor[now][..., None]
            new = new + (rim_colour[now] - new) * rim[now][..., None]
            return new + (cavity[now] - new) * inside[now][..., None]

        before, after = canvas.change(now, recipe)
        # Judged as a camera would: steps of lightness, not of linear light.
        step = (after.clamp(1e-4, 1) ** 0.45 - before.clamp(1e-4, 1) ** 0.45).abs().mean(-1)
        changed[now] = step.sum((1, 2)) / area[now]
    return canvas.picture().clamp(0.0, 1.0), changed
