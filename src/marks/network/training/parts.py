"""Parts of what is kept as one tensor per field, a row per item."""

import torch


def part_of(fields, chosen):
    """The chosen rows of every field of a dataclass."""
    return type(fields)(**{name: field[chosen] for name, field in vars(fields).items()})


def converted(fields, dtype):
    """Every field of a dataclass as numbers of another type."""
    return type(fields)(**{name: field.to(dtype) for name, field in vars(fields).items()})


def joined(batches):
    """The rows of several dataclasses of one kind as one."""
    names = vars(batches[0])
    return type(batches[0])(
        **{name: torch.cat([getattr(batch, name) for batch in batches]) for name in names}
    )


class Pool:
    """The last so many rows that were added; in half precision, which pictures can do with."""

    def __init__(self, room):
        self.room = room
        self.filled = 0
        self.next = 0
        self.fields = None

    def add(self, rows):
        """Puts rows where the oldest were."""
        if self.fields is None:
            self.fields = type(rows)(**{
                name: torch.zeros(self.room, *field.shape[1:], dtype=torch.float16, device=field.device)
                for name, field in vars(rows).items()
            })
        for name, field in vars(rows).items():
            places = (torch.arange(len(field), device=field.device) + self.next) % self.room
            getattr(self.fields, name)[places] = field.half()
        self.filled = min(self.room, self.filled + len(field))
        self.next = (self.next + len(field)) % self.room

    def some(self, count):
        """Rows at random."""
        device = next(iter(vars(self.fields).values())).device
        return part_of(self.fields, torch.randint(self.filled, (count,), device=device))
