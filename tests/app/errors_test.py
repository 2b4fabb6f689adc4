# SPDX-License-Identifier: GPL-3.0-or-later
"""Broken inputs through the commands: each message points at the place, says what was found and what was expected, and the exit code tells
faulty input (3) from wrong usage (2) and from a machine that fails (4)."""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
program, root = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
sys.path.insert(0, str(root / "tests"))
import spelling  # noqa: E402

demo = root / "catalog/examples/orchard-trike"
place = pathlib.Path(tempfile.mkdtemp(prefix="seamwright-errors-"))
failed, ran, german, given = [], 0, {}, set()


def run(name, arguments, code, words, folder, absent=()):
    """The words in their order on standard error; those absent nowhere; nothing raw."""
    global ran
    ran += 1
    done = subprocess.run([program, *arguments], cwd=folder, capture_output=True, text=True, timeout=120)
    german[name] = subprocess.run([program, *arguments], cwd=folder, capture_output=True, text=True, timeout=120, env={**os.environ, "LC_ALL": "de_DE.UTF-8"})
    given.update(*(re.findall(r"[^\W\d_]{3,}", word) for word in arguments))
    said, at = done.stderr, 0
    faults = [] if done.returncode == code else [f"exit {done.returncode} for {code}"]
    for word in words:
        found = said.find(word, at)
        if found < 0:
            faults.append(f"no '{word}' there or out of order")
        at = max(at, found)
    if german[name].returncode != done.returncode or (said and german[name].stderr == said):
        faults.append("not so in German")
    faults += [f"'{word}' has no place there" for word in (*absent, "terminate", "what():", "std::", "basic_string", "filesystem error")
               if word in said]
    if faults:
        failed.append(f"{name}: {'; '.join(faults)}\n    {said.strip()}")


def job(name, file=None, old=None, new=None, write=None):
    """A copy of the demonstration with one passage of one file changed, or the whole file."""
    folder = place / name
    shutil.copytree(demo, folder)
    if file:
        path = folder / file
        if write is not None:
            path.write_bytes(write)
        else:
            content = path.read_text(encoding="utf-8")
            assert old in content, (name, old)
            path.write_text(content.replace(old, new, 1), encoding="utf-8")
            given.update(spelling.names_in(new))
    return folder


def line(folder, file, words):
    """Number of the first line with these words."""
    lines = (folder / file).read_text(encoding="utf-8", errors="replace").splitlines()
    return next(i for i, text in enumerate(lines, 1) if words in text)


def case(name, file, old, new, words, at=None, command=("solve", ".", "--case", "payload"), code=3, absent=()):
    folder = job(name.replace(" ", "-").replace("/", "-"), file, old, new)
    where = [f"{file}:{line(folder, file, at)}:"] if at else []
    run(name, command, code, where + list(words), folder, absent)


rate = ("rate", ".", "--method", "spectral")

