"""The printed face on its paper, and what lies beside the paper; linear reflectance."""

from dataclasses import dataclass

import torch
from torch.nn import functional

import glyphs
from canvas import Canvas, in_rounds

# Printed inks, sRGB, jittered per picture: yellow, red, blue, black, white, and a free colour.
INKS = torch.tensor(
    [
        [0.96, 0.85, 0.17],
        [0.90, 0.18, 0.20],
        [0.12, 0.60, 0.86],
        [0.13, 0.12, 0.13],
        [0.95, 0.94, 0.92],
        [0.50, 0.50, 0.50],
    ]
)

Y, R, B, K, W = 0, 1, 2, 3, 4

#: Ink per zone from the middle outwards: ten rings, six rings, one of three spots, field face.
LAYOUTS = torch.tensor(
    [
        [Y, Y, R, R, B, B, K, K, W, W, W, W],
        [Y, Y, R, R, B, B, W, W, W, W, W, W],
        [Y, Y, R, R, B, W, W, W, W, W, W, W],
        [Y, K, K, K, K, W, W, W, W, W, W, W],
    ]
)
#: Line at each zone's outer edge: 0 none, 1 dark, 2 white; one more entry for the middle.
LINES = torch.tensor(
    [
        [0, 1, 1, 1, 1, 1, 1, 2, 0, 1, 1, 0],
        [0, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0],
        [0, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0],
        [0, 0, 2, 2, 2, 0, 0, 0, 0, 0, 0, 0],
    ]
)
LAST_RING = torch.tensor([10, 6, 5, 5])

#: Numbers of ten rings on four sides, and the cross in the middle.
GLYPHS = 41
GLYPH_PATCH = 56
PINS = 4


@dataclass
class Glyphs:
    """Where something is printed; tensors (batch, GLYPHS)."""

    centres: torch.Tensor  # (batch, GLYPHS, 2)
    height: torch.Tensor
    there: torch.Tensor


def linear(srgb):
    """Linear light of an sRGB-like value."""
    return srgb.clamp(0.0, 1.0) ** 2.2


def nearest_spot(scene):
    """Distance of every pixel to its nearest spot centre, (batch, side, side)."""
    x, y = scene.grid()
    distances = [
        torch.hypot(
            x - scene.spots[:, i, 0, None, None], y - scene.spots[:, i, 1, None, None]
        )
        for i in range(3)
    ]
    return torch.stack(distances).amin(0)


def line_plane(scene, chance):
    """The network's plane of printed lines, with the errors of a real fit."""
    batch = scene.batch
    x, y = scene.grid()
    error = chance.normal(0.35, batch, 2) * scene.mm[:, None]
    stretch = 1 + chance.normal(0.0015, batch)
    distances = []
    for i in range(3):
        centre = scene.spots[:, i] + error
        distances.append(
            torch.hypot(x - centre[:, 0, None, None], y - centre[:, 1, None, None])
        )
    radius = torch.stack(distances).amin(0) * stretch[:, None, None]
    lines = LINES.to(radius.device)[scene.layout]
    zone = scene.zone[:, None, None]
    middle = (scene.mm / 2)[:, None, None]
    inner = (radius - zone / 2 + middle).abs()
    n = torch.round((radius + middle) / zone).clamp(0, 11).long()
    printed = lines.gather(1, n.flatten(1)).view_as(n) > 0
    away = torch.where(printed, (radius - n * zone + middle).abs(), torch.full_like(radius, 1e6))
    away = torch.minimum(away, inner)
    return (1 - away / scene.told[:, None, None]).clamp(min=0.0)


def inks(chance, batch):
    """Inks of each face, (batch, 6, 3), sRGB: odd prints, fading, yellowed paper."""
    table = INKS.to(chance.device).expand(batch, 6, 3)
    table = table + chance.normal(0.04, batch, 6, 3)
    table = table.clone()
    table[:, 5] = chance.uniform(0.0, 1.0, batch, 3)
    fade = (chance.happens(0.35, batch) * chance.uniform(0.0, 0.5, batch))[:, None, None]
    grey = chance.uniform(0.4, 0.9, batch)[:, None, None]
    table = table * (1 - fade) + fade * (0.5 * grey + 0.5 * table.mean(-1, keepdim=True))
    black = chance.uniform(0.02, 0.32, batch)[:, None] + chance.normal(0.015, batch, 3)
    table[:, 3] = black
    paper = chance.uniform(0.78, 0.98, batch)[:, None] * (
        1 - chance.uniform(0.0, 0.18, batch)[:, None] * torch.tensor([0.1, 0.3, 1.0]).to(black)
    )
    table[:, 4] = paper
    return table.clamp(0.01, 1.0)


