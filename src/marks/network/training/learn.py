"""How a network learns: one schedule from nothing, kept in a checkpoint, shared by all GPUs."""

import copy
import math
import time

import onnx
import torch
from torch import nn
from torch.nn.parallel import DistributedDataParallel

from aligned import aligned
from parts import Pool, converted, part_of
from sheet import write_png

#: How much of the running average of the weights each step keeps.
KEPT_OF_AVERAGE = 0.999
#: Part of all steps in which the rate rises to its peak.
RISE = 0.03
#: Longest gradient that is followed whole.
LONGEST_GRADIENT = 2.0
#: Rows on which nothing is learned: the log shows the loss of the average on them.
UNSEEN = 512
CHECKPOINT_S = 60
#: Planes that runtimes take at once, at least.
PLANES_AT_ONCE = 4
LOG_STEPS = 200
UNSEEN_STEPS = 2000


def rate_at(part):
    """Learning rate relative to its peak: a short rise, then half a cosine down to nothing."""
    if part < RISE:
        return part / RISE + 1e-3
    return 0.5 * (1 + math.cos(math.pi * (part - RISE) / (1 - RISE)))


@torch.no_grad()
def follow(average, network):
    """Moves a running average of a network's weights and statistics towards them."""
    means, now = average.state_dict().values(), network.state_dict().values()
    pairs = [pair for pair in zip(means, now) if pair[0].dtype.is_floating_point]
    torch._foreach_lerp_(*map(list, zip(*pairs)), 1 - KEPT_OF_AVERAGE)


def written(parts):
    """Parts of a loss as words."""
    return " ".join(f"{name} {part.item():.3f}" for name, part in parts.items())


class Taught(nn.Module):
    """A network together with how wrong it is: from rows to the parts of the loss."""

    def __init__(self, network, losses):
        super().__init__()
        self.network = network
        self.losses = losses

    def forward(self, rows):
        """Parts of the loss by name."""
        device = rows.planes.device.type
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            logits = self.network.logits(rows.planes.to(memory_format=torch.channels_last))
        return self.losses(logits.float(), rows)


def write_onnx(network, lesson, path):
    """Writes a network as ONNX."""
    torch.onnx.export(
        copy.deepcopy(network).cpu().eval(), (lesson.example,), str(path), input_names=["planes"],
        output_names=["evidence"], opset_version=16, dynamic_axes=lesson.axes, dynamo=False,
    )
    onnx.save(aligned(onnx.load(path), PLANES_AT_ONCE), path)


class Learner:
    """A network on its way through the plan of its lesson.

    What is kept in the end is a running average of its weights. All processes of `crew` hold the same
    weights and draw each their own pictures; the first writes.
    """

    def __init__(self, lesson, crew, folder, seed):
        self.lesson, self.crew, self.folder = lesson, crew, folder
        self.seed = seed
        torch.manual_seed(seed)
        self.network = lesson.network().to(crew.device, memory_format=torch.channels_last)
        self.average = copy.deepcopy(self.network).eval()
        self.optimiser = torch.optim.AdamW(
            self.network.parameters(), lr=lesson.rate, weight_decay=lesson.weight_decay,
            fused=crew.on_gpu,
        )
        self.checkpoint = folder / f"{lesson.name}.checkpoint"
        self.weights = folder / f"{lesson.name}-network.onnx"
        self.step = 0
        if self.checkpoint.exists():
            kept = torch.load(self.checkpoint, map_location=crew.device)
            self.step = kept["step"]
            for name in ("network", "average", "optimiser"):
                getattr(self, name).load_state_dict(kept[name])
        self.taught = Taught(self.network, lesson.losses)
        if crew.on_gpu:
            self.taught.compile(dynamic=False)
        if crew.count > 1:
            self.taught = DistributedDataParallel(self.taught, broadcast_buffers=False)

    def save(self):
        """Writes the checkpoint; whoever is interrupted meanwhile finds the one before."""
        if self.crew.rank > 0:
            return
        half_written = self.checkpoint.with_suffix(".half")
        parts = ("network", "average", "optimiser")
        torch.save(
            {"step": self.step, **{name: getattr(self, name).state_dict() for name in parts}},
            half_written,
        )
        half_written.replace(self.checkpoint)

    def say(self, line):
        """Prints and logs a line once."""
        if self.crew.rank > 0:
            return
        print(line, flush=True)
        with (self.folder / f"{self.lesson.name}.log").open("a") as log:
            print(line, file=log)

    def learn(self, until):
        """Learns to the end of the plan, or to the time `until`; says whether it got to the end."""
        lesson, crew = self.lesson, self.crew
        # Nobody draws what another process draws, or what was drawn before an interruption.
        own = self.seed + 1 + crew.rank + crew.count * self.step
        torch.manual_seed(own)
        lesson.begin_drawing(own, crew.device)
        unseen = part_of(lesson.draw(), slice(0, UNSEEN))
        if crew.rank == 0:
            sheet = lesson.sheet(converted(unseen, torch.float32))
            write_png(self.folder / f"{lesson.name}-drawn.png", sheet)
        pool = Pool(lesson.room)
        each = lesson.batch // crew.count
        due = first = self.step
        began = saved = time.time()
        while self.step < lesson.steps:
            if self.step >= due:
                over = crew.agrees(time.time() > until)
                if over or time.time() > saved + CHECKPOINT_S:
                    self.save()
                    saved = time.time()
                if over:
                    return False
                drawn = lesson.draw()
                pool.add(drawn)
                # Some draw more rows than others; all must draw again at the same step.
                due += max(1, crew.least(lesson.shows * len(drawn.planes) // each))
            parts = self.one_step(converted(lesson.shown(pool.some(each)), torch.float32))
            if self.step % LOG_STEPS == 0 or self.step == lesson.steps:
                pace = (time.time() - began) / (self.step - first) * 1000
                self.say(f"{lesson.name} {self.step}, {pace:.1f} ms a step: {written(parts)}")
            if self.step % UNSEEN_STEPS == 0 or self.step == lesson.steps:
                self.say(f"{lesson.name} {self.step}, average on unseen: {self.on_unseen(unseen)}")
        self.save()
        return True

    def one_step(self, rows):
        """One step down the loss of rows; returns its parts."""
        for group in self.optimiser.param_groups:
            group["lr"] = self.lesson.rate * rate_at(self.step / self.lesson.steps)
        parts = self.taught(rows)
        self.optimiser.zero_grad(set_to_none=True)
        sum(parts.values()).backward()
        nn.utils.clip_grad_norm_(self.network.parameters(), LONGEST_GRADIENT)
        self.optimiser.step()
        follow(self.average, self.network)
        self.step += 1
        return parts

    @torch.no_grad()
    def on_unseen(self, unseen):
        """Parts of the average's loss on rows that nothing is learned from."""
        rows = converted(unseen, torch.float32)
        parts = self.lesson.losses(self.average.logits(rows.planes), rows)
        return written(parts)

    def write(self):
        """Writes what the network answers about pictures new to it, then the weights file."""
        if self.crew.rank > 0:
            return
        rows = converted(part_of(self.lesson.draw(), slice(0, 48)), torch.float32)
        with torch.no_grad():
            answers = self.average(rows.planes)
        write_png(self.folder / f"{self.lesson.name}-answers.png", self.lesson.sheet(rows, answers))
        half_written = self.weights.with_suffix(".half")
        write_onnx(self.average, self.lesson, half_written)
        half_written.replace(self.weights)
