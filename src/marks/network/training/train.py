"""Trains the network on drawn faces and writes weights, a log and sample pictures.

The README beside this file gives the command that made the committed weights.
"""

import argparse
import copy
import math
import struct
import time
import zlib
from pathlib import Path

import torch
from torch.nn import functional

from chance import Chance
from drawn_faces import DrawnFaces
from from_weights_file import continue_from_file
from model import INPUT_PLANES, LESSONS, OUTPUTS, MarkNetwork
from parts import part_of

AT = {name: index for index, name in enumerate(OUTPUTS + LESSONS)}


def write_png(path, picture):
    """Writes (height, width, 3) numbers from 0 to 1 as a PNG."""
    pixels = (picture.clamp(0, 1) * 255).round().byte().cpu().numpy()
    height, width, _ = pixels.shape
    rows = b"".join(b"\0" + pixels[i].tobytes() for i in range(height))

    def chunk(name, body):
        checked = name + body
        return struct.pack(">I", len(body)) + checked + struct.pack(">I", zlib.crc32(checked))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


def heat_loss(logit, target, weight):
    """Focal loss for soft targets, per mark: easy cells hardly count."""
    probability = torch.sigmoid(logit)
    loss = functional.binary_cross_entropy_with_logits(logit, target, reduction="none")
    loss = loss * (target - probability).abs() ** 1.5 * weight
    return loss.sum() / (target > 0.5).sum().clamp(min=20)


def mask_loss(logit, target, weight):
    """Cross-entropy plus Dice over the whole batch."""
    loss = functional.binary_cross_entropy_with_logits(logit, target, reduction="none")
    cross = (loss * weight * (1 + 2 * target)).mean()
    probability = torch.sigmoid(logit) * weight
    target = target * weight
    overlap = 2 * (probability * target).sum() + 1
    dice = 1 - overlap / ((probability**2).sum() + (target**2).sum() + 1)
    return 4 * cross + 0.5 * dice


def weighted_mean(loss, weight):
    """Mean of a loss where its weight is set."""
    return (loss * weight).sum() / weight.sum().clamp(min=20)


def losses(logits, batch):
    """Every part of the loss by name."""
    votes = logits[:, AT["to_mark_x"] : AT["to_mark_y"] + 1]
    towards = logits[:, AT["towards_entry_x"] : AT["towards_entry_y"] + 1]
    fresh = functional.binary_cross_entropy_with_logits(
        logits[:, AT["fresh"]], batch.fresh, reduction="none"
    )
    return {
        "hole": 1.3 * heat_loss(logits[:, AT["hole"]], batch.hole, batch.hole_weight),
        "entry": 1.5 * heat_loss(logits[:, AT["entry"]], batch.entry, batch.entry_weight),
        "fresh": 0.4 * weighted_mean(fresh, batch.fresh_weight),
        "disc": 0.7 * mask_loss(logits[:, AT["disc"]], batch.disc, batch.disc_weight),
        "shaft": mask_loss(logits[:, AT["shaft"]], batch.shaft, 1.0),
        "vane": 0.5 * mask_loss(logits[:, AT["vane"]], batch.vane, 1.0),
        "nock": 0.5 * mask_loss(logits[:, AT["nock"]], batch.nock, 1.0),
        "towards": 0.3 * weighted_mean(
            (towards - batch.towards).abs().sum(1), batch.towards_weight
        ),
        "to_mark": weighted_mean(
            functional.smooth_l1_loss(votes, batch.to_mark, reduction="none", beta=0.1).sum(1),
            batch.to_mark_weight,
        ),
    }


def sample_sheet(batch, probabilities=None):
    """Drawn pictures, below each its targets (hole red, shaft green, vane blue), then answers."""
    cells = []
    for i in range(min(24, batch.planes.shape[0])):
        picture = batch.planes[i, :3].float()
        target = torch.stack((batch.hole[i], batch.shaft[i], torch.maximum(
            batch.entry[i], 0.6 * batch.vane[i])))
        rows = [picture, functional.interpolate(target[None], scale_factor=2)[0]]
        if probabilities is not None:
            answer = torch.stack((
                probabilities[i, AT["hole"]],
                probabilities[i, AT["shaft"]],
                torch.maximum(probabilities[i, AT["entry"]], 0.6 * probabilities[i, AT["vane"]]),
            )).float()
            rows.append(functional.interpolate(answer[None], scale_factor=2)[0])
        cells.append(torch.cat(rows, dim=1))
    rows = [torch.cat(cells[i : i + 6], dim=2) for i in range(0, len(cells), 6)]
    return torch.cat(rows, dim=1).permute(1, 2, 0)


def write_onnx(network, example, axes, path):
    """Writes a network as ONNX; axes: the dimensions that are free, by the names of in- and output."""
    network = copy.deepcopy(network).float().cpu().eval()
    options = {}
    if tuple(int(part) for part in torch.__version__.split(".")[:2]) >= (2, 5):
        options["dynamo"] = False
    torch.onnx.export(
        network, (example,), str(path), input_names=["planes"], output_names=["evidence"],
        opset_version=16, dynamic_axes=axes, **options,
    )


