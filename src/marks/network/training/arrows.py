"""Standing arrows in perspective, with vanes, nocks, wraps and shadows.

A point h above the paper at P is imaged at C + (P - C) H / (H - h), where C is the camera's foot and
H its height. A straight shaft is therefore a straight band from its entry; its width grows by
H / (H - h).
"""

from dataclasses import dataclass

import torch
from torch.nn import functional

from parts import part_of

VANES = 3


@dataclass
class Arrows:
    """Arrows of a batch, those behind first; tensors (batch, arrows, ...)."""

    entry: torch.Tensor  # (..., 2)
    axis: torch.Tensor  # (..., 3) unit vector from the entry to the nock
    length: torch.Tensor
    radius: torch.Tensor
    there: torch.Tensor
    vaned: torch.Tensor


@dataclass
class ArrowMaps:
    """What the arrows cover; tensors (batch, side, side, ...)."""

    shaft: torch.Tensor
    core: torch.Tensor  # the middle half of each shaft's width
    vane: torch.Tensor
    nock: torch.Tensor
    towards: torch.Tensor  # (..., 2) unit direction to the entry of the topmost shaft
    hidden: torch.Tensor  # (batch, arrows) how much of the entry others cover
    rear_hidden: torch.Tensor  # (batch, arrows) how much of the rear end others cover


def place_arrows(scene, chance):
    """Arrows of one end: entries in and about the picture, nearly parallel to the normal."""
    batch, side, views = scene.batch, scene.side, scene.views
    most = max(views.arrows)
    shape = (batch, most)
    spread = chance.uniform(-0.1, 1.1, *shape, 2) * side
    middle = chance.uniform(0.1, 0.9, batch, 1, 2) * side
    sd = (chance.log_uniform(*views.spread, batch) * scene.shaft)[:, None, None]
    grouped = middle + chance.normal(1.0, *shape, 2) * sd
    entry = torch.where(chance.happens(views.grouped, batch, 1, 1) > 0, grouped, spread)
    entry = pushed_apart(entry, scene.shaft)
    # Some enter outside so that only their far part crosses the picture.
    rise = scene.rise(entry)
    back = chance.happens(0.2, *shape)[..., None] * chance.uniform(0.0, 1.2, *shape)[..., None]
    entry = entry - back * side * rise / (rise.norm(dim=-1, keepdim=True) + 0.15)
    # Others enter outside so that only their shadow does.
    slope = scene.sun_slope[:, None]
    cast = chance.happens(0.2, *shape)[..., None] * chance.uniform(0.0, 1.2, *shape)[..., None]
    entry = entry - cast * side * slope / slope.norm(dim=-1, keepdim=True)

    common = chance.normal(0.03, batch, 1, 2)
    own = chance.normal(1.0, *shape, 2) * chance.uniform(0.0, 0.1, batch, 1, 1)
    # Some are turned aside by another arrow, or by something hard in the boss.
    own = own + chance.happens(0.06, *shape)[..., None] * chance.normal(0.12, *shape, 2)
    droop = torch.tensor([0.0, 1.0], device=chance.device) * chance.uniform(0.0, 0.08, batch, 1, 1)
    lean = common + own + droop
    axis = torch.cat((lean, torch.ones_like(lean[..., :1])), dim=-1)
    axis = axis / axis.norm(dim=-1, keepdim=True)

    length_mm = chance.uniform(380, 780, batch, 1) + chance.uniform(-70, 70, *shape)
    length = length_mm * scene.mm[:, None]
    # The camera stays clear of the nocks.
    length = torch.minimum(length, 0.78 * scene.camera[:, 2:3])
    entry = torch.where(
        (scene.rear[:, None] * chance.happens(0.85, *shape))[..., None] > 0,
        entries_of_rears(scene, chance, axis, length),
        entry,
    )
    count = chance.choice(list(views.arrows), batch)
    seldom_none = scene.rear * chance.happens(0.8, batch)
    count = torch.where(seldom_none > 0, count.clamp(min=1.0), count)
    there = (torch.arange(most, device=chance.device)[None] < count[:, None]).float()
    vaned = torch.where(
        chance.happens(0.3, batch, 1) > 0, chance.happens(0.5, batch, 1).expand(*shape),
        chance.happens(0.52, *shape),
    )
    # At times people of different arrows share a face.
    mixed = chance.happens(0.15, batch, 1) * chance.normal(0.25, *shape)
    radius = (scene.shaft / 2)[:, None] * torch.exp(mixed.clamp(-0.5, 0.5))
    return behind_first(scene, Arrows(entry, axis, length, radius, there, vaned))


