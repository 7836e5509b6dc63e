"""Digits, crosses, dots and a few letters as strokes: printed numbers and fine print."""

import math

import torch

#: Side of a glyph's picture; a glyph is as high as 1 unit and its picture spans 1.5 units.
SIDE = 48
SPAN = 1.5


def arc(x, y, radius_x, radius_y, start, end):
    """Points of an elliptic arc, degrees clockwise from the right (y grows downwards)."""
    steps = 14
    angles = [math.radians(start + (end - start) * i / steps) for i in range(steps + 1)]
    return [(x + radius_x * math.cos(a), y + radius_y * math.sin(a)) for a in angles]


# Strokes in a box of x -0.3 to 0.3, y -0.5 (top) to 0.5.
STROKES = {
    "0": [arc(0, 0, 0.28, 0.5, 0, 360)],
    "1": [[(-0.16, -0.32), (0.04, -0.5), (0.04, 0.5)]],
    "2": [arc(0, -0.23, 0.27, 0.27, -170, 30) + [(-0.28, 0.5), (0.3, 0.5)]],
    "3": [arc(0, -0.25, 0.24, 0.25, -160, 90), arc(0, 0.25, 0.27, 0.25, -90, 160)],
    "4": [[(0.14, 0.5), (0.14, -0.5), (-0.3, 0.2), (0.3, 0.2)]],
    "5": [[(0.24, -0.5), (-0.2, -0.5), (-0.24, -0.05)], arc(0, 0.19, 0.27, 0.31, -140, 140)],
    "6": [arc(0, 0.2, 0.27, 0.3, 0, 360), [(-0.27, 0.18), (-0.18, -0.25), (0.14, -0.5)]],
    "7": [[(-0.28, -0.5), (0.28, -0.5), (-0.08, 0.5)]],
    "8": [arc(0, -0.25, 0.22, 0.24, 0, 360), arc(0, 0.24, 0.27, 0.26, 0, 360)],
    "9": [arc(0, -0.2, 0.27, 0.3, 0, 360), [(0.27, -0.18), (0.18, 0.25), (-0.14, 0.5)]],
    "x": [[(-0.3, -0.3), (0.3, 0.3)], [(-0.3, 0.3), (0.3, -0.3)]],
    "+": [[(-0.4, 0), (0.4, 0)], [(0, -0.4), (0, 0.4)]],
    "A": [[(-0.3, 0.5), (0, -0.5), (0.3, 0.5)], [(-0.18, 0.15), (0.18, 0.15)]],
    "E": [[(0.28, -0.5), (-0.25, -0.5), (-0.25, 0.5), (0.28, 0.5)], [(-0.25, 0), (0.2, 0)]],
    "n": [[(-0.2, 0.5), (-0.2, -0.2)], arc(0.02, 0.05, 0.22, 0.24, -180, 0) + [(0.24, 0.5)]],
    "o": [arc(0, 0.2, 0.24, 0.3, 0, 360)],
    "t": [[(0, -0.5), (0, 0.5), (0.2, 0.5)], [(-0.2, -0.2), (0.2, -0.2)]],
    "i": [[(0, -0.15), (0, 0.5)], [(0, -0.42), (0, -0.38)]],
    ".": [[(0, -0.04), (0, 0.04)]],
    "B": [[(-0.25, 0.5), (-0.25, -0.5)], arc(-0.25, -0.25, 0.45, 0.25, -90, 90),
          arc(-0.25, 0.25, 0.52, 0.25, -90, 90)],
    "s": [arc(0, 0.02, 0.22, 0.22, 0, -250), arc(0, 0.34, 0.24, 0.18, -110, 150)],
}

#: Marks of a face's middle: crosses and a dot.
MIDDLES = [10, 11, 18]


def distance_pictures(device):
    """Distance to each glyph's strokes in units of its height, (glyphs, SIDE, SIDE)."""
    steps = ((torch.arange(SIDE, device=device) + 0.5) / SIDE - 0.5) * SPAN
    y, x = torch.meshgrid(steps, steps, indexing="ij")
    pictures = []
    for strokes in STROKES.values():
        nearest = torch.full_like(x, 9.0)
        for points in strokes:
            for (ax, ay), (bx, by) in zip(points[:-1], points[1:]):
                length2 = (bx - ax) ** 2 + (by - ay) ** 2 + 1e-12
                along = (((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2).clamp(0, 1)
                away = torch.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay))
                nearest = torch.minimum(nearest, away)
        pictures.append(nearest)
    return torch.stack(pictures)