@torch.no_grad()
def follow(average, network, step):
    """Moves a running average of a network's weights towards them."""
    keep = min(0.998, step / (step + 10))
    for mean, now in zip(average.state_dict().values(), network.state_dict().values()):
        if mean.dtype.is_floating_point:
            mean.lerp_(now, 1 - keep)


def fitting(network, state):
    """The network's own weights, replaced by those of a state wherever name and shape agree."""
    own = network.state_dict()
    same = {name: value for name, value in state.items() if name in own and own[name].shape == value.shape}
    missing = sorted(set(own) - set(same))
    print(f"{len(same)} tensors continued, new: {' '.join(missing) or 'none'}", flush=True)
    return {**own, **same}


def rate_at(part, last):
    """Learning rate relative to its peak: a short rise, then half a cosine down to `last`."""
    if part < 0.03:
        return part / 0.03 + 1e-3
    return last + (1 - last) * 0.5 * (1 + math.cos(math.pi * min(1.0, (part - 0.03) / 0.97)))


class Learner:
    """A network that learns, and the running average of its weights, which is what is kept."""

    def __init__(self, network, options, weight_decay):
        self.network = network.to(memory_format=torch.channels_last)
        self.average = copy.deepcopy(self.network)
        self.optimiser = torch.optim.AdamW(
            self.network.parameters(), lr=options.rate, weight_decay=weight_decay
        )
        self.schedule = torch.optim.lr_scheduler.LambdaLR(
            self.optimiser,
            lambda step: rate_at(step / options.steps, options.last_rate / options.rate),
        )
        self.log = (options.out / "training.log").open("w")
        self.started = time.time()
        weights = sum(parameter.numel() for parameter in self.network.parameters())
        print(f"{weights} weights, {options.device}", flush=True)

    def learn(self, loss, step):
        """One step down a loss of the network's answers."""
        self.optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(self.network.parameters(), 2.0)
        self.optimiser.step()
        self.schedule.step()
        follow(self.average, self.network, step)

    def say(self, step, drawing, parts, more=""):
        """Prints and logs how far it is; drawing: what that took last, parts: of the loss, by name."""
        figures = " ".join(f"{name} {part.item():.3f}" for name, part in parts.items())
        spent = time.time() - self.started
        line = f"{step} {spent:.0f} s, drawing {drawing * 1000:.0f} ms: {figures}{more}"
        print(line, flush=True)
        print(line, file=self.log, flush=True)


def main():
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--steps", type=int, default=4000)
    parser.add_argument("--until", type=int, help="stop after so many of the steps")
    parser.add_argument("--batch", type=int, default=128, help="pictures per step")
    parser.add_argument("--scenes", type=int, default=384, help="scenes drawn at once")
    parser.add_argument("--looks", type=int, default=4, help="photographs of each scene")
    parser.add_argument("--draws", type=int, default=2, help="times of drawing to shuffle together")
    parser.add_argument("--side", type=int, default=256)
    parser.add_argument("--seed", type=int, default=11)
    parser.add_argument("--rate", type=float, default=3e-3)
    parser.add_argument("--last-rate", type=float, default=0.0)
    parser.add_argument(
        "--start", type=Path, help="network.pt or mark-network.onnx to continue from"
    )
    parser.add_argument("--device", default="cuda" if torch.cuda.is_available() else "cpu")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    torch.manual_seed(options.seed)
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True

    device = options.device
    faces = DrawnFaces(Chance(options.seed, device), options.scenes, options.side)
    network = MarkNetwork().to(device)
    if options.start is not None and options.start.suffix == ".onnx":
        drawn = [batch.planes for _ in range(options.draws) for batch in faces.draw()]
        continue_from_file(network, options.start, drawn)
    elif options.start is not None:
        network.load_state_dict(fitting(network, torch.load(options.start, map_location=device)))
    learner = Learner(network, options, weight_decay=1e-4)
    pending = []
    count = options.until or options.steps
    for step in range(count):
        if not pending:
            tick = time.time()
            for _ in range(options.draws):
                for drawn in faces.draw(options.looks):
                    order = torch.randperm(options.scenes)
                    pending += [part_of(drawn, chosen) for chosen in order.split(options.batch)]
            pending = [pending[i] for i in torch.randperm(len(pending)).tolist()]
            drawing = time.time() - tick
        batch = pending.pop(0)
        if step == 0:
            write_png(options.out / "drawn.png", sample_sheet(batch))
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            planes = batch.planes.to(memory_format=torch.channels_last)
            logits = network.logits(planes)
        parts = losses(logits.float(), batch)
        loss = sum(parts.values())
        learner.learn(loss, step)
        if step % 50 == 0 or step == count - 1:
            learner.say(step, drawing, parts)
        if step % 1000 == 999 or step == count - 1:
            torch.save(learner.average.state_dict(), options.out / "network.pt")
    average = learner.average.eval()
    with torch.no_grad():
        batch = part_of(faces.draw()[0], slice(0, 24))
        answer = average(batch.planes)
    write_png(options.out / "answers.png", sample_sheet(batch, answer))
    example = torch.zeros(1, INPUT_PLANES, 128, 128)
    axes = {"planes": {2: "height", 3: "width"}, "evidence": {2: "rows", 3: "columns"}}
    write_onnx(average, example, axes, options.out / "mark-network.onnx")


if __name__ == "__main__":
    main()
