# SPDX-License-Identifier: GPL-3.0-or-later
"""pictures.py PROGRAM ROOT: the pictures of docs/pictures from the demonstration as it is rated today."""
import pathlib
import struct
import subprocess
import sys
import tempfile
import zlib

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
example, pictures = root / "catalog/examples/orchard-trike", root / "docs/pictures"


def run(*words, fine=(0,)):
    done = subprocess.run([str(w) for w in words], capture_output=True, text=True)
    if done.returncode not in fine:
        sys.exit(f"{' '.join(map(str, words))}: exit {done.returncode}\n{done.stderr}")


def pages(pdf, dots_per_inch):
    """Each page as (width, rows of bytes, three to a dot)."""
    with tempfile.TemporaryDirectory() as folder:
        run("pdftoppm", "-r", dots_per_inch, pdf, f"{folder}/p")
        for path in sorted(pathlib.Path(folder).glob("*.ppm")):
            kind, size, most, dots = path.read_bytes().split(b"\n", 3)
            width, height = map(int, size.split())
            assert kind == b"P6" and most == b"255" and len(dots) == 3 * width * height, path
            yield width, [dots[3 * width * y:3 * width * (y + 1)] for y in range(height)]


def png(path, width, rows):
    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, len(rows), 8, 2, 0, 0, 0)
    dots = zlib.compress(b"".join(b"\0" + row for row in rows), 9)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", dots) + chunk(b"IEND", b""))


with tempfile.TemporaryDirectory() as folder:
    pdf = f"{folder}/sheet.pdf"
    run(program, "sheet", "rating", example, "--out", pdf, fine=(0, 1))
    first, second, *_ = pages(pdf, 80)
    white = b"\xff" * (3 * 4)  # a gap between the pages
    png(pictures / "rating.png", first[0] + 4 + second[0], [a + white + b for a, b in zip(first[1], second[1])])
    run(program, "sheet", "procedure", example, "--weld", "W33", "--out", pdf, fine=(0, 1))
    page = next(pages(pdf, 70))
    png(pictures / "procedure-sheet.png", *page)
    run(program, "plot", "life", example, "--view", "side", "--out", pictures / "life.png", fine=(0, 1))
    run(program, "plot", "joint", example, "--weld", "W33", "--out", pictures / "joint.svg", fine=(0, 1))
run(program, "joint", example, "W22.L", "--picture", pictures / "seam.png")
print(*sorted(str(p.relative_to(root)) for p in pictures.glob("*.png")), sep="\n")