def rings(scene, chance, table):
    """Zones and dividing lines, sRGB, (batch, side, side, 3)."""
    batch = scene.batch
    radius = nearest_spot(scene)
    wobble = chance.noise(batch, scene.side, 2, 2)[:, 0] * (0.25 * scene.mm)[:, None, None]
    radius = (radius + wobble).clamp(min=0.0)
    zone = scene.zone[:, None, None]
    layouts = LAYOUTS.to(radius.device)[scene.layout].clone()
    odd = chance.happens(0.08, batch, 12) > 0
    layouts = torch.where(odd, chance.integer(0, 5, batch, 12), layouts)
    colours = table.gather(1, layouts[..., None].expand(batch, 12, 3))

    def colour_of(index):
        index = index.clamp(0, 11).long().flatten(1)[..., None].expand(-1, -1, 3)
        return colours.gather(1, index).view(*radius.shape, 3)

    n = torch.round(radius / zone)
    beyond = (0.5 + radius - n * zone).clamp(0, 1)[..., None]
    picture = colour_of(n - 1) * (1 - beyond) + colour_of(n) * beyond

    width = scene.mm * chance.uniform(0.5, 1.9, batch)
    width = torch.where(chance.happens(0.06, batch) > 0, width * 0.2, width)[:, None, None]
    kinds = LINES.to(radius.device)[scene.layout]
    kind = kinds.gather(1, n.clamp(0, 11).long().flatten(1)).view_as(n)
    into = n * zone - radius
    cover = torch.minimum((into + 0.5).clamp(0, 1), (width - into + 0.5).clamp(0, 1))
    cover = cover * torch.minimum(width, torch.ones_like(width))
    inner_into = zone / 2 - radius
    inner = torch.minimum(
        (inner_into + 0.5).clamp(0, 1), (width - inner_into + 0.5).clamp(0, 1)
    ) * torch.minimum(width, torch.ones_like(width))
    dark = (chance.uniform(0.02, 0.3, batch)[:, None] + chance.normal(0.01, batch, 3)).clamp(min=0)
    strength = chance.uniform(0.6, 1.0, batch)[:, None, None]
    dark_cover = torch.maximum(cover * (kind == 1), inner)[..., None] * strength[..., None]
    picture = picture * (1 - dark_cover) + dark[:, None, None] * dark_cover
    light_cover = (cover * (kind == 2))[..., None]
    white = table[:, 4, None, None]
    picture = picture * (1 - light_cover) + white * light_cover
    # Black printed over blue or red leaves a darker rim at the zone's edge.
    overprint = chance.happens(0.3, batch)[:, None, None] * chance.uniform(0.0, 0.5, batch)[
        :, None, None
    ]
    rim = ((into.abs() < 0.8 * width) & (kind == 0)).float() * overprint
    return picture * (1 - 0.6 * rim[..., None]), radius