def pushed_apart(entries, shaft):
    """Entries (batch, arrows, 2) moved until hardly any two are closer than a shaft."""
    least = shaft[:, None, None, None]
    for _ in range(6):
        away = entries[:, :, None] - entries[:, None]
        distance = away.norm(dim=-1, keepdim=True).clamp(min=1e-3)
        entries = entries + ((least - distance).clamp(min=0.0) * away / distance / 2).sum(2)
    return entries


def behind_first(scene, arrows):
    """Arrows in the order in which they cover one another: whose entry is nearer to the camera's foot is in front."""
    away = (arrows.entry - scene.camera[:, None, :2]).norm(dim=-1)
    order = away.argsort(dim=1, descending=True)
    sorted_fields = {
        name: field.gather(1, order.view(*order.shape, *(1,) * (field.dim() - 2)).expand_as(field))
        for name, field in vars(arrows).items()
    }
    return Arrows(**sorted_fields)


def entries_of_rears(scene, chance, axis, length):
    """Entries of arrows whose nocks are seen in the picture, (batch, arrows, 2)."""
    batch, side = scene.batch, scene.side
    middle = chance.uniform(0.15, 0.85, batch, 1, 2) * side
    sd = chance.uniform(0.05, 0.4, batch, 1, 1) * side
    nock = middle + chance.normal(1.0, *length.shape, 2) * sd
    foot, height = scene.camera[:, None, :2], scene.camera[:, None, 2:3]
    above = length[..., None] * axis[..., 2:]
    return foot + (nock - foot) * (height - above) / height - length[..., None] * axis[..., :2]


def project(scene, points):
    """Image of points in space (batch, ..., 3), (batch, ..., 2)."""
    shape = (scene.batch,) + (1,) * (points.dim() - 2)
    foot = scene.camera[:, :2].reshape(*shape, 2)
    height = scene.camera[:, 2].reshape(*shape)
    grow = height / (height - points[..., 2]).clamp(min=0.05 * height)
    return foot + (points[..., :2] - foot) * grow[..., None]


def rear_ends(scene, arrows):
    """Image of the end of each shaft, where its nock begins, (batch, arrows, 2)."""
    start = torch.cat((arrows.entry, torch.zeros_like(arrows.entry[..., :1])), dim=-1)
    return project(scene, start + arrows.axis * arrows.length[..., None])


class Band:
    """One arrow per picture as a band of the image: coordinates along and across it."""

    def __init__(self, scene, arrows, index):
        x, y = scene.grid()
        foot, self.height = scene.camera[:, :2], scene.camera[:, 2]
        axis, entry = arrows.axis[:, index], arrows.entry[:, index]
        from_foot = entry - foot
        lead = axis[:, :2] * self.height[:, None] + from_foot * axis[:, 2:]
        self.pace = lead.norm(dim=-1).clamp(min=1e-3)
        self.along = lead / self.pace[:, None]
        across = torch.stack((-self.along[:, 1], self.along[:, 0]), dim=-1)
        dx = x - entry[:, 0, None, None]
        dy = y - entry[:, 1, None, None]
        self.t = dx * self.along[:, 0, None, None] + dy * self.along[:, 1, None, None]
        self.v = dx * across[:, 0, None, None] + dy * across[:, 1, None, None]
        self.from_entry = torch.hypot(dx, dy)

        def wide(values):
            return values[:, None, None]

        az = wide(axis[:, 2])
        rise = wide(self.height)
        t = self.t.clamp(min=0.0)
        self.s = t * rise / (wide(self.pace) + t * az)
        # Silhouette: the axis shifted by a radius along the normal of the plane through the camera.
        view = torch.cat((from_foot, -self.height[:, None]), dim=-1)
        normal = torch.linalg.cross(axis, view)
        normal = normal / normal.norm(dim=-1, keepdim=True).clamp(min=1e-6)
        slant = (normal[:, :2] * across).sum(-1) + normal[:, 2] * (
            (from_foot * across).sum(-1) / self.height
        )
        self.slant = wide(slant.abs().clamp(0.3, 1.5))
        self.grow = rise / (rise - self.s * az).clamp(min=0.08 * rise)

    def half_width(self, radius):
        """Half the band's width at each pixel's place along it."""
        return radius[:, None, None] * self.grow * self.slant


