"""Standing arrows in perspective, with vanes, nocks, wraps and shadows.

A point h above the paper at P is imaged at C + (P - C) H / (H - h), where C is the camera's foot and
H its height. A straight shaft is therefore a straight band from its entry; its width grows by
H / (H - h).
"""

from dataclasses import dataclass

import torch

ARROWS = 7
VANES = 3


@dataclass
class Arrows:
    """Arrows of a batch; tensors (batch, ARROWS, ...)."""

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
    vane: torch.Tensor
    nock: torch.Tensor
    towards: torch.Tensor  # (..., 2) unit direction to the entry of the topmost shaft
    hidden: torch.Tensor  # (batch, ARROWS) how much of the entry others cover


def place_arrows(scene, chance):
    """Arrows of one end: entries in and about the picture, nearly parallel to the normal."""
    batch, side = scene.batch, scene.side
    shape = (batch, ARROWS)
    spread = chance.uniform(-0.1, 1.1, *shape, 2) * side
    middle = chance.uniform(0.1, 0.9, batch, 1, 2) * side
    sd = (chance.log_uniform(1.5, 16.0, batch) * scene.shaft)[:, None, None]
    grouped = middle + chance.normal(1.0, *shape, 2) * sd
    entry = torch.where(chance.happens(0.6, batch, 1, 1) > 0, grouped, spread)
    # Some enter outside so that only their far part crosses the picture.
    rise = scene.rise(entry)
    back = chance.happens(0.2, *shape)[..., None] * chance.uniform(0.0, 1.2, *shape)[..., None]
    entry = entry - back * side * rise / (rise.norm(dim=-1, keepdim=True) + 0.15)
    # Others enter outside so that only their shadow does.
    slope = scene.sun_slope[:, None]
    cast = chance.happens(0.2, *shape)[..., None] * chance.uniform(0.0, 1.2, *shape)[..., None]
    entry = entry - cast * side * slope / slope.norm(dim=-1, keepdim=True)

    common = chance.normal(0.03, batch, 1, 2)
    own = chance.normal(1.0, *shape, 2) * chance.uniform(0.0, 0.045, batch, 1, 1)
    droop = torch.tensor([0.0, 1.0], device=chance.device) * chance.uniform(0.0, 0.05, batch, 1, 1)
    lean = common + own + droop
    axis = torch.cat((lean, torch.ones_like(lean[..., :1])), dim=-1)
    axis = axis / axis.norm(dim=-1, keepdim=True)

    length_mm = chance.uniform(380, 780, batch, 1) + chance.uniform(-70, 70, *shape)
    length = length_mm * scene.mm[:, None]
    # The camera stays clear of the nocks.
    length = torch.minimum(length, 0.78 * scene.camera[:, 2:3])
    count = chance.choice([0, 0, 0, 1, 2, 3, 4, 5, 6, 7], batch)
    there = (torch.arange(ARROWS, device=chance.device)[None] < count[:, None]).float()
    vaned = torch.where(
        chance.happens(0.3, batch, 1) > 0, chance.happens(0.5, batch, 1).expand(*shape),
        chance.happens(0.6, *shape),
    )
    radius = (scene.shaft / 2)[:, None].expand(*shape)
    return Arrows(entry, axis, length, radius, there, vaned)


def project(scene, points):
    """Image of points in space (batch, ..., 3), (batch, ..., 2)."""
    shape = (scene.batch,) + (1,) * (points.dim() - 2)
    foot = scene.camera[:, :2].reshape(*shape, 2)
    height = scene.camera[:, 2].reshape(*shape)
    grow = height / (height - points[..., 2]).clamp(min=0.05 * height)
    return foot + (points[..., :2] - foot) * grow[..., None]


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


