"""Seeded random numbers and smooth noise on the device that draws."""

import math

import torch
from torch.nn import functional


class Chance:
    """A seeded source of random tensors."""

    def __init__(self, seed, device):
        self.device = device
        self.generator = torch.Generator(device=device).manual_seed(seed)

    def uniform(self, low, high, *shape):
        """Uniform numbers from low to high."""
        numbers = torch.rand(*shape, generator=self.generator, device=self.device)
        return low + (high - low) * numbers

    def normal(self, sd, *shape):
        """Normal numbers about zero."""
        return sd * torch.randn(*shape, generator=self.generator, device=self.device)

    def log_uniform(self, low, high, *shape):
        """Numbers whose logarithm is uniform between those of low and high."""
        return torch.exp(
            self.uniform(0.0, 1.0, *shape) * torch.log(torch.tensor(high / low)).item()
        ) * low

    def happens(self, probability, *shape):
        """1.0 with the given probability, else 0.0."""
        return (self.uniform(0.0, 1.0, *shape) < probability).float()

    def integer(self, low, high, *shape):
        """Integers from low to high, both included."""
        return torch.randint(
            low, high + 1, shape, generator=self.generator, device=self.device
        )

    def direction(self, *shape):
        """Unit vectors, the last dimension x and y."""
        angle = self.uniform(0.0, 6.2832, *shape)
        return torch.stack((torch.cos(angle), torch.sin(angle)), dim=-1)

    def choice(self, values, *shape):
        """Elements of a list of numbers."""
        table = torch.tensor(values, device=self.device, dtype=torch.float32)
        return table[self.integer(0, len(values) - 1, *shape)]

    def noise(self, batch, side, cells_down, cells_across, planes=1):
        """Smooth noise of unit variance at its nodes, (batch, planes, side, side)."""
        down, across = (math.ceil((cells + 3) / 1.5) + 1 for cells in (cells_down, cells_across))
        coarse = self.normal(1.0, batch, planes, down, across)
        return functional.interpolate(
            coarse, size=(side, side), mode="bicubic", align_corners=True
        )
