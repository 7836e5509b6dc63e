"""Painting small patches into a batch of pictures, one patch per picture at a time."""

import torch


class Canvas:
    """Pictures (batch, side, side, 3) with a rim so that patches may reach over the edge."""

    def __init__(self, picture, patch):
        batch, side, _, planes = picture.shape
        self.patch = patch
        self.side = side
        self.pixels = picture.new_zeros(batch, side + 2 * patch, side + 2 * patch, planes)
        self.pixels[:, patch : patch + side, patch : patch + side] = picture
        self.rows = torch.arange(batch, device=picture.device)[:, None, None]

    def corners(self, centres):
        """Top-left pixels of patches about centres (batch, count, 2 = x, y)."""
        low = torch.floor(centres) - self.patch // 2
        return low.clamp(-self.patch, self.side).long()

    def offsets(self, centres):
        """x and y from each centre to its patch's pixel centres, (batch, count, patch, patch)."""
        steps = torch.arange(self.patch, device=centres.device) + 0.5
        from_corner = self.corners(centres).float() - centres
        x = from_corner[..., 0, None] + steps
        y = from_corner[..., 1, None] + steps
        size = (*centres.shape[:2], self.patch, self.patch)
        return x[:, :, None, :].expand(size), y[:, :, :, None].expand(size)

    def change(self, centres, index, recipe):
        """Replaces patch `index` of every picture by recipe(old pixels); returns old and new."""
        corner = self.corners(centres)[:, index] + self.patch
        steps = torch.arange(self.patch, device=centres.device)
        y = (corner[:, 1, None] + steps)[:, :, None]
        x = (corner[:, 0, None] + steps)[:, None, :]
        old = self.pixels[self.rows, y, x]
        new = recipe(old)
        self.pixels[self.rows, y, x] = new
        return old, new

    def picture(self):
        """The painted pictures without the rim."""
        inner = slice(self.patch, self.patch + self.side)
        return self.pixels[:, inner, inner]