def vane_cover(scene, chance, arrows, index, soft):
    """Cover and side of the three vanes of one arrow per picture."""
    batch = scene.batch
    mm = scene.mm
    axis, entry = arrows.axis[:, index], arrows.entry[:, index]
    start = torch.cat((entry, torch.zeros_like(entry[:, :1])), dim=-1)
    ahead = torch.tensor([1.0, 0.0, 0.0], device=axis.device).expand_as(axis)
    side_a = torch.linalg.cross(axis, ahead)
    side_a = side_a / side_a.norm(dim=-1, keepdim=True)
    side_b = torch.linalg.cross(axis, side_a)
    turn = chance.uniform(0.0, 2.1, batch)
    tail = arrows.length[:, index] - chance.uniform(12, 45, batch) * mm
    head = tail - chance.uniform(35, 110, batch) * mm
    tall = chance.uniform(6, 18, batch) * mm
    sweep = chance.uniform(0.1, 0.6, batch)
    x, y = scene.grid()
    covers = []
    for k in range(VANES):
        angle = (turn + 2.0944 * k)[:, None]
        out = torch.cos(angle) * side_a + torch.sin(angle) * side_b
        root = arrows.radius[:, index]

        def at(s, high, out=out):
            return start + axis * s[:, None] + out * high[:, None]

        corners = torch.stack(
            (
                at(head, root * 0.3),
                at(head + sweep * (tail - head), root + tall),
                at(tail - 0.05 * (tail - head), root + tall * 0.8),
                at(tail, root * 0.3),
            ),
            dim=1,
        )
        flat = project(scene, corners)
        cover = torch.full((batch, scene.side, scene.side), 1e4, device=axis.device)
        edges = torch.roll(flat, -1, dims=1) - flat
        turns = edges[:, 0, 0] * edges[:, 1, 1] - edges[:, 0, 1] * edges[:, 1, 0]
        facing = torch.where(turns >= 0, 1.0, -1.0)
        for c in range(4):
            edge = edges[:, c]
            length = edge.norm(dim=-1).clamp(min=1e-3)
            away = (
                edge[:, 0, None, None] * (y - flat[:, c, 1, None, None])
                - edge[:, 1, None, None] * (x - flat[:, c, 0, None, None])
            ) * (facing / length)[:, None, None]
            cover = torch.minimum(cover, away)
        covers.append((0.5 + (cover + 0.3) / soft).clamp(0, 1))
    return covers


def arrow_shadows(scene, chance, arrows):
    """Factor on the direct light: shafts' and vanes' shadows, from the entry outwards."""
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    light = torch.ones(batch, side, side, device=chance.device)
    blur = chance.log_uniform(0.002, 0.08, batch)[:, None, None]
    strength = chance.uniform(0.7, 1.0, batch)[:, None, None]
    for k in range(ARROWS):
        axis = arrows.axis[:, k]
        step = axis[:, :2] + axis[:, 2:] * scene.sun_slope
        pace = step.norm(dim=-1).clamp(min=1e-3)
        along = step / pace[:, None]
        dx = x - arrows.entry[:, k, 0, None, None]
        dy = y - arrows.entry[:, k, 1, None, None]
        t = dx * along[:, 0, None, None] + dy * along[:, 1, None, None]
        v = dy * along[:, 0, None, None] - dx * along[:, 1, None, None]
        s = t / pace[:, None, None]
        soft = 0.8 + s.clamp(min=0.0) * blur
        half = arrows.radius[:, k, None, None]
        end = arrows.length[:, k, None, None]
        near_end = (s > end * 0.8) & (s < end * 0.95)
        vane = near_end * arrows.vaned[:, k, None, None]
        half = half + vane * half * 1.8
        cover = (0.5 + (half - v.abs()) / soft).clamp(0, 1) * (
            0.5 + (half + soft - v.abs()) / soft
        ).clamp(0, 1)
        inside = torch.sigmoid(t / 0.7) * torch.sigmoid((end - s) / soft)
        weight = arrows.there[:, k, None, None] * strength
        # A shadow wider than its caster no longer takes all the light.
        fade = (2 * half / (2 * half + soft - 0.8)).clamp(0, 1)
        light = light * (1 - cover * inside * fade * weight)
    return light


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