def polygon_cover(scene, corners, soft):
    """Cover of convex polygons, corners (batch, corners, 2) in the picture, by softened half-planes."""
    x, y = scene.grid()
    cover = torch.full((scene.batch, scene.side, scene.side), 1e4, device=corners.device)
    edges = torch.roll(corners, -1, dims=1) - corners
    area = (edges[:, :-1, 0] * edges[:, 1:, 1] - edges[:, :-1, 1] * edges[:, 1:, 0]).sum(1)
    facing = torch.where(area >= 0, 1.0, -1.0)
    for c in range(corners.shape[1]):
        edge = edges[:, c]
        length = edge.norm(dim=-1).clamp(min=1e-3)
        away = (
            edge[:, 0, None, None] * (y - corners[:, c, 1, None, None])
            - edge[:, 1, None, None] * (x - corners[:, c, 0, None, None])
        ) * (facing / length)[:, None, None]
        cover = torch.minimum(cover, away)
    return (0.5 + (cover + 0.3) / soft).clamp(0, 1)


@dataclass
class VaneStyle:
    """Shape of the vanes of one end per picture; parts are of the vane's length or height."""

    gap_mm: torch.Tensor  # behind the vanes
    long_mm: torch.Tensor
    tall_mm: torch.Tensor
    #: Where the outline is at half and at full height, from the front.
    front: torch.Tensor  # (batch, 2)
    back: torch.Tensor  # (batch, 2)
    #: Turn about the shaft from front to back, and of the outer half against the inner, radians.
    twist: torch.Tensor
    curl: torch.Tensor


def vane_style(chance, batch):
    """Feathers, low and high vanes, shields and parabolas, straight and turned, curled films."""
    curled = chance.happens(0.3, batch)
    top_front = chance.uniform(0.15, 0.9, batch)
    top_back = top_front + (1 - top_front) * chance.uniform(0.15, 1.0, batch)
    half_front = top_front * chance.uniform(0.25, 0.6, batch)
    half_back = 1 - (1 - top_back) * chance.uniform(0.15, 0.6, batch)
    return VaneStyle(
        gap_mm=chance.uniform(10, 45, batch),
        long_mm=torch.where(
            curled > 0, chance.uniform(35, 60, batch), chance.log_uniform(32, 115, batch)
        ),
        tall_mm=torch.where(
            curled > 0, chance.uniform(6, 12, batch), chance.log_uniform(4.5, 18, batch)
        ),
        front=torch.stack((half_front, top_front), dim=-1),
        back=torch.stack((half_back, top_back), dim=-1),
        twist=chance.happens(0.6, batch) * chance.normal(0.25, batch),
        curl=curled * chance.uniform(0.5, 1.7, batch) + (1 - curled) * chance.normal(0.1, batch),
    )


def vane_covers(scene, chance, arrows, index, style, soft):
    """The vanes of one arrow per picture: for each, covers of both halves and whether in front."""
    batch = scene.batch
    mm = scene.mm
    axis, entry = arrows.axis[:, index], arrows.entry[:, index]
    start = torch.cat((entry, torch.zeros_like(entry[:, :1])), dim=-1)
    ahead = torch.tensor([1.0, 0.0, 0.0], device=axis.device).expand_as(axis)
    side_a = torch.linalg.cross(axis, ahead)
    side_a = side_a / side_a.norm(dim=-1, keepdim=True)
    side_b = torch.linalg.cross(axis, side_a)
    turn = chance.uniform(0.0, 2.0944, batch)
    tail = arrows.length[:, index] - style.gap_mm * mm
    long = style.long_mm * mm
    tall = style.tall_mm * mm
    radius = arrows.radius[:, index]
    view = scene.camera - (start + axis * tail[:, None])
    found = []
    for k in range(VANES):
        angle = turn + 2.0944 * k

        def outwards(at, extra, angle=angle):
            """Unit vector away from the shaft at a part of the vane's length."""
            a = (angle + style.twist * at + extra)[:, None]
            return torch.cos(a) * side_a + torch.sin(a) * side_b

        def at(part, level):
            """A point of the vane; level 0 at the shaft, 1 at half, 2 at full height."""
            s = tail - long * (1 - part)
            point = start + axis * s[:, None]
            base = outwards(part, torch.zeros_like(part))
            point = point + base * (radius * 0.3 if level == 0 else radius + tall / 2)[:, None]
            if level == 2:
                point = point + outwards(part, style.curl) * (tall / 2)[:, None]
            return point

        zero, one = torch.zeros_like(tail), torch.ones_like(tail)
        half = (at(style.front[:, 0], 1), at(style.back[:, 0], 1))
        inner = torch.stack((at(zero, 0), *half, at(one, 0)), dim=1)
        outer = torch.stack(
            (half[0], at(style.front[:, 1], 2), at(style.back[:, 1], 2), half[1]), dim=1
        )
        covers = [polygon_cover(scene, project(scene, part), soft) for part in (inner, outer)]
        middle = torch.full_like(tail, 0.5)
        in_front = (outwards(middle, torch.zeros_like(tail)) * view).sum(-1) > 0
        found.append((covers, in_front))
    return found


