# SPDX-License-Identifier: GPL-3.0-or-later
"""A record book checked by catalog/book/check.py, which follows docs/book.md with Python's own library and openssl, beside the
program's own verification."""
import pathlib
import sqlite3
import subprocess
import sys
import tempfile

from outside import check

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
READER = "check.py of every proof: Python's own library and openssl"
script = (root / "catalog/book/check.py").read_text(encoding="utf-8")


def run(*command):
    return subprocess.run([str(c) for c in command], capture_output=True, text=True)


with tempfile.TemporaryDirectory() as folder:
    path = pathlib.Path(folder)
    (path / "check.py").write_text(script, encoding="utf-8")
    (path / "owner").write_text("the owner of it\n")
    (path / "welder").write_text("a welder, torch\n")
    book = path / "shop.book"

    def made(*command):
        result = run(program, "book", *command)
        assert result.returncode == 0, result.stderr

    made("new", book, "--owner", "O1", "--stamp", "OW", "--secret-file", path / "owner")
    made("person", book, "--by", "O1", "--id", "W1", "--stamp", "WW", "--role", "welder", "--secret-file", path / "owner",
         "--new-secret-file", path / "welder")
    for i, payload in enumerate(['{"frame":"F1","weld":"W33","amperes":55.5,"note":"quoted \\" and back\\\\slash, line\\nfeed, \\u20ac, \\u0001","reason":"no frame yet"}',
                                 '{"frame":"F1","weld":"W34","gap_mm":1e-7,"power_w":1e-30,"volts":1234.5678901,"reason":"no frame yet"}']):
        (path / "payload").write_text(payload, encoding="utf-8")
        made("add", book, "--by", "W1", "--kind", "weld", "--payload", path / "payload", "--secret-file", path / "welder")
    good = run(sys.executable, path / "check.py", book)
    assert good.returncode == 0 and good.stdout.startswith("all 4 entries hold"), good.stdout + good.stderr
    check("entries of a good book found whole, of 4", int(good.stdout.split()[1]), 4, 0, READER, "exact")
    head = good.stdout.split()[-1]
    assert run(program, "book", "verify", book, "--head", head).returncode == 0

    for change in ("UPDATE entry SET payload = replace(payload, '55.5', '54.5')",
                   "UPDATE entry SET author = 'O1' WHERE seq = 3",
                   "UPDATE entry SET signature = (SELECT signature FROM entry WHERE seq = 4) WHERE seq = 3",
                   "DELETE FROM entry WHERE seq = 2"):
        copy = path / "copy.book"
        with sqlite3.connect(book) as source, sqlite3.connect(copy) as target:
            source.backup(target)
            target.execute(change)
        refused = 0
        for verdict in (run(sys.executable, path / "check.py", copy), run(program, "book", "verify", copy)):
            refused += verdict.returncode == 1
        check(f"refusals of a book after {change.split(' WHERE')[0]}", refused, 2, 0, READER, "exact")
        copy.unlink()