def draw_arrows(scene, chance, radiance, light, arrows):
    """Paints arrows over the lit paper; returns the picture and the maps of what they cover."""
    batch, side = scene.batch, scene.side
    device = radiance.device
    empty = torch.zeros(batch, side, side, device=device)
    shaft_map, vane_map, nock_map = empty, empty, empty
    towards = torch.zeros(batch, side, side, 2, device=device)
    own_cover = []
    shared = shaft_colours(chance, batch)
    vane_shared = chance.uniform(0.0, 1.0, batch, 3) ** 1.6
    nock_shared = chance.uniform(0.0, 1.0, batch, 3)
    has_wrap = chance.happens(0.3, batch)
    same = chance.happens(0.75, batch)[:, None]
    defocus = chance.happens(0.5, batch) * chance.log_uniform(0.3, 6.0, batch)
    mean_light = light.mean((1, 2), keepdim=True)
    spill = chance.uniform(0.3, 1.0, batch, 1, 1, 1)
    around = light * spill + mean_light * (1 - spill)

    for k in range(ARROWS):
        there = arrows.there[:, k, None, None]
        band = Band(scene, arrows, k)
        length = arrows.length[:, k, None, None]
        height = scene.camera[:, 2, None, None]
        soft = 0.9 + defocus[:, None, None] * (band.s / height)
        half = band.half_width(arrows.radius[:, k])
        strip = (0.5 + (half - band.v.abs()) / soft).clamp(0, 1)
        strip = strip * torch.sigmoid(4 * (band.t + 0.2)) * (band.s < length)
        foot = (0.5 + arrows.radius[:, k, None, None] - band.from_entry).clamp(0, 1)
        cover = torch.maximum(strip, foot) * there

        # Shading across the shaft, a highlight, and bands along it.
        c = (band.v / half.clamp(min=0.3)).clamp(-1, 1)
        bowl = (1 - c * c).clamp(min=0.0).sqrt()
        lean = chance.uniform(-0.8, 0.8, batch)[:, None, None]
        lit = (0.35 + 0.65 * (bowl * 0.8 + c * lean)).clamp(0.05, 1.5)
        glint = torch.exp(-(((c - lean * 0.8) / chance.uniform(0.1, 0.4, batch)[:, None, None]) ** 2))
        glint = glint * (chance.happens(0.7, batch) * chance.uniform(0.0, 0.45, batch))[
            :, None, None
        ]
        colour = torch.where(same > 0, shared, shaft_colours(chance, batch))
        colour = colour[:, None, None].expand(batch, side, side, 3)
        mm = scene.mm[:, None, None]
        from_tail = length - band.s
        wrap_long = chance.uniform(60, 200, batch)[:, None, None] * mm
        wrap = ((from_tail < wrap_long) * has_wrap[:, None, None])[..., None]
        wrap_colour = torch.where(same > 0, vane_shared.flip(0), chance.uniform(0.0, 1.0, batch, 3))
        colour = torch.where(wrap > 0, wrap_colour[:, None, None], colour)
        label_at = chance.uniform(0.1, 0.8, batch)[:, None, None] * length
        label_long = chance.uniform(10, 120, batch)[:, None, None] * mm
        stripes = torch.sin(band.s / mm * chance.uniform(0.3, 2.0, batch)[:, None, None]) > 0
        label = (band.s > label_at) & (band.s < label_at + label_long) & stripes & (c.abs() < 0.5)
        label = (label * chance.happens(0.35, batch)[:, None, None])[..., None]
        colour = torch.where(label > 0, chance.uniform(0.1, 0.9, batch, 1, 1, 3), colour)
        point_long = (chance.happens(0.3, batch) * chance.uniform(3, 40, batch))[:, None, None] * mm
        point = (band.s < point_long)[..., None]
        colour = torch.where(point, chance.uniform(0.1, 0.7, batch, 1, 1, 1), colour)
        body = around * (colour * lit[..., None] + glint[..., None])
        shade = 1 - chance.uniform(0.0, 0.6, batch)[:, None, None] * torch.exp(-band.s / (8 * mm))
        body = body * shade[..., None]
        shaft_cover = cover

        # The nock goes on beyond the shaft.
        nock_long = chance.uniform(7, 16, batch)[:, None, None] * mm
        nock_half = half * chance.uniform(0.8, 1.3, batch)[:, None, None]
        on_nock = (band.s >= length * 0.999) & (band.s < length + nock_long)
        nock_soft = soft + 0.3
        nock = (0.5 + (nock_half - band.v.abs()) / nock_soft).clamp(0, 1) * on_nock * there
        # Seen end on, it is a disc.
        tip = arrows.entry[:, k] + band.along * (
            band.pace * arrows.length[:, k] / (
                (scene.camera[:, 2] - arrows.length[:, k] * arrows.axis[:, k, 2]).clamp(min=1.0)
            )
        )[:, None]
        x, y = scene.grid()
        from_tip = torch.hypot(x - tip[:, 0, None, None], y - tip[:, 1, None, None])
        tip_radius = arrows.radius[:, k] * scene.camera[:, 2] / (
            scene.camera[:, 2] - arrows.length[:, k] * arrows.axis[:, k, 2]
        ).clamp(min=1.0)
        disc = (0.5 + (tip_radius[:, None, None] - from_tip) / nock_soft).clamp(0, 1) * there
        nock = torch.maximum(nock, disc)
        nock_colour = torch.where(same > 0, nock_shared, chance.uniform(0.0, 1.0, batch, 3))
        nock_body = around * (nock_colour[:, None, None] * lit[..., None] + glint[..., None])

        vane_soft = 0.9 + defocus[:, None, None]
        vanes = vane_cover(scene, chance, arrows, k, vane_soft)
        vane_all = empty
        covered = shaft_cover
        body_all = body
        total = shaft_cover[..., None]
        picture = body_all
        cock = chance.uniform(0.0, 1.0, batch, 3) ** 1.6
        for n, vane in enumerate(vanes):
            vane = vane * there * arrows.vaned[:, k, None, None]
            own = torch.where(same > 0, vane_shared, chance.uniform(0.0, 1.0, batch, 3) ** 1.6)
            own = cock if n == 0 else own
            tone = chance.uniform(0.35, 1.1, batch, 1, 1, 1)
            paint = around * own[:, None, None] * tone
            front = vane * (1.0 if n < 2 else 0.0) + vane * (1 - shaft_cover) * (
                0.0 if n < 2 else 1.0
            )
            picture = picture * (1 - front[..., None]) + paint * front[..., None]
            total = torch.maximum(total, vane[..., None])
            vane_all = torch.maximum(vane_all, front)
        picture = picture * (1 - nock[..., None]) + nock_body * nock[..., None]
        total = torch.maximum(total, nock[..., None])
        radiance = radiance * (1 - total) + picture * total

        total = total[..., 0]
        shaft_map = torch.maximum(shaft_map * (1 - vane_all) * (1 - nock), covered * (1 - nock))
        vane_map = torch.maximum(vane_map * (1 - covered) * (1 - nock), vane_all * (1 - nock))
        nock_map = torch.maximum(nock_map * (1 - covered) * (1 - vane_all), nock)
        mine = (covered > 0.5)[..., None]
        towards = torch.where(mine, -band.along[:, None, None].expand_as(towards), towards)
        own_cover.append(total)

    hidden = []
    for k in range(ARROWS):
        later = empty
        for cover in own_cover[k + 1 :]:
            later = torch.maximum(later, cover)
        near = torch.exp(
            -(
                (scene.grid()[0] - arrows.entry[:, k, 0, None, None]) ** 2
                + (scene.grid()[1] - arrows.entry[:, k, 1, None, None]) ** 2
            )
            / (2 * (0.35 * scene.shaft[:, None, None]) ** 2)
        )
        hidden.append((later * near).sum((1, 2)) / near.sum((1, 2)).clamp(min=0.3))
    maps = ArrowMaps(shaft_map, vane_map, nock_map, towards, torch.stack(hidden, dim=1))
    return radiance, maps
