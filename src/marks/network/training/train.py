"""From nothing to the weights files, on as many GPUs as there are.

    python train.py --out FOLDER

Run again with the same folder it goes on from its last checkpoint.
"""

import argparse
import math
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

import torch
from torch import distributed, multiprocessing

from entry_lesson import EntryLesson
from learn import Learner
from mark_lesson import MarkLesson
from rear_lesson import RearLesson

LESSONS = (MarkLesson, EntryLesson, RearLesson)
#: How the command ends where time was up before the work was done: 'temporary failure' of sysexits.h.
NOT_YET = 75
#: What `--trial` does instead of the plan.
TRIAL = {"steps": 6, "batch": 8, "scenes": 4, "room": 64}


@dataclass
class Crew:
    """The processes that learn together, one per GPU, as one of them sees them."""

    rank: int
    count: int
    device: str
    on_gpu: bool

    def agrees(self, mine):
        """What the first process thinks."""
        return bool(self.shared(float(mine), lambda told: distributed.broadcast(told, 0)))

    def least(self, mine):
        """The least of what all processes have, a whole number."""
        return int(self.shared(
            float(mine), lambda told: distributed.all_reduce(told, distributed.ReduceOp.MIN)
        ))

    def shared(self, mine, how):
        """A number after all processes have spoken."""
        if self.count == 1:
            return mine
        told = torch.tensor(mine, device=self.device)
        how(told)
        return told.item()


def work(rank, count, options, meeting):
    """One process: teaches the networks, one after the other, as far as it gets."""
    on_gpu = torch.cuda.is_available()
    crew = Crew(rank, count, f"cuda:{rank}" if on_gpu else "cpu", on_gpu)
    if on_gpu:
        torch.cuda.set_device(rank)
        torch.backends.cudnn.allow_tf32 = True
        torch.backends.cudnn.benchmark = True
    if count > 1:
        distributed.init_process_group(
            "nccl" if on_gpu else "gloo", init_method=meeting, rank=rank, world_size=count
        )
    until = options.started + 60 * options.minutes
    trial = TRIAL if options.trial else {}
    for kind in LESSONS:
        if kind.name not in options.only:
            continue
        lesson = kind(**{"steps": getattr(options, f"{kind.name}_steps"), **trial})
        learner = Learner(lesson, crew, options.out, options.seed)
        if learner.weights.exists():
            continue
        if not learner.learn(until):
            break
        learner.write()
    if count > 1:
        distributed.barrier()
        distributed.destroy_process_group()


def main():
    """Command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--out", type=Path, required=True, help="folder of weights and checkpoints")
    parser.add_argument(
        "--minutes", type=float, default=math.inf,
        help=f"stop by then, with a checkpoint and exit code {NOT_YET}",
    )
    names = [kind.name for kind in LESSONS]
    parser.add_argument("--only", nargs="+", choices=names, default=names)
    for kind in LESSONS:
        parser.add_argument(f"--{kind.name}-steps", type=int, default=kind.steps)
    parser.add_argument("--seed", type=int, default=11)
    parser.add_argument("--processes", type=int, default=max(1, torch.cuda.device_count()))
    parser.add_argument("--trial", action="store_true", help="a few tiny steps, to see it all work")
    options = parser.parse_args()
    options.started = time.time()
    options.out.mkdir(parents=True, exist_ok=True)
    if options.processes == 1:
        work(0, 1, options, "")
    else:
        with tempfile.TemporaryDirectory() as folder:
            multiprocessing.spawn(
                work, (options.processes, options, f"file://{folder}/meeting"), options.processes
            )
    if not all((options.out / f"{kind.name}-network.onnx").exists() for kind in LESSONS if kind.name in options.only):
        print("Time was up: the same command goes on from here.", flush=True)
        sys.exit(NOT_YET)


if __name__ == "__main__":
    main()