# The design.
case("wall thicker than the tube", "design.toml", "wall_mm = 2\n", "wall_mm = 200\n", ["design.tube[rail].wall_mm", "200", "half of diameter_mm = 40"], "wall_mm = 200")
case("negative wall", "design.toml", "wall_mm = 2\n", "wall_mm = -2\n", ["tube[rail].wall_mm", "-2", "above 0"], "wall_mm = -2")
case("nan", "design.toml", "wall_mm = 2\n", "wall_mm = nan\n", ["tube[rail].wall_mm", "nan", "finite"], "wall_mm = nan")
case("infinite", "design.toml", "wall_mm = 2\n", "wall_mm = inf\n", ["tube[rail].wall_mm", "inf", "finite"], "wall_mm = inf")
case("misspelt key", "design.toml", "wall_mm = 2\n", "wal_mm = 2\n", ["unknown key wal_mm", "did you mean wall_mm"], "wal_mm", absent=("missing",))
case("unit forgotten", "design.toml", "diameter_mm = 40", "diameter = 40", ["unknown key diameter", "did you mean diameter_mm"], "diameter = 40", absent=("missing",))
case("another unit", "design.toml", "diameter_mm = 40", "diameter_cm = 4", ["unknown key diameter_cm", "did you mean diameter_mm"], "diameter_cm", absent=("missing",))
case("key missing", "design.toml", "diameter_mm = 40\n", "", ["tube[rail].diameter_mm", "missing", "expected"])
case("key too many", "design.toml", "wall_mm = 2\n", "wall_mm = 2\ncolour = 3\n", ["unknown key colour", "known here", "wall_mm"], "colour")
case("text for a number", "design.toml", "wall_mm = 2\n", "wall_mm = \"two\"\n", ["wall_mm", "\"two\"", "expected", "wheelbase"], "\"two\"")
case("truth for a number", "design.toml", "wall_mm = 2\n", "wall_mm = true\n", ["wall_mm", "true", "a number"], "= true")
case("list for a number", "design.toml", "wall_mm = 2\n", "wall_mm = [2]\n", ["wall_mm", "a list", "a number"], "[2]")
case("table for a number", "design.toml", "wall_mm = 2\n", "wall_mm = { a = 2 }\n", ["wall_mm", "a table", "a number"], "{ a = 2 }")
case("date for a number", "design.toml", "wall_mm = 2\n", "wall_mm = 2025-03-10\n", ["wall_mm", "a date", "a number"], "2025-03-10")
case("number for a text", "design.toml", "steel = \"25CrMo4+N\"", "steel = 4", ["tube[rail].steel", "4", "text"], "steel = 4")
case("decimal comma", "design.toml", "wall_mm = 2\n", "wall_mm = 2,5\n", [], "2,5")
case("unknown parameter", "design.toml", "\"half_deck\", \"deck_z\"]", "\"half_dek\", \"deck_z\"]", ["node[A.L].position_mm", "half_dek", "expected half_deck"], "half_dek")
case("broken expression", "design.toml", "\"half_deck\", \"deck_z\"]", "\"half_deck +\", \"deck_z\"]", ["node[A.L].position_mm", "half_deck +", "expected"], "half_deck +")
case("division by zero", "design.toml", "\"half_deck\", \"deck_z\"]", "\"half_deck / 0\", \"deck_z\"]", ["position_mm", "half_deck / 0", "finite"], "/ 0")
case("parameter of itself", "design.toml", "wheelbase = 1250", "wheelbase = \"wheelbase + 1\"", ["design.parameters.wheelbase", "wheelbase + 1", "expected"], "wheelbase = \"")
case("two coordinates", "design.toml", "[800, \"half_deck\", \"deck_z\"]", "[800, \"half_deck\"]", ["node[A.L].position_mm", "a list", "[x, y, z]"], "[800, \"half_deck\"]")
case("unknown steel", "design.toml", "steel = \"25CrMo4+N\"", "steel = \"25CrMo4\"", ["tube[rail].steel", "25CrMo4", "25CrMo4+N"], "steel = \"25CrMo4\"")
case("unknown tube of a member", "design.toml", "tube = \"rail\"", "tube = \"rial\"", ["member[", "].tube", "rial", "rail"], "\"rial\"")
case("doubled id", "design.toml", "id = \"spine\"", "id = \"rail\"", ["tube[rail].id", "rail", "twice"])
case("doubled key", "design.toml", "wall_mm = 2\n", "wall_mm = 2\nwall_mm = 3\n", ["wall_mm"], "wall_mm = 3")
case("doubled id by mirroring", "design.toml", "id = \"A.L\"\n", "id = \"A\"\n", ["mirrored twin", "A"], "id = \"A\"")
case("mirrored member to nowhere", "design.toml", "id = \"C.L\"\n", "id = \"C.X\"\n", ["C.X", "mirrored twin"], "C.X")
case("bad id", "design.toml", "id = \"A.L\"\n", "id = \"A L\"\n", ["node.id", "A L", "letters"], "A L")
case("misspelt kind of table", "design.toml", "[[node]]\nid = \"A.L\"", "[[nod]]\nid = \"A.L\"", ["unknown key nod", "did you mean node"])
case("unknown format", "design.toml", "seamwright.design/1", "seamwright.design/9", ["design.format", "seamwright.design/9", "seamwright.design/1"], "design/9")
case("duty as a design", "design.toml", "seamwright.design/1", "seamwright.duty/1", ["design.format", "seamwright.duty/1", "seamwright.design/1"], "duty/1")
case("weld at a wrong node", "design.toml", "kind = \"tube-tee\"", "kind = \"tube-te\"", ["joint[", "].kind", "tube-te"], "\"tube-te\"")
case("table not closed", "design.toml", "[parameters]", "[parameters", [], "[parameters")