def glyph_layer(scene, chance, picture, pictures):
    """Printed numbers along a line through the middle, centre crosses, lines of fine print.

    Returns the picture and the glyphs' places.
    """
    batch, device = scene.batch, picture.device
    shaft = scene.shaft[:, None]
    height = chance.log_uniform(0.6, 3.2, batch)[:, None] * shaft
    number = torch.arange(GLYPHS, device=device)[None].expand(batch, GLYPHS)
    ring, quarter = number // 4, number % 4
    angle = chance.choice([0.0, 0.0, 0.7854], batch)[:, None] + 1.5708 * quarter
    aside = chance.uniform(-0.25, 0.25, batch)[:, None]
    distance = (ring + 0.5 + aside) * scene.zone[:, None]
    along = torch.stack((torch.cos(angle), torch.sin(angle)), dim=-1)
    centres = scene.spots[:, :1] + distance[..., None] * along
    index = (10 - ring).clamp(0, 9)
    turned = chance.happens(0.3, batch)[:, None] * angle
    centres[:, -1] = scene.spots[:, 0]
    index[:, -1] = chance.choice(glyphs.MIDDLES, batch).long()

    # Instead of rings' numbers: figures anywhere, or a line of print.
    kind = chance.uniform(0.0, 1.0, batch)[:, None]
    figure = chance.integer(0, len(glyphs.STROKES) - 1, batch, GLYPHS)
    anywhere = chance.uniform(0.0, 1.0, batch, GLYPHS, 2) * scene.side
    centres = torch.where((kind < 0.22)[..., None], anywhere, centres)
    small = chance.log_uniform(0.3, 1.5, batch)[:, None] * shaft
    start = chance.uniform(-0.3, 0.9, batch, 1, 2) * scene.side
    step = torch.stack((number * small * 0.85, 0.0 * number), dim=-1)
    centres = torch.where((kind > 0.9)[..., None], start + step, centres)
    height = torch.where(kind > 0.9, small, height.expand(batch, GLYPHS))
    index = torch.where((kind < 0.22) | (kind > 0.9), figure, index)
    height = torch.minimum(height, 0.6 * scene.zone[:, None]).clamp(max=GLYPH_PATCH / glyphs.SPAN)

    often = torch.where(kind < 0.22, chance.uniform(0.05, 0.6, batch, 1), 0.95)
    shown = chance.happens(0.9, batch, 1) * (chance.uniform(0.0, 1.0, batch, GLYPHS) < often)
    inside = ((centres > -height[..., None]) & (centres < scene.side + height[..., None])).all(-1)
    which = (shown * inside).nonzero()
    of, own = which[:, 0], (which[:, 0], which[:, 1])
    canvas = Canvas(picture, GLYPH_PATCH, of, centres[own])

    # Every maker has a type of its own: slim or broad, upright or slanting, bold or thin.
    thick = chance.uniform(0.05, 0.22, batch)[of]
    broad = chance.uniform(0.75, 1.3, batch)[of, None, None]
    slant = (chance.happens(0.25, batch) * chance.uniform(0.0, 0.35, batch))[of, None, None]
    x, y = canvas.offsets()
    cosine, sine = (f(turned.expand(batch, GLYPHS)[own])[:, None, None] for f in (torch.cos, torch.sin))
    high = height[own]
    scale = (2 / (glyphs.SPAN * high))[:, None, None]
    u, v = (x * cosine + y * sine) * scale, (y * cosine - x * sine) * scale
    u = (u + slant * v) / broad
    away = functional.grid_sample(
        pictures[index[own]][:, None],
        torch.stack((u, v), dim=-1),
        padding_mode="border",
        align_corners=False,
    )[:, 0]
    half = (thick / 2 * high).clamp(min=0.25)[:, None, None]
    cover = (0.5 + half - away * high[:, None, None]).clamp(0, 1)
    cover = cover * ((u.abs() < 1) & (v.abs() < 1))
    cover = cover * chance.uniform(0.25, 1.0, batch)[of, None, None]
    dark = chance.uniform(0.03, 0.25, batch)[of]
    for items in in_rounds(of, which[:, 1]):

        def recipe(old, items=items):
            mean = old.mean((1, 2, 3))
            ink = torch.where(mean < 0.33, torch.full_like(mean, 0.9), dark[items])
            amount = cover[items][..., None]
            return old * (1 - amount) + ink[:, None, None, None] * amount

        canvas.change(items, recipe)
    return canvas.picture(), Glyphs(centres, height, shown * inside)