def arrow_shadows(scene, chance, arrows):
    """Factor on the direct light: shafts' and vanes' shadows, from the entry outwards."""
    light = torch.ones(scene.batch, scene.side, scene.side, device=chance.device)
    blur = chance.log_uniform(0.002, 0.08, scene.batch)
    strength = chance.uniform(0.7, 1.0, scene.batch)
    lit = (scene.sun > 0).float()
    for k in range(arrows.there.shape[1]):
        rows = (arrows.there[:, k] * lit).nonzero()[:, 0]
        if len(rows) > 0:
            own = scene.part(rows)
            cover = shadow_cover(own, chance, part_of(arrows, rows), k, blur[rows, None, None])
            light[rows] = light[rows] * (1 - cover * strength[rows, None, None])
    return light


def shadow_cover(scene, chance, arrows, index, blur):
    """How much of the direct light one arrow per picture takes."""
    batch = scene.batch
    x, y = scene.grid()
    axis = arrows.axis[:, index]
    step = axis[:, :2] + axis[:, 2:] * scene.sun_slope
    pace = step.norm(dim=-1).clamp(min=1e-3)
    along = step / pace[:, None]
    dx = x - arrows.entry[:, index, 0, None, None]
    dy = y - arrows.entry[:, index, 1, None, None]
    t = dx * along[:, 0, None, None] + dy * along[:, 1, None, None]
    v = dy * along[:, 0, None, None] - dx * along[:, 1, None, None]
    s = t / pace[:, None, None]
    soft = 0.8 + s.clamp(min=0.0) * blur
    half = arrows.radius[:, index, None, None]
    end = arrows.length[:, index, None, None]
    # Vanes stand out to both sides by different amounts, in some outline of their own.
    from_end = (end - s) / scene.mm[:, None, None]
    gap = chance.uniform(8, 45, batch)[:, None, None]
    long = chance.log_uniform(32, 115, batch)[:, None, None]
    within = ((from_end - gap) / long).clamp(0, 1)
    peak = chance.uniform(0.1, 0.9, batch)[:, None, None]
    tent = torch.minimum(within / peak, (1 - within) / (1 - peak)).clamp(0, 1)
    tent = tent ** chance.log_uniform(0.3, 1.2, batch)[:, None, None]
    wide = torch.where(v > 0, *(
        chance.uniform(0.3, 5.0, batch)[:, None, None] for _ in range(2)
    ))
    half = half * (1 + tent * wide * arrows.vaned[:, index, None, None])
    cover = (0.5 + (half - v.abs()) / soft).clamp(0, 1) * (
        0.5 + (half + soft - v.abs()) / soft
    ).clamp(0, 1)
    inside = torch.sigmoid(t / 0.7) * torch.sigmoid((end - s) / soft)
    # A shadow wider than its caster no longer takes all the light.
    fade = (2 * half / (2 * half + soft - 0.8)).clamp(0, 1)
    return cover * inside * fade


def shaft_colours(chance, batch):
    """Albedo of shafts: carbon, aluminium, white, coloured; linear, (batch, 3)."""
    kind = chance.uniform(0.0, 1.0, batch)[:, None]
    carbon = chance.uniform(0.005, 0.06, batch, 1) * (1 + chance.normal(0.1, batch, 3))
    metal = chance.uniform(0.12, 0.6, batch, 1) * (1 + chance.normal(0.04, batch, 3))
    free = chance.uniform(0.02, 0.9, batch, 3) ** 1.5
    white = chance.uniform(0.6, 0.9, batch, 1).expand(batch, 3)
    colour = torch.where(kind < 0.62, carbon, metal)
    colour = torch.where(kind > 0.78, free, colour)
    return torch.where(kind > 0.93, white, colour).clamp(0.003, 0.95)