# The duty.
duty = ("rate", ".", "--method", "spectral")
case("misspelt rider", "duty.toml", "mass_kg = 80", "mas_kg = 80", ["duty.rider", "unknown key mas_kg", "did you mean mass_kg"], "mas_kg", duty, absent=("missing",))
case("misspelt optional key", "duty.toml", "lateral_frequency_hz = 2", "lateral_frequncy_hz = 2", ["lateral_frequncy_hz", "did you mean lateral_frequency_hz"], "lateral_frequncy_hz", duty)
case("shares beyond one", "duty.toml", "saddle_share = 0.65", "saddle_share = 0.75", ["duty.rider.saddle_share", "sum to 1"], "0.75", duty)
case("speed in a nested table", "duty.toml", "distance_km = 0.4\nspeed_kmh = 10", "distance_km = 0.4\nspeed_kmh = 1000", ["duty.trip.leg[lane-out].speed_kmh", "1000", "1 to 60"], "speed_kmh = 1000", duty)
case("unknown road of a leg", "duty.toml", "road = \"brick-lane\"", "road = \"brik-lane\"", ["leg[lane-out].road", "brik-lane", "brick-lane"], "brik-lane", duty)
case("unknown manoeuvre of a leg", "duty.toml", "per_km = { bend = 4,", "per_km = { bent = 4,", ["leg[lane-out].per_km", "bent", "bend"], "bent", duty)
case("rate beyond reach", "duty.toml", "per_km = { bend = 4,", "per_km = { bend = 40000,", ["per_km.bend", "40000", "0 to 10000"], "40000", duty)
case("unknown act", "duty.toml", "act = \"corner\"", "act = \"turn\"", ["manoeuvre[bend].act", "turn", "corner"], "\"turn\"", duty)
case("unknown rules", "duty.toml", "set = \"dnv\"", "set = \"dnw\"", ["duty.rules.set", "dnw", "dnv, en1993, iiw"], "dnw", duty)
case("misspelt table", "duty.toml", "[rider]", "[ridr]", ["unknown key ridr", "did you mean rider"], "[ridr]", duty, absent=("missing",))
case("misspelt rows", "duty.toml", "[[road]]\nid = \"tarmac\"", "[[rode]]\nid = \"tarmac\"", ["tarmac"], None, duty)
case("two riders", "duty.toml", "[rider]", "[[rider]]\nmass_kg = 1\n[[rider]]", ["duty.rider", "2 tables", "one table"], None, duty)
case("no seeds", "duty.toml", "seeds = [\"spring\", \"summer\", \"autumn\"]", "seeds = []", ["duty.rules.seeds", "0", "1 to 100"], "seeds = []", duty)
case("steered beyond the stop", "duty.toml", "steering_deg = 15", "steering_deg = 79", ["79"], None, duty)

