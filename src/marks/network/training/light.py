"""Light on the paper: smooth fields, edges of shadows, people, leaves, shadows of arrows."""

import torch


def shadow_mask(scene, chance):
    """Part of the direct light that reaches each pixel before arrows are in the way."""
    batch, side = scene.batch, scene.side
    x, y = scene.grid()
    soft = chance.log_uniform(0.4, 25.0, batch)[:, None, None]
    mask = torch.ones(batch, side, side, device=chance.device)

    along = chance.direction(batch)
    offset = chance.uniform(-0.6, 0.6, batch) * side
    reach = (x - side / 2) * along[:, 0, None, None] + (y - side / 2) * along[:, 1, None, None]
    reach = reach + offset[:, None, None]
    edge = torch.sigmoid(reach / soft)
    mask = mask * torch.where(chance.happens(0.25, batch)[:, None, None] > 0, edge, 1.0)

    person = torch.zeros_like(mask)
    middle = chance.uniform(-0.2, 1.2, batch, 2) * side
    for _ in range(4):
        at = middle + chance.normal(0.35, batch, 2) * side
        radii = chance.log_uniform(0.08, 0.6, batch, 2) * side
        u = (x - at[:, 0, None, None]) / radii[:, 0, None, None]
        v = (y - at[:, 1, None, None]) / radii[:, 1, None, None]
        away = (torch.hypot(u, v) - 1) * radii.amin(1)[:, None, None]
        person = torch.maximum(person, torch.sigmoid(-away / soft))
    shown = chance.happens(0.25, batch)[:, None, None]
    mask = mask * (1 - person * shown)

    leaves = chance.noise(batch, side, 6, 6)[:, 0] + 0.6 * chance.noise(batch, side, 17, 17)[:, 0]
    dapple = torch.sigmoid((leaves - chance.uniform(-0.8, 0.8, batch)[:, None, None])
                           * chance.log_uniform(1.0, 12.0, batch)[:, None, None])
    return mask * torch.where(chance.happens(0.15, batch)[:, None, None] > 0, dapple, 1.0)


def light_field(scene, chance, direct):
    """Light per pixel, linear RGB: sky plus what of the sun is let through by `direct`."""
    batch, side = scene.batch, scene.side
    sky_tint = 1 + chance.normal(0.10, batch, 1, 1, 3)
    sun_tint = 1 + chance.normal(0.06, batch, 1, 1, 3) + chance.uniform(
        0.0, 0.25, batch, 1, 1, 1
    ) * torch.tensor([0.6, 0.0, -1.0], device=chance.device)
    uneven = chance.noise(batch, side, 1, 1)[:, 0] * chance.uniform(0.0, 0.25, batch)[
        :, None, None
    ] + chance.noise(batch, side, 4, 4)[:, 0] * chance.uniform(0.0, 0.05, batch)[:, None, None]
    field = torch.exp(uneven)[..., None]
    sun = scene.sun[:, None, None, None]
    return field * ((1 - sun) * sky_tint + sun * direct[..., None] * sun_tint).clamp(min=0.01)
