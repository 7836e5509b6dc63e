"""Painting small patches into a batch of pictures."""

import torch


def in_rounds(picture, order):
    """Splits items into rounds with at most one per picture, lower `order` first.

    picture: (items,) index of each item's picture. Returns a list of index tensors.
    """
    by_order = torch.argsort(order, stable=True)
    sorted_items = by_order[torch.argsort(picture[by_order], stable=True)]
    pictures = picture[sorted_items]
    steps = torch.arange(len(pictures), device=picture.device)
    starts = torch.ones_like(pictures, dtype=torch.bool)
    starts[1:] = pictures[1:] != pictures[:-1]
    first = torch.cummax(torch.where(starts, steps, torch.zeros_like(steps)), dim=0).values
    turn = steps - first
    last = int(turn.max()) if len(turn) else -1
    return [sorted_items[turn == k] for k in range(last + 1)]


class Canvas:
    """Pictures (batch, side, side, 3) with a rim so that patches may reach over the edge.

    Items are patches about points: `picture` (items,) says in which picture each lies, `centres`
    (items, 2 = x, y) where.
    """

    def __init__(self, pixels, patch, picture, centres):
        batch, side, _, planes = pixels.shape
        self.patch = patch
        self.side = side
        self.pixels = pixels.new_zeros(batch, side + 2 * patch, side + 2 * patch, planes)
        self.pixels[:, patch : patch + side, patch : patch + side] = pixels
        self.index = picture
        low = torch.floor(centres) - patch // 2
        self.corners = low.clamp(-patch, side).long()
        self.centres = centres

    def offsets(self):
        """x and y from each item's centre to its patch's pixel centres, (items, patch, patch)."""
        steps = torch.arange(self.patch, device=self.centres.device) + 0.5
        from_corner = self.corners.float() - self.centres
        x = from_corner[:, 0, None] + steps
        y = from_corner[:, 1, None] + steps
        size = (len(self.centres), self.patch, self.patch)
        return x[:, None, :].expand(size), y[:, :, None].expand(size)

    def change(self, items, recipe):
        """Replaces the patches of items, one per picture, by recipe(old pixels); returns both."""
        corner = self.corners[items] + self.patch
        steps = torch.arange(self.patch, device=self.centres.device)
        y = (corner[:, 1, None] + steps)[:, :, None]
        x = (corner[:, 0, None] + steps)[:, None, :]
        rows = self.index[items][:, None, None]
        old = self.pixels[rows, y, x]
        new = recipe(old)
        self.pixels[rows, y, x] = new
        return old, new

    def picture(self):
        """The painted pictures without the rim."""
        inner = slice(self.patch, self.patch + self.side)
        return self.pixels[:, inner, inner]