# Files and folders.
empty = place / "empty"
empty.mkdir()
run("no such job", ("rate", "nosuch"), 3, ["nosuch", "no such file"], empty, absent=("duty.toml",))
run("a folder without a job", ("rate", "."), 3, ["design.toml", "no such file"], empty, absent=("duty.toml",))
run("no such duty", ("rate", str(demo), "--duty", "other.toml"), 3, ["other.toml", "no such file"], empty)
run("a folder as duty", ("rate", str(demo), "--duty", "."), 3, [".", "folder", "expected a file"], empty)
run("a file as folder", ("rate", str(demo / "duty.toml" / "x")), 3, ["duty.toml/x", "no such file"], empty)
run("empty design", ("solve", "."), 3, ["design.toml", "empty"], job("empty-design", "design.toml", write=b""))
run("no text", ("solve", "."), 3, ["design.toml:1:", "UTF-8"], job("no-text", "design.toml", write=b"\xff\xfe\x00"))
bytes_of = (demo / "design.toml").read_bytes()
run("BOM", ("solve", ".", "--case", "payload"), 0, [], job("bom", "design.toml", write=b"\xef\xbb\xbf" + bytes_of))
run("CRLF", ("solve", ".", "--case", "payload"), 0, [], job("crlf", "design.toml", write=bytes_of.replace(b"\n", b"\r\n")))
if os.geteuid() != 0:
    locked = job("locked")
    (locked / "design.toml").chmod(0)
    run("unreadable", ("solve", "."), 3, ["design.toml", "permission"], locked)
    (locked / "design.toml").chmod(0o600)

# What is named on the command line is sought in the job, and not blamed on its files.
here = job("as-it-is")
run("no such weld", (*rate, "--weld", "W999"), 3, ["W999"], here, absent=("design.toml",))
run("a side forgotten", (*rate, "--weld", "W01"), 3, ["W01", "W01.L, W01.R"], here, absent=("W41", "design.toml"))
run("no such weld to improve", ("suggest", ".", "--weld", "W01"), 3, ["W01.L, W01.R"], here, absent=("design.toml",))
run("no such weld to draw", ("plot", "joint", ".", "--weld", "W01", "--out", "x.svg"), 3, ["W01.L, W01.R"], here, absent=("design.toml",))
run("no such case", ("solve", ".", "--case", "none"), 3, ["none", "payload"], here, absent=("design.toml:",))
run("no such channel", ("solve", ".", "--channel", "none"), 3, ["none", "standing"], here)
run("no such procedure", ("sheet", "procedure", ".", "--procedure", "TIG", "--out", "x.pdf"), 3, ["TIG"], here)
run("no such figure", ("figure", "sn-lif"), 3, ["sn-lif", "sn-life"], here)
run("no such parameter", ("figure", "sn-life", "curv=F"), 3, ["curv", "curve"], here)
run("no curve at all", ("figure", "sn-life", "range_mpa=100"), 3, ["curve or slope"], here)
run("no such kind", ("catalog", "curve"), 3, ["curve", "curves"], here)
run("no such command", ("rat",), 2, [], here)

# Tables.
def table(name, file, content, arguments, words, absent=()):
    folder = place / name.replace(" ", "-")
    folder.mkdir()
    (folder / file).write_bytes(content)
    given.update(spelling.names_in(content.decode(errors="replace")))
    run(name, arguments, 3, words, folder, absent)


