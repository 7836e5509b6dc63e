"""Trains the network for rear ends on drawn arrows and writes weights, a log and sample strips.

The README beside this file gives the command that made the committed weights.
"""

import argparse
import time
from pathlib import Path

import torch
from torch.nn import functional

from chance import Chance
from drawn_rears import DrawnRears, joined
from parts import part_of
from rear_model import INPUT_PLANES, STRIP_WIDTH, RearNetwork
from train import Learner, heat_loss, write_onnx, write_png

#: Share of the other answer that is asked for: nobody is to be surer than that.
DOUBT = 0.02


def losses(logits, strips):
    """Both parts of the loss by name."""
    told = strips.fletched * (1 - 2 * DOUBT) + DOUBT
    kind = functional.binary_cross_entropy_with_logits(logits[:, 1], told, reduction="none")
    weight = strips.fletched_weight
    return {
        "end": heat_loss(logits[:, 0], strips.end, strips.end_weight),
        "fletched": (kind * weight).sum() / weight.sum().clamp(min=20),
    }


def right_share(answers, strips):
    """How often the kind is right where the arrow's end is seen."""
    seen = strips.fletched_weight > 0.9
    right = (answers[:, 1] > 0.5) == (strips.fletched > 0.5)
    return (right & seen).sum().item() / max(1, seen.sum().item())


def sample_sheet(strips):
    """Strips, below each where it ends: green where fletched, red where bare."""
    cells = []
    for i in range(min(48, strips.planes.shape[0])):
        heat = functional.interpolate(strips.end[i][None, None], size=strips.planes.shape[-1])[0]
        fletched = strips.fletched[i, 0]
        bar = torch.stack((heat * (1 - fletched), heat * fletched, 0 * heat)).expand(-1, 6, -1)
        cells.append(torch.cat((strips.planes[i, :3].float(), bar), dim=1))
    rows = [torch.cat(cells[i : i + 6], dim=2) for i in range(0, len(cells) - 5, 6)]
    return torch.cat(rows, dim=1).permute(1, 2, 0)


def main():
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--steps", type=int, default=12000)
    parser.add_argument("--batch", type=int, default=512, help="strips per step")
    parser.add_argument("--scenes", type=int, default=256, help="scenes drawn at once")
    parser.add_argument("--looks", type=int, default=8, help="photographs of each scene")
    parser.add_argument("--between", type=int, default=40, help="steps from one drawing to the next")
    parser.add_argument("--kept", type=int, default=8, help="drawings to learn from at a time")
    parser.add_argument("--side", type=int, default=320)
    parser.add_argument("--seed", type=int, default=31)
    parser.add_argument("--rate", type=float, default=4e-3)
    parser.add_argument("--last-rate", type=float, default=0.0)
    parser.add_argument("--start", type=Path, help="rear.pt to continue from")
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    torch.manual_seed(options.seed)
    device = options.device
    rears = DrawnRears(Chance(options.seed, device), options.scenes, options.side)
    unseen = rears.draw()
    judged = part_of(unseen, slice(0, 1024))
    write_png(options.out / "drawn.png", sample_sheet(unseen))
    network = RearNetwork().to(device)
    if options.start is not None:
        network.load_state_dict(torch.load(options.start, map_location=device))
    learner = Learner(network, options, weight_decay=1e-3)
    kept = []
    for step in range(options.steps):
        if step % options.between == 0:
            tick = time.time()
            kept = [*kept[1 - options.kept :], rears.draw(options.looks)]
            pool = joined(kept)
            drawing = time.time() - tick
        strips = part_of(pool, torch.randint(len(pool.planes), (options.batch,), device=device))
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            planes = strips.planes.float().to(memory_format=torch.channels_last)
            logits = network.logits(planes)
        parts = losses(logits.float(), strips)
        learner.learn(sum(parts.values()), step)
        if step % 100 == 0 or step == options.steps - 1:
            learner.average.eval()
            with torch.no_grad():
                right = right_share(learner.average(judged.planes.float()), judged)
            learner.say(step, drawing, parts, f", kinds right {right:.3f}")
        if step % 1000 == 999 or step == options.steps - 1:
            torch.save(learner.average.state_dict(), options.out / "rear.pt")
    example = torch.zeros(1, INPUT_PLANES, STRIP_WIDTH, 128)
    axes = {"planes": {3: "length"}, "evidence": {2: "cells"}}
    write_onnx(learner.average, example, axes, options.out / "rear-network.onnx")


if __name__ == "__main__":
    main()
