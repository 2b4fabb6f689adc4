# Checks a record book, or the proof of one frame, without the program that wrote it, with Python 3 and openssl:
#   python3 check.py BOOK     a whole book
#   python3 check.py          the proof in the folder in which this file lies
# Every entry must be as its author signed it, by somebody whose role may sign it, and in its place: a frame's entries each name the one
# before, so that none is left out. What holds and today's rules would refuse is told as well. An end that was cut off shows only by
# comparison with a head that was kept elsewhere.
import datetime, hashlib, json, pathlib, sqlite3, subprocess, sys, tempfile

# Who may sign what, by first letters: welder, engineer, inspector, auditor; the owner too, but where O stands.
SIGNERS = {
    "person": "", "revoke": "", "role": "", "key": "", "erase": "", "certificate": "e", "confirmation": "e",
    "inspector-certificate": "e", "coordinator": "", "shop": "", "qualification": "e", "procedure": "e", "design": "e", "rating": "e", "lot": "wei",
    "filler": "wei", "gas": "wei", "machine": "ei", "tool": "ei", "calibration": "ei", "frame": "we", "weld": "we", "repair": "we",
    "inspection": "i", "nonconformity": "wei", "disposition": "e", "exception": "eO", "release": "ei", "shipment": "ei",
    "field-report": "wei", "production-test": "ei", "quality-statement": "e", "audit-finding": "aO", "corrective-action": "ei", "audit-closing": "aO", "correction": "wei", "void": "wei", "format": "weia", "verification": "weia", "note": "wei"}
RANK = ["auditor", "welder", "inspector", "engineer", "owner"]
text = lambda value: json.dumps(value, ensure_ascii=False)
sha256 = lambda whole: hashlib.sha256(whole.encode()).hexdigest()


def signed(key, message, signature):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        # An Ed25519 public key as openssl reads it: a fixed heading and the 32 bytes.
        (path / "key.der").write_bytes(bytes.fromhex("302a300506032b6570032100" + key))
        (path / "message").write_text(message)
        (path / "signature").write_bytes(bytes.fromhex(signature))
        return subprocess.run(["openssl", "pkeyutl", "-verify", "-pubin", "-inkey", path / "key.der", "-keyform", "DER", "-rawin",
                               "-in", path / "message", "-sigfile", path / "signature"], capture_output=True).returncode == 0


def record(payload):
    try:
        told = json.loads(payload)
    except (ValueError, RecursionError):
        told = None
    return told if isinstance(told, dict) else {}


def hashes(book, e):
    """What was signed, and the entry's own hash."""
    said = '{"author":%s,"book":%s,"kind":%s,"payload":%s,' % (text(e["author"]), text(book), text(e["kind"]), e["payload"])
    if e.get("seen") is None:  # the form of older programs: the entry as a whole is signed
        own = sha256("seamwright-entry-1\n" + said + '"prev":%s,"schema":1,"seq":%d,"time":%s}' % (text(e["prev"]), e["seq"], text(e["time"])))
        return own, own
    statement = sha256("seamwright-statement-2\n" + said + '"schema":2,"seen":%s,"time":%s}' % (text(e["seen"]), text(e["time"])))
    return statement, sha256("seamwright-entry-2\n" + '{"links":%s,"prev":%s,"seq":%d,"signature":%s,"statement":%s}' % (
        e["links"], text(e["prev"]), e["seq"], text(e["signature"]), text(statement)))


def inner(e):
    """Kind and content in the end: of a correction, those of what it corrects."""
    told = record(e["payload"])
    if e["kind"] == "correction":
        return str(told.get("kind")), told["payload"] if isinstance(told.get("payload"), dict) else {}
    return e["kind"], told


def sections(e):
    """Sections of a production test: with the root fused, with the root open."""
    said = inner(e)[1]
    return tuple(max(0, n) if isinstance(n, (int, float)) else 0 for n in (said.get("fused_sections"), said.get("open_sections")))


def frames_of(e):
    kind, said = inner(e)
    named = said.get("serial") if kind == "frame" else said.get("frames") if kind == "shipment" else said.get("frame")
    return {name for name in (named if isinstance(named, list) else [named]) if isinstance(name, str)}