inspect = ("inspect", str(demo), "--measured", "m.csv")
head = b"weld,imperfection,value_mm\n"
table("weld of a table", "m.csv", head + b"W33,throat,1.8\nW01,throat,1.5\n", inspect, ["m.csv:3:", "W01", "W01.L, W01.R"], ("design.toml",))
table("weld as built", "m.csv", head + b"W01,throat,1.5\n", (*rate[:1], str(demo), "--as-built", "m.csv"), ["m.csv:2:", "W01.L, W01.R"], ("design.toml",))
table("value no number", "m.csv", head + b"W33,throat,wide\n", inspect, ["m.csv:2:", "value_mm", "wide", "a number"])
table("value out of range", "m.csv", head + b"W33,throat,-1\n", inspect, ["m.csv:2:", "value_mm", "-1", "0 to 1000"])
table("decimal comma moves cells", "m.csv", head + b"W33,throat,1,8\n", inspect, ["m.csv:2:", "4", "3", "semicolons"])
table("wrong column", "m.csv", b"weld,imperfection,value\nW33,throat,1.8\n", inspect, ["m.csv:1:", "value_mm", "value"])
table("column too many", "m.csv", b"weld,imperfection,value_mm,colour\nW33,throat,1.8,red\n", inspect, ["m.csv:1:", "colour", "weld"])
table("column twice", "m.csv", b"weld,imperfection,value_mm,value_mm\nW33,throat,1.8,2\n", inspect, ["m.csv:1:", "value_mm", "twice"])
table("unknown imperfection", "m.csv", head + b"W33,thickness,1.8\n", inspect, ["m.csv:2:", "imperfection", "thickness", "expected"])
table("empty table", "m.csv", b"", inspect, ["m.csv", "empty"])
table("names alone", "m.csv", head, inspect, ["m.csv", "empty"])
table("zero byte", "m.csv", head + b"W33,throat,\x001\n", inspect, ["m.csv:2:", "UTF-8"])
run("no such table", inspect, 3, ["m.csv", "no such file"], empty, absent=("design.toml",))
run("folder as table", (*inspect[:-1], "."), 3, ["folder", "expected a file"], empty)
table("BOM in a table", "m.csv", b"\xef\xbb\xbf" + head + b"W33,throat,wide\n", inspect, ["m.csv:2:", "wide"])
table("CRLF in a table", "m.csv", head.replace(b"\n", b"\r\n") + b"W33,throat,wide\r\n", inspect, ["m.csv:2:", "'wide'"])
table("count without column", "s.csv", b"t,a\n0,1\n", ("count", "s.csv", "--column", "b"), ["s.csv:1:", "b"])
table("count of words", "s.csv", b"t,a\n0,1\n1,x\n", ("count", "s.csv", "--column", "a"), ["s.csv:3:", "a", "'x'", "a number"])
table("count of a doubled column", "s.csv", b"a,a\n0,1\n", ("count", "s.csv", "--column", "a"), ["s.csv:1:", "a", "twice"])
table("unknown outcome", "t.csv", b"stress_range_mpa,cycles,outcome\n100,1e5,broke\n", ("fit", "t.csv"), ["t.csv:2:", "outcome", "broke", "failed or runout"])
table("gauge beyond the plan", "g.csv", b"gauge,channel,microstrain\n9,corner,10\n", ("gauges", str(demo), "--measured", "g.csv"), ["g.csv:2:", "gauge", "9", "1 to 6"])
table("channel not of the plan", "g.csv", b"gauge,channel,microstrain\n1,cornr,10\n", ("gauges", str(demo), "--measured", "g.csv"), ["g.csv:2:", "channel", "cornr"])
table("returned weld unknown", "r.toml", b"format = \"seamwright.returns/1\"\n[[cracked]]\nweld = \"W01\"\nkm = 100\n", ("calibrate", str(demo), "--returns", "r.toml"), ["r.toml:3:", "returns.cracked.weld", "W01", "W01.L, W01.R"], ("design.toml",))

# Other files of a job.
case("rig node", "rig.toml", "node = \"RW\"", "node = \"RX\"", ["rig.case.fixing.node", "RX", "RW"], "\"RX\"", ("rig", "."))
case("rig without cases", "rig.toml", "[[case]]", "[[cas]]", [], None, ("rig", "."))
case("certificate date", "certificates.toml", "tested = \"2025-12-01\"", "tested = \"2025-13-01\"", ["tested", "2025-13-01", "a day as"], "2025-13-01", ("welders", "."))
case("misspelt certificate", "certificates.toml", "welder = \"W-A\"", "weldr = \"W-A\"", ["unknown key weldr", "did you mean welder"], "weldr", ("welders", "."), absent=("missing",))
case("procedure key", "procedures/bracket.toml", "process = \"141\"", "proces = \"141\"", ["proces", "did you mean process"], "proces = ", ("procedure", "check", "procedures/bracket.toml"), absent=("missing",))
case("sweep key", "walls.sweep.toml", "values", "valus", ["valus", "values"], "valus", ("sweep", "walls.sweep.toml", "--csv", "x.csv"), absent=("missing",))

