"""What a phone does to the view: resolution, blur, noise, tone, sharpening, JPEG, rectification."""

import math

import torch
from torch.nn import functional

from fused import fused

KERNEL = 15


def sampling_maps(chance, scene):
    """Affine maps from the flat picture to the photo that it is rectified from, and their scale."""
    batch = scene.batch
    ratio = chance.log_uniform(*scene.views.photo_px, batch)
    # Paper is foreshortened towards the camera's foot; ripples and lenses add to that.
    slope = (scene.side / 2 - scene.camera[:, :2]) / scene.camera[:, 2:]
    squeeze = (1 + (slope**2).sum(-1)).rsqrt() * (1 - chance.uniform(0.0, 0.1, batch))
    angle = chance.uniform(-0.35, 0.35, batch)
    axis = torch.atan2(slope[:, 1], slope[:, 0]) + chance.normal(0.1, batch)

    def turn(a):
        return torch.stack(
            (torch.cos(a), -torch.sin(a), torch.sin(a), torch.cos(a)), dim=-1
        ).view(-1, 2, 2)

    scale = torch.zeros(batch, 2, 2, device=chance.device)
    scale[:, 0, 0] = ratio * squeeze
    scale[:, 1, 1] = ratio
    to_photo = turn(angle) @ turn(axis) @ scale @ turn(-axis)
    return to_photo, ratio


def resample(picture, matrix, side, from_side, bias):
    """Picture (batch, planes, from, from) seen through an affine map about both centres."""
    batch = picture.shape[0]
    steps = torch.arange(side, device=picture.device) + 0.5 - side / 2
    y, x = torch.meshgrid(steps, steps, indexing="ij")
    points = torch.stack((x, y), dim=-1).view(1, -1, 2)
    places = points @ matrix.transpose(1, 2) + bias[:, None]
    places = places.view(batch, side, side, 2) * (2 / from_side)
    return functional.grid_sample(
        picture, places, mode="bilinear", padding_mode="border", align_corners=False
    )


def blur_kernels(chance, batch, photo_px):
    """Lens and hand: Gaussian or streak kernels, (batch, KERNEL, KERNEL).

    photo_px: pixels of the photo to one of the flat picture; made smaller, a photo shows shorter streaks.
    """
    steps = torch.arange(KERNEL, device=chance.device) - KERNEL // 2
    y, x = torch.meshgrid(steps.float(), steps.float(), indexing="ij")
    sigma = chance.log_uniform(0.35, 0.9, batch) + chance.happens(0.25, batch) * chance.uniform(
        0.0, 1.3, batch
    )
    gauss = torch.exp(-(x**2 + y**2)[None] / (2 * sigma[:, None, None] ** 2))
    along = chance.direction(batch)
    u = x * along[:, 0, None, None] + y * along[:, 1, None, None]
    v = y * along[:, 0, None, None] - x * along[:, 1, None, None]
    half = chance.happens(0.27, batch) * chance.log_uniform(0.5, 6.5, batch)
    half = (half * photo_px.clamp(max=1.0))[:, None, None]
    streak = torch.exp(-(((u.abs() - half).clamp(min=0.0) ** 2 + v**2) / (2 * sigma[:, None, None] ** 2)))
    kernel = torch.where(half > 0, streak, gauss)
    return kernel / kernel.sum((1, 2), keepdim=True)


def convolve(picture, kernels):
    """Each picture by its own odd-sided kernel, through Fourier space."""
    height, width = picture.shape[-2:]
    half = kernels.shape[-1] // 2
    padded = functional.pad(picture, (half,) * 4, mode="replicate")
    size = padded.shape[-2:]
    spectrum = torch.fft.rfft2(padded) * torch.fft.rfft2(kernels, s=size)[:, None]
    # The kernel's corner, not its middle, is its origin.
    return torch.fft.irfft2(spectrum, s=size)[..., 2 * half :, 2 * half :][..., :height, :width]


def smooth(picture, sigma):
    """Each picture by a Gaussian of its own width, up to 1.6 pixels, row by row."""
    steps = torch.arange(-3, 4, device=sigma.device)
    line = torch.exp(-(steps.float() ** 2)[None] / (2 * sigma[:, None] ** 2))
    line = line / line.sum(1, keepdim=True)
    for across in (0, 1):
        height, width = picture.shape[-2:]
        padded = functional.pad(picture, (3, 3, 0, 0) if across else (0, 0, 3, 3), mode="replicate")
        picture = sum(
            line[:, k, None, None, None]
            * (padded[..., k : k + width] if across else padded[..., k : k + height, :])
            for k in range(7)
        )
    return picture


QUANT_LUMA = [
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56,
    14, 17, 22, 29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113,
    92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
]  # ITU-T T.81, table K.1
QUANT_CHROMA = [
    17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99,
    47, 66, 99, 99, 99, 99, 99, 99,
] + [99] * 32  # ITU-T T.81, table K.2


def dct_matrix(device):
    """The cosine transform of 8 x 8 pixels in a row, (64, 64): from pixels to coefficients."""
    line = torch.tensor([
        [math.cos(math.pi * (n + 0.5) * k / 8) * math.sqrt((1 if k == 0 else 2) / 8) for n in range(8)]
        for k in range(8)
    ])
    return torch.kron(line, line).to(device)