@dataclass
class Looks:
    """What the arrows of a picture have in common; one row per picture."""

    shaft: torch.Tensor
    vane: torch.Tensor
    cock: torch.Tensor
    nock: torch.Tensor
    wrap: torch.Tensor
    has_wrap: torch.Tensor
    same: torch.Tensor
    defocus: torch.Tensor
    bounce: torch.Tensor
    bounce_mm: torch.Tensor
    opaque: torch.Tensor
    barred: torch.Tensor


def vane_colours(chance, batch):
    """Albedo of vanes: mostly bright and free, some white or black, (batch, 3)."""
    kind = chance.uniform(0.0, 1.0, batch)[:, None]
    colour = chance.uniform(0.0, 1.0, batch, 3) ** 1.6
    colour = torch.where(kind < 0.15, chance.uniform(0.6, 0.95, batch, 1).expand(batch, 3), colour)
    return torch.where(kind > 0.87, chance.uniform(0.01, 0.1, batch, 1).expand(batch, 3), colour)


def shared_looks(chance, batch):
    """One archer's arrows look alike, mostly."""
    return Looks(
        shaft=shaft_colours(chance, batch),
        vane=vane_colours(chance, batch),
        cock=vane_colours(chance, batch),
        nock=chance.uniform(0.0, 1.0, batch, 3),
        wrap=vane_colours(chance, batch),
        has_wrap=chance.happens(0.3, batch),
        same=chance.happens(0.75, batch)[:, None],
        defocus=chance.happens(0.5, batch) * chance.log_uniform(0.3, 12.0, batch),
        bounce=chance.happens(0.7, batch) * chance.uniform(0.0, 0.9, batch),
        bounce_mm=chance.log_uniform(12, 160, batch),
        opaque=1 - chance.happens(0.3, batch) * chance.uniform(0.1, 0.65, batch),
        barred=chance.happens(0.12, batch) * chance.uniform(0.2, 0.8, batch),
    )


@dataclass
class Painted:
    """One arrow per picture; covers (batch, side, side), paint (batch, side, side, 3)."""

    total: torch.Tensor
    shaft: torch.Tensor
    core: torch.Tensor
    vane: torch.Tensor
    nock: torch.Tensor
    paint: torch.Tensor
    along: torch.Tensor


def draw_arrows(scene, chance, radiance, light, arrows):
    """Paints arrows over the lit paper; returns the picture and the maps of what they cover."""
    batch, side = scene.batch, scene.side
    empty = torch.zeros(batch, side, side, device=radiance.device)
    shaft_map, core_map, vane_map, nock_map = (empty.clone() for _ in range(4))
    towards = torch.zeros(batch, side, side, 2, device=radiance.device)
    hidden = torch.zeros_like(arrows.there)
    rear_hidden = torch.zeros_like(hidden)
    looks = shared_looks(chance, batch)
    style = vane_style(chance, batch)
    mean_light = light.mean((1, 2), keepdim=True)
    spill = chance.uniform(0.3, 1.0, batch, 1, 1, 1)
    around = light * spill + mean_light * (1 - spill)
    ground = at_entries(radiance, arrows.entry)
    radiance = radiance.clone()

    for k in range(arrows.there.shape[1]):
        rows = arrows.there[:, k].nonzero()[:, 0]
        if len(rows) == 0:
            continue
        part, own = scene.part(rows), part_of(arrows, rows)
        shapes = part_of(style, rows)
        drawn = draw_arrow(
            part, chance, own, k, part_of(looks, rows), shapes, (around[rows], ground[rows, k])
        )
        total = drawn.total[..., None]
        radiance[rows] = radiance[rows] * (1 - total) + drawn.paint * total
        shaft, vane, nock = drawn.shaft, drawn.vane, drawn.nock
        shaft_map[rows] = torch.maximum(shaft_map[rows] * (1 - vane) * (1 - nock), shaft)
        core_map[rows] = core_map[rows] * (1 - drawn.total) + drawn.core
        vane_map[rows] = torch.maximum(vane_map[rows] * (1 - shaft) * (1 - nock), vane)
        nock_map[rows] = torch.maximum(nock_map[rows] * (1 - shaft) * (1 - vane), nock)
        mine = (shaft > 0.5)[..., None]
        towards[rows] = torch.where(mine, -drawn.along[:, None, None], towards[rows])
        for places, covered in ((own.entry, hidden), (rear_ends(part, own), rear_hidden)):
            over = cover_of_places(part, drawn.total, places)
            over[:, k:] = 0
            covered[rows] = torch.maximum(covered[rows], over)
    return radiance, ArrowMaps(shaft_map, core_map, vane_map, nock_map, towards, hidden, rear_hidden)