def paper_life(scene, chance, picture):
    """Paper grain, reinforcing grid, creases, stains, tape; a factor on the print."""
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    fine = chance.noise(batch, side, side // 3, side // 3)[:, 0]
    middle = chance.noise(batch, side, side // 12, side // 12)[:, 0]
    broad = chance.noise(batch, side, 4, 4)[:, 0]
    clean = 1 - 0.8 * chance.happens(0.45, batch, 1)
    amounts = clean * chance.uniform(0.0, 1.0, batch, 3) ** 2 * torch.tensor(
        [0.06, 0.05, 0.10], device=chance.device
    )
    factor = (
        1
        + fine * amounts[:, 0, None, None]
        + middle * amounts[:, 1, None, None]
        + broad * amounts[:, 2, None, None]
    )

    period = (chance.uniform(4.0, 14.0, batch) * scene.mm).clamp(min=5.0)[:, None, None]
    ribs = torch.cos(6.2832 * x / period) ** 8 + torch.cos(6.2832 * y / period) ** 8
    factor = factor * (1 + chance.happens(0.25, batch)[:, None, None] * chance.uniform(
        -0.10, 0.08, batch)[:, None, None] * ribs)

    for _ in range(3):
        along = chance.direction(batch)
        through = chance.uniform(0.0, 1.0, batch, 2) * side
        away = (x - through[:, 0, None, None]) * along[:, 0, None, None] + (
            y - through[:, 1, None, None]
        ) * along[:, 1, None, None]
        away = away + chance.noise(batch, side, 5, 5)[:, 0] * chance.uniform(
            0.0, 3.0, batch)[:, None, None]
        width = chance.log_uniform(0.6, 12.0, batch)[:, None, None]
        amount = (chance.happens(0.3, batch) * chance.normal(0.16, batch))[:, None, None]
        ridge = torch.exp(-((away / width) ** 2))
        slope = away / width * ridge
        factor = factor * (1 + amount * ridge + chance.normal(0.06, batch)[:, None, None] * slope
                           * (amount != 0))
    picture = picture * factor[..., None]

    for _ in range(3):
        blob = chance.noise(batch, side, 5, 5)[:, 0]
        level = chance.uniform(0.5, 1.6, batch)[:, None, None]
        soft = chance.log_uniform(0.03, 1.0, batch)[:, None, None]
        inside = torch.sigmoid((blob - level) / (0.2 * soft))
        edge = inside * (1 - inside) * 4
        ring = chance.happens(0.4, batch)[:, None, None]
        amount = (chance.happens(0.3, batch) * chance.uniform(0.0, 0.3, batch))[:, None, None]
        stain = (inside * (1 - ring) + edge * ring) * amount
        tint = chance.uniform(0.3, 1.0, batch, 1, 1, 3)
        picture = picture * (1 - stain[..., None] * (1 - tint * 0.6))

    for _ in range(2):
        along = chance.direction(batch)
        middle = chance.uniform(0.0, 1.0, batch, 2) * side
        u = (x - middle[:, 0, None, None]) * along[:, 0, None, None] + (
            y - middle[:, 1, None, None]
        ) * along[:, 1, None, None]
        v = (y - middle[:, 1, None, None]) * along[:, 0, None, None] - (
            x - middle[:, 0, None, None]
        ) * along[:, 1, None, None]
        half = chance.log_uniform(6.0, 120.0, batch)[:, None, None]
        thin = chance.log_uniform(3.0, 40.0, batch)[:, None, None]
        cover = (0.5 + half - u.abs()).clamp(0, 1) * (0.5 + thin - v.abs()).clamp(0, 1)
        amount = (chance.happens(0.08, batch) * chance.uniform(0.3, 1.0, batch))[:, None, None]
        colour = chance.uniform(0.05, 0.95, batch, 1, 1, 3)
        picture = picture + (colour - picture) * (cover * amount)[..., None]
    return picture.clamp(0.005, 1.0)


def beside_paper(scene, chance, picture):
    """What shows where the paper ends; returns the picture, where the paper is, and the boss.

    The boss is one colour per picture, (batch, 3): what is seen of it through holes.
    """
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    inside = torch.ones_like(x).repeat(batch, 1, 1)
    for shown, rear_shown in ((0.22, 0.5), (0.08, 0.3)):
        outwards = chance.direction(batch)
        edge = chance.uniform(-0.15, 0.5, batch) * side
        edge = torch.where(scene.rear > 0, chance.uniform(-0.6, 0.5, batch) * side, edge)
        often = torch.where(scene.rear > 0, rear_shown, shown)
        there = chance.uniform(0.0, 1.0, batch) < often
        edge = torch.where(there, edge, torch.full_like(edge, 1e4))
        reach = (x - side / 2) * outwards[:, 0, None, None] + (y - side / 2) * outwards[
            :, 1, None, None
        ]
        inside = inside * (0.5 + edge[:, None, None] - reach).clamp(0, 1)

    first = chance.uniform(0.02, 0.9, batch, 3)
    grey = first.mean(-1, keepdim=True)
    first = grey + (first - grey) * chance.uniform(0.0, 1.0, batch, 1)
    rows = (inside.amin((1, 2)) < 1).nonzero()[:, 0]
    if len(rows) > 0:
        behind = surroundings(scene.part(rows), chance, first[rows])
        own = inside[rows, ..., None]
        picture = picture.clone()
        picture[rows] = picture[rows] * own + behind * (1 - own)
    return picture, inside, first


def surroundings(scene, chance, first):
    """Boss, grass, floor, people, beams and strings, sRGB; `first` (batch, 3) is the main colour."""
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    texture = torch.zeros(batch, side, side, device=chance.device)
    for down in (3, 10, 30, 60):
        for across in (4, 24, 64):
            weight = chance.happens(0.35, batch) * chance.uniform(0.0, 0.4, batch)
            texture = texture + weight[:, None, None] * chance.noise(batch, side, down, across)[:, 0]
    upright = chance.happens(0.4, batch)[:, None, None] > 0
    texture = torch.where(upright, texture.transpose(1, 2), texture)
    period = chance.log_uniform(6.0, 90.0, batch)[:, None, None]
    stripes = torch.sign(torch.sin(6.2832 * (y + 3 * texture) / period))
    texture = texture + chance.happens(0.5, batch)[:, None, None] * stripes
    second = first * chance.uniform(0.2, 1.6, batch, 1)
    mix = torch.sigmoid(1.5 * texture)[..., None]
    behind = first[:, None, None] * (1 - mix) + second[:, None, None] * mix

    # Coats, bags, posts: soft patches of another colour, and bars that are no arrows.
    for _ in range(3):
        at = chance.uniform(-0.1, 1.1, batch, 2) * side
        radii = chance.log_uniform(0.06, 0.7, batch, 2) * side
        u = (x - at[:, 0, None, None]) / radii[:, 0, None, None]
        v = (y - at[:, 1, None, None]) / radii[:, 1, None, None]
        power = chance.choice([2.0, 2.0, 6.0], batch)[:, None, None]
        away = 1 - (u.abs() ** power + v.abs() ** power)
        cover = (0.5 + away * radii.amin(1)[:, None, None] / chance.log_uniform(
            1.0, 20.0, batch)[:, None, None]).clamp(0, 1)
        cover = cover * chance.happens(0.3, batch)[:, None, None]
        colour = chance.uniform(0.02, 0.95, batch, 1, 1, 3)
        behind = behind + (colour - behind) * cover[..., None]
    for _ in range(3):
        along = chance.direction(batch)
        through = chance.uniform(0.0, 1.0, batch, 2) * side
        away = (x - through[:, 0, None, None]) * along[:, 0, None, None] + (
            y - through[:, 1, None, None]
        ) * along[:, 1, None, None]
        half = (chance.log_uniform(0.1, 6.0, batch) * scene.shaft)[:, None, None]
        cover = (0.5 + half - away.abs()).clamp(0, 1) * chance.happens(0.25, batch)[:, None, None]
        bowl = (1 - (away / half).clamp(-1, 1) ** 2).clamp(min=0.0).sqrt()
        round_bar = chance.happens(0.5, batch)[:, None, None]
        shade = 1 - round_bar * 0.7 * (1 - bowl)
        colour = chance.uniform(0.02, 0.9, batch, 1, 1, 3)
        behind = behind + (colour * shade[..., None] - behind) * cover[..., None]
    return behind.clamp(0.01, 0.95)


def pins(scene, chance, picture):
    """Round-headed pins, bigger than holes, with a highlight and a small shadow."""
    batch = scene.batch
    centres = chance.uniform(0.0, 1.0, batch, PINS, 2) * scene.side
    shown = chance.happens(0.25, batch, 1) * chance.happens(0.7, batch, PINS)
    which = shown.nonzero()
    count, of = len(which), which[:, 0]
    canvas = Canvas(picture, 56, of, centres[which[:, 0], which[:, 1]])
    radius = chance.uniform(0.45, 1.6, count) * scene.shaft[of]
    radius = radius.clamp(1.5, 18.0)[:, None, None]
    colour = chance.uniform(0.0, 1.0, count, 1, 1, 3) ** 1.5
    colour = colour * (1 - 0.85 * chance.happens(0.15, count, 1, 1, 1))
    x, y = canvas.offsets()
    distance = torch.hypot(x, y) / radius
    light = chance.direction(count)[:, None, None]
    lit = (x * light[..., 0] + y * light[..., 1]) / radius
    bowl = (1 - distance**2).clamp(min=0.0).sqrt()
    shade = 0.25 + 0.5 * bowl + 0.35 * lit
    glint = torch.exp(-(((distance**2 + 0.3 - 1.1 * lit).clamp(min=0.0) / 0.06)))
    cover = (0.5 + (1 - distance) * radius).clamp(0, 1)[..., None]
    away = torch.hypot(x + light[..., 0] * radius * 0.6, y + light[..., 1] * radius * 0.6) / radius
    shadow = torch.sigmoid((1 - away) * radius)[..., None] * 0.5
    body = (colour * shade[..., None] + 0.8 * glint[..., None]).clamp(0, 1)
    for items in in_rounds(of, which[:, 1]):

        def recipe(old, items=items):
            old = old * (1 - shadow[items])
            return old + (body[items] - old) * cover[items]

        canvas.change(items, recipe)
    return canvas.picture()


def draw_print(scene, chance, glyph_pictures):
    """Everything flat: linear reflectance, where the paper is, the boss behind it, the glyphs."""
    table = inks(chance, scene.batch)
    picture, _ = rings(scene, chance, table)
    picture, figures = glyph_layer(scene, chance, picture, glyph_pictures)
    picture = paper_life(scene, chance, picture)
    picture, inside, boss = beside_paper(scene, chance, picture)
    picture = pins(scene, chance, picture)
    return linear(picture), inside, linear(boss), figures