def quantise(plane, table, quality, dct):
    """JPEG's loss on one plane (batch, height, width), values about 0 to 255."""
    batch, height, width = plane.shape
    blocks = plane.view(batch, height // 8, 8, width // 8, 8).permute(0, 1, 3, 2, 4) - 128
    factor = torch.where(quality < 50, 5000 / quality, 200 - 2 * quality)
    steps = ((table[None] * factor[:, None] + 50) / 100).floor().clamp(1, 255)
    steps = steps.view(batch, 1, 1, 64)
    coefficients = blocks.reshape(batch, height // 8, width // 8, 64) @ dct.T
    coefficients = torch.round(coefficients / steps) * steps
    blocks = (coefficients @ dct + 128).view(batch, height // 8, width // 8, 8, 8)
    return blocks.permute(0, 1, 3, 2, 4).reshape(batch, height, width)


@fused
def jpeg(picture, quality, tables, dct):
    """JPEG at the given quality with halved chroma; picture (batch, 3, h, w), 0 to 1."""
    red, green, blue = (picture * 255).unbind(1)
    luma = 0.299 * red + 0.587 * green + 0.114 * blue
    chroma = torch.stack((128 + 0.564 * (blue - luma), 128 + 0.713 * (red - luma)), dim=1)
    chroma = functional.avg_pool2d(chroma, 2)
    luma = quantise(luma, tables[0], quality, dct)
    cb = quantise(chroma[:, 0].contiguous(), tables[1], quality, dct)
    cr = quantise(chroma[:, 1].contiguous(), tables[1], quality, dct)
    chroma = functional.interpolate(
        torch.stack((cb, cr), dim=1), scale_factor=2.0, mode="bilinear", align_corners=False
    ) - 128
    red = luma + chroma[:, 1] / 0.713
    blue = luma + chroma[:, 0] / 0.564
    green = (luma - 0.299 * red - 0.114 * blue) / 0.587
    picture = (torch.stack((red, green, blue), dim=1) / 255).clamp(0, 1)
    return (picture * 255).round() / 255


@fused
def sensed(photo, rough, coloured, rounded, smoothing, iso):
    """Shot and read noise in linear light, coloured, sometimes smoothed by the phone."""
    grain = rough.mean(1, keepdim=True) * 1.2 + rough * coloured
    smoothed = smooth(grain, rounded) * (1 + rounded)[:, None, None, None]
    grain = torch.where(smoothing > 0, smoothed, grain)
    sd = iso[:, None, None, None] * (photo.clamp(min=0.0) + 0.02).sqrt()
    return (photo + grain * sd).clamp(0.0, 1.4)


@fused
def toned(photo, gamma, contrast, saturation, sharpening, radius):
    """Gamma, contrast, saturation and sharpening, rounded to 8 bits."""
    photo = (photo + 1e-5) ** gamma
    bounded = photo.clamp(0, 1)
    photo = photo * (1 - contrast) + contrast * bounded * bounded * (3 - 2 * bounded)
    grey = photo.mean(1, keepdim=True)
    photo = grey + (photo - grey) * saturation
    photo = photo + sharpening * (photo - smooth(photo, radius))
    return (photo.clamp(0, 1) * 255).round() / 255


def photograph(chance, radiance, scene):
    """Flat picture as rectified from a photo of the radiance; returns it with the noise's size.

    radiance: (batch, side, side, 3), linear. Returns (batch, 3, side, side), 0 to 1, and the
    standard deviation of the noise at mid grey, (batch,).
    """
    batch, side = radiance.shape[:2]
    canvas = math.ceil(side * 1.4 / 16) * 16
    picture = radiance.permute(0, 3, 1, 2)
    level = picture.mean((1, 2, 3), keepdim=True)
    exposure = chance.log_uniform(0.07, 0.42, batch, 1, 1, 1) / level.clamp(min=0.02)
    picture = picture * exposure * torch.exp(chance.normal(0.06, batch, 3, 1, 1))

    to_photo, photo_px = sampling_maps(chance, scene)
    to_flat = torch.linalg.inv(to_photo)
    shift = chance.uniform(-4.0, 4.0, batch, 2)
    bias = -(to_flat @ shift[..., None])[..., 0]
    photo = resample(picture, to_flat, canvas, side, bias)
    photo = convolve(photo, blur_kernels(chance, batch, photo_px))

    iso = chance.log_uniform(0.002, 0.07, batch) * (1 - 0.7 * chance.happens(0.35, batch))
    photo = sensed(
        photo,
        chance.normal(1.0, *photo.shape),
        chance.uniform(0.2, 1.0, batch, 1, 1, 1),
        chance.uniform(0.3, 1.5, batch),
        chance.happens(0.6, batch, 1, 1, 1),
        iso,
    )
    photo = toned(
        photo,
        chance.uniform(0.40, 0.52, batch, 1, 1, 1),
        chance.uniform(0.0, 0.5, batch, 1, 1, 1),
        chance.uniform(0.6, 1.35, batch, 1, 1, 1),
        chance.happens(0.65, batch, 1, 1, 1) * chance.uniform(0.0, 1.6, batch, 1, 1, 1),
        chance.uniform(0.6, 1.6, batch),
    )
    tables = torch.tensor([QUANT_LUMA, QUANT_CHROMA], device=photo.device, dtype=torch.float32)
    # Messengers compress harder than phones.
    quality = chance.uniform(55.0, 97.0, batch)
    photo = jpeg(photo, quality, tables, dct_matrix(photo.device))

    bias = shift + chance.normal(0.1, batch, 2)
    flat = resample(photo, to_photo, side, canvas, bias)
    return flat, iso
