"""Geometry of a batch of drawn views: scale, face, camera, sun.

All lengths are flat pixels unless a name says mm; x right, y down, z towards the archer. The
picture spans 0 to `side` both ways.
"""

from dataclasses import dataclass, replace

import torch

#: What of an arrow stands out of the paper, about.
USUAL_LENGTH_MM = 580


@dataclass(frozen=True)
class Views:
    """What is looked at, and how well what is told of it fits."""

    #: Share of pictures that show the rear ends of arrows.
    rears: float = 0.27
    #: Diameters of shafts on the paper, pixels.
    shafts: tuple = (4.0, 14.0)
    #: Largest tilt of the camera, radians.
    steepest: float = 0.9
    #: Share of pictures whose shafts' diameter is guessed.
    guessed: float = 0.1
    #: Largest one-sigma error of the told camera: of a slope, and of the height's logarithm.
    slope_sd: float = 0.0
    height_sd: float = 0.02
    #: How many arrows stand there: each as likely as the others.
    arrows: tuple = (0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 8, 10)
    #: Share of ends that are grouped, and their least and largest spread, shafts.
    grouped: float = 0.6
    spread: tuple = (1.5, 16.0)
    #: Pixels of the photo to one of the flat picture.
    photo_px: tuple = (0.5, 1.2)


#: All there is to see on a face.
FACE = Views()
#: Where arrows end.
REARS = Views(rears=1.0, guessed=0.2)
#: A part of a face where arrows stand, seen closely, however coarse the photo is.
ENTRIES = Views(
    rears=0.0,
    shafts=(6.5, 14.0),
    steepest=1.15,
    guessed=0.4,
    slope_sd=0.2,
    height_sd=0.2,
    arrows=(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16),
    grouped=0.8,
    spread=(0.8, 8.0),
    photo_px=(0.28, 1.1),
)


@dataclass
class Scene:
    """Numbers that the layers share; tensors have one row per picture."""

    batch: int
    side: int
    views: Views
    shaft: torch.Tensor  # shaft diameter
    told: torch.Tensor  # shaft diameter as the reading believes it to be
    mm: torch.Tensor  # one millimetre
    spots: torch.Tensor  # (batch, 3, 2) spot centres
    zone: torch.Tensor  # width of a zone
    layout: torch.Tensor  # index into print_layer.LAYOUTS
    camera: torch.Tensor  # (batch, 3) camera's foot on the paper and its height
    sun_slope: torch.Tensor  # (batch, 2) shadow's shift per unit of height
    sun: torch.Tensor  # how much of the light comes straight from the sun, 0 to 1
    rear: torch.Tensor  # 1 where the picture shows the rear ends of arrows, entries mostly outside

    def part(self, rows):
        """The scenes of some pictures only."""
        fields = {name: field for name, field in vars(self).items() if torch.is_tensor(field)}
        chosen = {name: field[rows] for name, field in fields.items()}
        return replace(self, batch=len(rows), **chosen)

    def told_camera(self, chance):
        """Where the reading believes the camera to be, (batch, 3)."""
        foot, height = self.camera[:, :2], self.camera[:, 2:]
        views = self.views
        slope_sd = chance.uniform(0.0, 1.0, self.batch, 1) * views.slope_sd
        slope = chance.normal(1.0, self.batch, 2) * slope_sd
        told = height * torch.exp(chance.normal(views.height_sd, self.batch, 1))
        middle = self.side / 2
        # The slope at the picture's middle is wrong by so much.
        seen = (middle - foot * (1 + chance.normal(0.02, self.batch, 2))) / height + slope
        return torch.cat((middle - seen * told, told), dim=1)

    def grid(self):
        """x and y of pixel centres, (1, side, side) each."""
        steps = torch.arange(self.side, device=self.shaft.device) + 0.5
        y, x = torch.meshgrid(steps, steps, indexing="ij")
        return x[None], y[None]

    def rise(self, points):
        """Image shift per unit of height above the paper at points (batch, ..., 2)."""
        shape = (self.batch,) + (1,) * (points.dim() - 2)
        foot = self.camera[:, :2].reshape(*shape, 2)
        return (points - foot) / self.camera[:, 2].reshape(*shape, 1)


def draw_scene(chance, batch, side, views):
    """Random scale, face, position on it, camera and sun."""
    away_mm = chance.log_uniform(380.0, 2400.0, batch)
    tilt = chance.uniform(0.0, 1.0, batch) ** 1.3 * views.steepest
    tilt = torch.where(chance.happens(0.2, batch) > 0, tilt * 0.15, tilt)
    rear = chance.happens(views.rears, batch)
    # Rear ends are looked at where they span as much as shafts do on the paper elsewhere.
    height_mm = away_mm * torch.cos(tilt)
    above = torch.minimum(torch.full_like(height_mm, USUAL_LENGTH_MM), 0.78 * height_mm)
    shaft = torch.where(
        rear > 0,
        chance.log_uniform(5.0, 13.0, batch) * (1 - above / height_mm),
        chance.log_uniform(*views.shafts, batch),
    )
    # People guess at their shafts' width, and not all at a butt shoot the same.
    guess = chance.happens(views.guessed, batch) * chance.normal(0.25, batch)
    told = shaft * torch.exp((chance.normal(0.03, batch) + guess).clamp(-0.6, 0.6))
    mm = shaft / chance.log_uniform(3.8, 9.8, batch)
    zone_mm = chance.choice([61, 61, 40, 40, 40, 30, 20, 20, 16], batch)
    zone_mm = zone_mm * chance.uniform(0.97, 1.03, batch)
    layout = chance.choice([0, 0, 0, 0, 1, 2, 3], batch).long()
    rings = torch.tensor([10.0, 6.0, 5.0, 5.0], device=chance.device)[layout]
    zone = zone_mm * mm

    reach = zone * rings * 1.1 + side * 0.3
    radius = reach * torch.sqrt(chance.uniform(0.0, 1.0, batch)) * chance.uniform(0.3, 1.0, batch)
    centre = side / 2 + radius[:, None] * chance.direction(batch)
    apart = (11 * zone)[:, None] * torch.tensor([0.0, -1.0, 1.0], device=chance.device)
    # Rear ends stand out over what lies beside the face as often as over the face itself.
    aside = rear * chance.happens(0.5, batch) * chance.uniform(0.3, 1.5, batch)
    centre = centre + (aside * (reach + side * 0.5))[:, None] * chance.direction(batch)
    far = torch.where(layout == 2, 0.0, 1e6)[:, None]
    spots = torch.stack(
        (
            centre[:, :1] + far * torch.tensor([0.0, 1.0, 1.0], device=chance.device),
            centre[:, 1:] + apart,
        ),
        dim=-1,
    )

    away = away_mm * mm
    foot = centre + (away * torch.sin(tilt))[:, None] * chance.direction(batch)
    foot = foot + chance.normal(1.0, batch, 2) * (60 * mm)[:, None]
    camera = torch.cat((foot, (away * torch.cos(tilt))[:, None]), dim=1)

    slope = chance.log_uniform(0.15, 5.0, batch)
    downwards = chance.normal(1.1, batch)
    direction = torch.stack((torch.sin(downwards), torch.cos(downwards)), dim=-1)
    return Scene(
        batch=batch,
        side=side,
        views=views,
        shaft=shaft,
        told=told,
        mm=mm,
        spots=spots,
        zone=zone,
        layout=layout,
        camera=camera,
        sun_slope=slope[:, None] * direction,
        sun=chance.happens(0.72, batch) * chance.uniform(0.25, 0.9, batch),
        rear=rear,
    )
