# SPDX-License-Identifier: GPL-3.0-or-later
"""A flame graph of where a program's processor time goes, as SVG.

flame.py OUT.svg TITLE PROGRAM [ARGUMENT...]: runs the program under perf (package linux-perf, as root). It must be built with frame
pointers: CXXFLAGS=-fno-omit-frame-pointer cmake --preset release. Each bar is a function, as wide as its share of the samples, and
stands on its caller; names of templates are cut to what is ours.
"""
import html
import re
import subprocess
import sys
import tempfile

WIDTH, ROW, LEAST = 1000, 15, 1.5  # px; narrower bars are left out
COLOURS = {"rating": "#d9a441", "cycles": "#c4643d", "loads": "#7b9e59", "frame": "#5b8a9e", "sites": "#8f7bb0", "fatigue": "#b55c75", "": "#b9b4a6"}


def short(name):
    """seamwright::cycles::Rainflow::push<...>(...) as Rainflow::push; others by their last part."""
    name = re.sub(r"\(anonymous namespace\)::", "", name)
    depth, out = 0, []
    for c in name.replace("operator()", "call").replace("->", ""):
        if c in "<(":
            depth += 1
        elif c in ">)":
            depth -= 1
        elif depth == 0:
            out.append(c)
    parts = "".join(out).split()[-1] if "".join(out).split() else name
    return "::".join(parts.split("::")[-2:])


def room(name):
    found = re.search(r"seamwright::(\w+)::", name)
    return found.group(1) if found and found.group(1) in COLOURS else ""


def stacks(program):
    with tempfile.NamedTemporaryFile(suffix=".perf") as data:
        subprocess.run(["perf", "record", "-q", "-F", "499", "--call-graph", "fp", "-o", data.name, "--", *program], stdout=subprocess.DEVNULL, check=False)  # findings end with 1
        text = subprocess.run(["perf", "script", "-i", data.name, "-F", "ip,sym"], check=True, capture_output=True, text=True).stdout
    for block in text.split("\n\n"):
        frames = [line.strip().split(" ", 1)[-1] for line in block.splitlines() if line.strip()]
        frames = [f for f in reversed(frames) if not re.search(r"\[unknown\]|^_start|libc_start|start_thread|clone3|std::|^asm_|^exc_|_fault|^do_", f)]
        if frames:
            yield [(short(f), room(f)) for f in frames]


class Node:
    def __init__(self, name, home):
        self.name, self.home, self.count, self.above = name, home, 0, {}


def tree(all_stacks):
    root = Node("all", "")
    for stack in all_stacks:
        root.count += 1
        at = root
        for name, home in stack:
            if at.name == name:
                continue
            at = at.above.setdefault(name, Node(name, home))
            at.count += 1
    return root


def bars(node, x, depth, scale, out):
    width = node.count * scale
    if width < LEAST:
        return depth
    out.append((x, depth, width, node))
    top, at = depth, x
    for child in sorted(node.above.values(), key=lambda c: c.name):
        top = max(top, bars(child, at, depth + 1, scale, out))
        at += child.count * scale
    return top


def main():
    out_path, title, *program = sys.argv[1:]
    root = tree(stacks(program))
    drawn = []
    depth = bars(root, 0, 0, WIDTH / root.count, drawn)
    height = (depth + 1) * ROW + 30
    lines = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" font-family="sans-serif" font-size="10">',
             f'<title>{html.escape(title)}</title><rect width="{WIDTH}" height="{height}" fill="#fbfaf6"/>',
             f'<text x="6" y="16" font-size="13">{html.escape(title)}</text>']
    for x, row, width, node in drawn:
        y, share = height - (row + 1) * ROW - 2, 100 * node.count / root.count
        room_for = int(width / 5.4)
        label = node.name if len(node.name) <= room_for else node.name[:max(0, room_for - 1)] + "…" if room_for > 3 else ""
        lines.append(f'<g><title>{html.escape(node.name)}, {share:.1f} %</title><rect x="{x:.1f}" y="{y}" width="{width:.1f}" height="{ROW - 1}" '
                     f'fill="{COLOURS[node.home]}"/><text x="{x + 2:.1f}" y="{y + 11}">{html.escape(label)}</text></g>')
    lines.append("</svg>\n")
    with open(out_path, "w", encoding="utf-8") as out:
        out.write("\n".join(lines))


main()