# Slips of somebody who begins: each names what was meant.
begun = place / "begun"
begun.mkdir()
shutil.copytree(demo, begun / "trike")
(begun / "shop.book").write_text("no book", encoding="utf-8")
slips = [
    ("option misspelt", ("rate", "trike", "--wled", "W33"), 2, ["Unknown option --wled", "--weld"]),
    ("option misspelt beside a needed one", ("recall", "--heet", "H-1", "--book", "shop.book"), 2, ["Unknown option --heet", "--heat"]),
    ("no option of several", ("recall", "--book", "shop.book"), 2, ["One of these options is needed", "--heat, --lot"]),
    ("one word too many", ("rate", "trike", "trike"), 2, ["Not expected here: trike", "quotation marks"]),
    ("nothing behind a command", ("rate",), 2, ["job is missing; expected: "]),
    ("no second design", ("compare", "trike"), 2, ["is missing; expected: "]),
    ("job misspelt", ("rate", "trik"), 3, ["trik", "no such file", "Nearest in that folder: trike"]),
    ("procedure misspelt", ("procedure", "check", "trike/procedures/braket.toml"), 3, ["braket.toml", "Nearest in that folder: bracket.toml"]),
    ("folder misspelt", ("procedure", "check", "trike/procedure/bracket.toml"), 3, ["There is no folder trike/procedure"]),
    ("folder in place of a file", ("procedure", "check", "trike"), 3, ["expected a file", "The folder holds: ", "design.toml"]),
    ("rule set misspelt", ("rate", "trike", "--rules", "dvn"), 2, ["--rules", "dvn", "dnv, en1993, iiw, all"]),
    ("German day", ("welders", "trike", "--on", "12.11.2026"), 2, ["--on", "12.11.2026", "year-month-day"]),
    ("days exchanged", ("welders", "trike", "--from", "2026-12-01", "--to", "2026-11-01"), 2, ["--to", "exchange"]),
    ("figure without unit", ("figure", "cooling-time", "heat=0.3", "thickness_mm=2"), 3, ["no parameter heat", "nearest: heat_kj_mm"]),
    ("figure with words", ("figure", "cooling-time", "heat_kj_mm=abc", "thickness_mm=2"), 3, ["heat_kj_mm", "abc", "a number such as 0.9, 0,9"]),
    ("figure incomplete", ("figure", "cooling-time", "heat_kj_mm=0.3"), 3, ["thickness_mm is missing", "thickness_mm=VALUE"]),
    ("curve that is not there", ("catalog", "curves", "TT"), 3, ["TT", "nearest: dnv.air.B1", "…"]),
    ("joint that is not there", ("joint", "trike", "W999"), 2, ["no weld or node W999", "nearest: "]),
    ("no book", ("trace", "OT-0001", "--book", "shop.bok"), 3, ["shop.bok", "book new makes one", "Nearest in that folder: shop.book"]),
    ("a text as book", ("gaps", "OT-0001", "--book", "shop.book"), 3, ["shop.book is no record book", "book new"]),
]
for name, arguments, code, words in slips:
    run(name, arguments, code, words, begun)

# The machine.
run("nowhere to write", ("plot", "frame", str(demo), "--out", str(place / "none" / "x.svg")), 2, ["x.svg", "there is no folder"], empty)

given |= {"iiw", "miner", "scf", "buckling", "section", "preheat", "misalignment", "job", "surfaces"}  # names of a rule set, of figures, of an argument and of a kind
# No word of the German sentences is another language's, but for keys, ids and what was typed.
for file in [*demo.rglob("*.toml"), *demo.rglob("*.csv")]:
    given |= spelling.names_in(file.read_text(encoding="utf-8"))
for name, done in german.items():
    words = spelling.words_in([done.stderr]) - given
    for word in sorted(spelling.unknown(words, "german") - spelling.allowed("german")):
        failed.append(f"{name}: '{word}' is no German\n    {done.stderr.strip()}")

shutil.rmtree(place)
print("\n".join(failed))
print(f"{ran} broken inputs, {len(failed)} badly told")
sys.exit(1 if failed or ran < 95 else 0)