def at_entries(radiance, entries):
    """Light from the paper about the entries, (batch, arrows, 3)."""
    side = radiance.shape[1]
    blurred = functional.avg_pool2d(radiance.permute(0, 3, 1, 2), 15, stride=8, padding=7)
    places = (entries * (2 / side) - 1)[:, :, None]
    found = functional.grid_sample(blurred, places, padding_mode="border", align_corners=False)
    return found[..., 0].permute(0, 2, 1)


def cover_of_places(scene, cover, places):
    """How much of a shaft's width about each place an arrow covers, (batch, arrows)."""
    steps = torch.tensor([-0.3, 0.0, 0.3], device=cover.device)
    grid = torch.stack(torch.meshgrid(steps, steps, indexing="ij"), dim=-1).view(1, 1, 9, 2)
    samples = places[:, :, None] + grid * scene.shaft[:, None, None, None]
    samples = samples * (2 / scene.side) - 1
    found = functional.grid_sample(cover[:, None], samples, align_corners=False)
    return found[:, 0].mean(-1)


def draw_arrow(scene, chance, arrows, index, looks, style, surroundings):
    """Draws one arrow per picture.

    surroundings: light about it (batch, side, side, 3) and from the paper at its entry (batch, 3).
    """
    batch, side = scene.batch, scene.side
    around, ground = surroundings
    band = Band(scene, arrows, index)

    def wide(values):
        return values[:, None, None]

    def some(low, high):
        return wide(chance.uniform(low, high, batch))

    length, mm = wide(arrows.length[:, index]), wide(scene.mm)
    soft = 0.9 + wide(looks.defocus / scene.camera[:, 2]) * band.s
    half = band.half_width(arrows.radius[:, index])
    strip = (0.5 + (half - band.v.abs()) / soft).clamp(0, 1)
    strip = strip * torch.sigmoid(4 * (band.t + 0.2)) * (band.s < length)
    foot = (0.5 + wide(arrows.radius[:, index]) - band.from_entry).clamp(0, 1)
    shaft = torch.maximum(strip, foot)

    # Shading across the shaft, a highlight, and bands along it.
    c = (band.v / half.clamp(min=0.3)).clamp(-1, 1)
    bowl = (1 - c * c).clamp(min=0.0).sqrt()
    lean = some(-0.8, 0.8)
    lit = (0.35 + 0.65 * (bowl * 0.8 + c * lean)).clamp(0.05, 1.5)
    glint = torch.exp(-(((c - lean * 0.8) / some(0.1, 0.4)) ** 2))
    glint = glint * wide(chance.happens(0.7, batch)) * some(0.0, 0.45)
    same = looks.same > 0
    colour = torch.where(same, looks.shaft, shaft_colours(chance, batch))
    colour = colour[:, None, None].expand(batch, side, side, 3)
    from_tail = length - band.s
    wrap = (from_tail < some(60, 200) * mm) & (wide(looks.has_wrap) > 0)
    wrap_colour = torch.where(same, looks.wrap, chance.uniform(0.0, 1.0, batch, 3))
    colour = torch.where(wrap[..., None], wrap_colour[:, None, None], colour)
    label_at = some(0.1, 0.9) * length
    stripes = torch.sin(band.s / mm * some(0.3, 2.0)) > 0
    label = (band.s > label_at) & (band.s < label_at + some(10, 120) * mm) & stripes
    label = label & (c.abs() < some(0.4, 1.2)) & (wide(chance.happens(0.4, batch)) > 0)
    colour = torch.where(label[..., None], chance.uniform(0.1, 0.9, batch, 1, 1, 3), colour)
    front = chance.happens(0.4, batch) * chance.log_uniform(3.0, 160.0, batch)
    point = band.s < wide(front) * mm
    colour = torch.where(point[..., None], chance.uniform(0.01, 0.6, batch, 1, 1, 1), colour)
    paint = around * (colour * lit[..., None] + glint[..., None])
    shade = 1 - some(0.0, 0.6) * torch.exp(-band.s / (8 * mm))
    paint = paint * shade[..., None]
    # A smooth shaft mirrors the paper that it stands in.
    mirrored = wide(looks.bounce) * torch.exp(-band.s / (wide(looks.bounce_mm) * mm))
    paint = paint + ground[:, None, None] * (mirrored * (0.3 + 0.7 * bowl))[..., None]

    # The nock goes on beyond the shaft; seen end on, it is a disc.
    nock_half = half * some(0.8, 1.3)
    on_nock = (band.s >= length * 0.999) & (band.s < length + some(7, 16) * mm)
    nock = (0.5 + (nock_half - band.v.abs()) / (soft + 0.3)).clamp(0, 1) * on_nock
    above = (scene.camera[:, 2] - arrows.length[:, index] * arrows.axis[:, index, 2]).clamp(min=1.0)
    tip = rear_ends(scene, arrows)[:, index]
    x, y = scene.grid()
    from_tip = torch.hypot(x - wide(tip[:, 0]), y - wide(tip[:, 1]))
    tip_radius = wide(arrows.radius[:, index] * scene.camera[:, 2] / above)
    nock = torch.maximum(nock, (0.5 + (tip_radius - from_tip) / (soft + 0.3)).clamp(0, 1))
    nock_colour = torch.where(same, looks.nock, chance.uniform(0.0, 1.0, batch, 3))
    nock_paint = around * (nock_colour[:, None, None] * lit[..., None] + glint[..., None])

    total, vane_seen = shaft, torch.zeros_like(shaft)
    rows = arrows.vaned[:, index].nonzero()[:, 0]
    if len(rows) > 0:
        shapes = part_of(style, rows)
        vanes = draw_vanes(
            scene.part(rows), chance, part_of(arrows, rows), index, part_of(looks, rows), shapes,
            (around[rows], shaft[rows], soft[rows], band.s[rows] / mm[rows]),
        )
        paint, total = paint.clone(), total.clone()
        for amount, seen, vane_paint in vanes:
            # Over a bare background the vane's own paint is all there is.
            before = total[rows][..., None]
            after = torch.maximum(before, amount[..., None])
            share = (amount[..., None] / after.clamp(min=1e-3)).clamp(0, 1)
            paint[rows] = paint[rows] * (1 - share) + vane_paint * share
            total[rows] = after[..., 0]
            vane_seen[rows] = torch.maximum(vane_seen[rows], seen)
    paint = paint * (1 - nock[..., None]) + nock_paint * nock[..., None]
    total = torch.maximum(total, nock)
    bare = (1 - nock) * (1 - vane_seen)
    core = (0.5 + (0.5 * half - band.v.abs()) / soft).clamp(0, 1)
    core = core * (band.t > 0) * (band.s < length)
    return Painted(total, shaft * bare, core * bare, vane_seen * (1 - nock), nock, paint, band.along)