class State:
    """What the entries so far say."""
    def __init__(self):
        self.keys, self.roles, self.revoked, self.entries, self.gone, self.frames = {}, {}, set(), {}, set(), {}
        self.welds, self.releases, self.methods, self.shop, self.findings, self.asking, self.tests = {}, {}, {}, [], {}, {}, {}

    def take_in(self, e):
        self.entries[e["seq"]] = e
        kind, said = inner(e)
        lists = {"weld": (self.welds, "frame"), "repair": (self.welds, "frame"), "release": (self.releases, "frame"),
                 "inspector-certificate": (self.methods, "person"), "audit-finding": (self.findings, "id"), "production-test": (self.tests, "procedure")}
        if kind in lists:
            told, key = lists[kind]
            told.setdefault(said.get(key), []).append(e)
        if kind == "shop":
            self.shop.append(e)
        if (kind in ("frame", "weld", "repair", "nonconformity", "audit-finding") or (kind == "inspection" and said.get("result") != "accept") or
                (kind == "field-report" and said.get("cracked") is True)):
            self.asking.setdefault(said.get("serial" if kind == "frame" else "frame"), []).append(e)

    def note_person(self, e):
        told = record(e["payload"])
        if e["kind"] in ("person", "key"):
            self.keys[told.get("id")] = told.get("public_key", "")
        if e["kind"] in ("person", "role"):
            self.roles[told.get("id")] = told.get("role", "")
        if e["kind"] == "revoke":
            self.revoked.add(told.get("id"))

    def standing(self, entries):
        return [e for e in entries if e["seq"] not in self.gone]

    def welded(self, frame, person, weld=""):
        return any((not weld or inner(e)[1].get("weld") == weld) and (inner(e)[1].get("welder") or e["author"]) == person
                   for e in self.standing(self.welds.get(frame, [])))

    def doubted(self, frame):
        """Number of the newest production test with an open root that stands next behind a weld of the frame; 0: none."""
        made = {inner(e)[1].get("weld"): e for e in self.standing(self.welds.get(frame, []))}
        newest = 0
        for e in made.values():
            cut = [t for t in self.standing(self.tests.get(inner(e)[1].get("procedure"), [])) if t["seq"] > e["seq"] and sections(t) != (0, 0)]
            if cut and sections(cut[0])[1] > 0:
                newest = max(newest, cut[0]["seq"])
        return newest

    def shop_of_one(self):
        said = self.standing(self.shop)
        return bool(said) and inner(said[-1])[1].get("people") == "one"


def may_sign(role, kind):
    letters = SIGNERS.get(kind)
    return letters is not None and role in RANK and ("O" not in letters if role == "owner" else role[0] in letters)


def refused(e, state):
    """What today's rules would refuse, as far as the entries alone can tell; gaps need the frozen files."""
    kind, said = inner(e)
    person, frame, told = e["author"], said.get("frame"), record(e["payload"])
    try:
        latest = str((datetime.datetime.strptime(e["time"], "%Y-%m-%dT%H:%M:%SZ") + datetime.timedelta(hours=14)).date())
    except ValueError:
        latest = "9999"
        yield "its time is none"
    for key in ("on", "tested", "delivered"):
        if isinstance(said.get(key), str) and said[key] > latest:
            yield f"{key} lies ahead of it"
    old = state.entries.get(told.get("of")) if e["kind"] in ("correction", "void") else None
    if old and old["author"] != person:
        outranks = RANK.index(state.roles.get(person, "auditor")) > RANK.index(state.roles.get(old["author"], "owner"))
        if inner(old)[0] == "inspection" or not outranks:
            yield f"its author may not replace an entry of {old['author']}"
    if kind in ("weld", "repair") and not old and (said.get("welder") or person) != person:
        yield "it is not signed by the welder"
    gap = str(said.get("gap", "")).split(":")
    weld = said.get("weld", "") if kind != "exception" else gap[1] if len(gap) > 1 and state.welded(frame, person, gap[1]) else ""
    if kind in ("inspection", "exception", "disposition") and (weld or kind != "inspection") and not state.shop_of_one() and \
            state.welded(frame, person, weld):
        yield "its author welded what it judges"
    if kind == "inspection" and said.get("method") != "VT":
        levels = [c.get("level") for c in (inner(x)[1] for x in state.standing(state.methods.get(person, [])))
                  if c.get("method") == said.get("method") and str(c.get("tested")) <= str(said.get("on")) <= str(c.get("until"))]
        if not levels:
            yield f"its author holds no certificate for {said.get('method')}"
        elif not any(isinstance(level, (int, float)) and level >= 2 for level in levels):
            yield f"its author holds level 1 for {said.get('method')} and may not evaluate alone"
    if kind == "production-test" and said.get("welder") == person and not state.shop_of_one():
        yield "its author welded the piece"
    if old and inner(old)[0] == "production-test" and sections(old)[1] > 0 and not state.shop_of_one():
        stays = kind == "production-test" and sections(e)[1] >= sections(old)[1] and said.get("procedure") == inner(old)[1].get("procedure")
        if not stays and (old["author"] == person or state.roles.get(person) not in ("engineer", "owner")):
            yield "its author may not take back an open root"
    if kind == "shipment":
        for name in frames_of(e):
            released, asked = (max((x["seq"] for x in state.standing(of.get(name, []))), default=0) for of in (state.releases, state.asking))
            if released <= max(asked, state.doubted(name)):
                yield f"frame {name} was not released"
    if kind in ("corrective-action", "audit-closing"):
        raised = state.standing(state.findings.get(said.get("finding"), []))
        if not raised:
            yield "its audit finding is not in the book"
        elif kind == "audit-closing" and raised[0]["author"] != person:
            yield "its author did not raise that finding"


