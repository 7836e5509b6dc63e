"""Pictures of what is learned, to be looked at."""

import struct
import zlib


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