def draw_vanes(scene, chance, arrows, index, looks, style, arrow):
    """Vanes of one arrow per picture, those behind the shaft first: how opaque, how seen, paint.

    arrow: light about it, cover of its shaft, softness at each place along it, and that place in mm.
    """
    batch = scene.batch
    around, shaft, soft, place_mm = arrow
    same = looks.same > 0
    drawn = []
    for n, (covers, in_front) in enumerate(
        vane_covers(scene, chance, arrows, index, style, soft + 0.1)
    ):
        own = torch.where(same, looks.vane, vane_colours(chance, batch))
        own = looks.cock if n == 0 else own
        bars = 1 - looks.barred[:, None, None] * (
            torch.sin(place_mm * chance.uniform(0.4, 2.0, batch)[:, None, None]) > 0
        )
        whole = torch.maximum(*covers)
        tone = chance.uniform(0.35, 1.1, batch)[:, None, None]
        outer_tone = tone * chance.uniform(0.6, 1.3, batch)[:, None, None]
        tone = torch.where(covers[1] > covers[0], outer_tone, tone) * bars
        paint = around * own[:, None, None] * tone[..., None]
        behind = 1 - in_front.float()[:, None, None] * torch.ones_like(whole)
        seen = whole * (1 - behind * shaft)
        opaque = seen * looks.opaque[:, None, None]
        drawn.append((opaque, seen, paint))
    return drawn