def check(book, entries, serial=None):
    """Faults and refusals; serial: entries are those of one frame and of people, else the whole book."""
    state, wrong, told, prev, count, form, placed = State(), [], [], "", 0, 0, set()
    for e in entries:
        count += 1
        fault = lambda what: wrong.append(f"entry {e['seq']} {what}")
        if serial is None and (e["seq"] != count or e["prev"] != prev):
            fault("does not continue the one before")
        statement, own = hashes(book, e)
        if own != e["hash"]:
            fault("is not what was hashed")
        if e["seq"] == 1:
            state.note_person(e)  # the first owner signs themself in
        author = e["author"]
        if author not in state.keys or author in state.revoked or not signed(state.keys[author], statement, e["signature"]):
            fault("is not signed by its author")
        if not may_sign(state.roles.get(author, ""), e["kind"]) or not may_sign(state.roles.get(author, ""), inner(e)[0]):
            fault("is signed by somebody whose role may not sign it")
        of = record(e["payload"]).get("of") if e["kind"] in ("correction", "void") else None
        old = state.entries.get(of)
        if of is not None and (old is None or of in state.gone):
            fault("replaces an entry that is not there, or was replaced before")
        elif old and not may_sign(state.roles.get(author, ""), inner(old)[0]):
            fault("replaces an entry that its author's role may not sign")
        about = frames_of(e) | (frames_of(old) if old else set())
        now = 1 if e.get("seen") is None else 2
        if now < form or (serial is None and (e["kind"] == "format") != (form == 1 and now == 2)):
            fault("has a form that does not follow that of the one before")
        form = now
        if now == 2:
            links = record(e["links"])
            if serial is None and set(links) != about or any(links.get(f) != state.frames.get(f, 0) for f in about if serial in (None, f)):
                fault("does not name the one before it on its frame: one was left out")
            if e["signature"] in placed:
                fault("stands there twice")
            placed.add(e["signature"])
            head = str(e["seen"]).split(":")
            known = state.entries.get(int(head[0])) if len(head) == 2 and head[0].isdigit() else None
            if serial is None and e["seq"] > 1 and (known is None or known["hash"] != head[1]):
                fault("names a head that is none of the book")
        for frame in about:
            state.frames[frame] = e["seq"]
        told += [f"entry {e['seq']} would be refused today: {why}" for why in refused(e, state)]
        if e["seq"] != 1:
            state.note_person(e)
        state.take_in(e)
        if old:
            state.gone |= {of} | ({e["seq"]} if e["kind"] == "void" else set())
        prev = e["hash"]
    return wrong, told, count, prev


def book_entries(path):
    db = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    db.row_factory = sqlite3.Row
    (book,) = db.execute("SELECT id FROM book").fetchone()
    placed = db.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'statement'").fetchone()[0]
    more = "s.seen, s.links FROM entry e LEFT JOIN statement s ON s.seq = e.seq" if placed else "NULL AS seen, NULL AS links FROM entry e"
    entries = [dict(row) for row in db.execute(f"SELECT e.*, {more} ORDER BY e.seq")]
    files = {row[0]: hashlib.sha256(row[1]).hexdigest() for row in db.execute("SELECT sha256, bytes FROM attachment")}
    return book, entries, [f"attached file {name} is another" for name, is_now in files.items() if name != is_now]


def proof_entries(here):
    proof = json.loads((here / "proof.json").read_text(encoding="utf-8"))
    wrong = [f"the file of entry {e['seq']} is missing" for e in proof["entries"] for file in [inner(e)[1].get("file")]
             if isinstance(file, dict) and file.get("sha256") not in proof["files"]]
    for digest, name in proof["files"].items():
        if hashlib.sha256((here / "files" / name).read_bytes()).hexdigest() != digest:
            wrong.append(f"{name} is not the file that was signed")
    return proof, wrong


if len(sys.argv) > 1:
    book, entries, wrong = book_entries(sys.argv[1])
    faults, told, count, head = check(book, entries)
    good = f"all {count} entries hold, head {count}:{head}"
else:
    proof, wrong = proof_entries(pathlib.Path(__file__).resolve().parent)
    faults, told, count, _ = check(proof["book"], proof["entries"], proof["serial"])
    owner = record(proof["entries"][0]["payload"]).get("public_key", "") if count else ""
    print(f"head of the book {proof['head']}\nkey of its owner {owner}: compare both with what was printed elsewhere")
    good = f"all {count} entries and {len(proof['files'])} files hold"
print("\n".join(told + (faults + wrong or [good])))
sys.exit(1 if faults or wrong or not count else 0)
