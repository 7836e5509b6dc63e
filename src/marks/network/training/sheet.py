"""Pictures of what is learned, to be looked at."""

import struct
import zlib

import torch
from torch.nn import functional

#: Pictures on a sheet, and how many beside one another.
MOST = 24
ACROSS = 6


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


def sheet_of(pictures, shown):
    """Pictures (count, 3, side, side), each with maps of half its side below it, as one picture.

    shown: tensors (count, 3, side / 2, side / 2).
    """
    larger = [functional.interpolate(maps[:MOST], scale_factor=2) for maps in shown]
    columns = list(torch.cat((pictures[:MOST], *larger), dim=2))
    across = min(ACROSS, len(columns))
    rows = [
        torch.cat(columns[i : i + across], dim=2)
        for i in range(0, len(columns) - across + 1, across)
    ]
    return torch.cat(rows, dim=1).permute(1, 2, 0)
