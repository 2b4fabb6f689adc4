# Checks the proof of one frame without the program that wrote it: python3 check.py, with openssl at hand.
# Shows that each entry is as its author signed it, that its author was admitted by whom they say, and that the
# attached files are those that were signed. That no entry was left out, only the whole book with its head can show.
import hashlib, json, pathlib, subprocess, sys, tempfile

here = pathlib.Path(__file__).resolve().parent
proof = json.loads((here / "proof.json").read_text(encoding="utf-8"))
text = lambda value: json.dumps(value, ensure_ascii=False)
wrong, keys, revoked, owner = [], {}, set(), ""


def signed(key, message, signature):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        # An Ed25519 public key as openssl reads it: a fixed heading and the 32 bytes.
        (path / "key.der").write_bytes(bytes.fromhex("302a300506032b6570032100" + key))
        (path / "message").write_text(message)
        (path / "signature").write_bytes(bytes.fromhex(signature))
        return subprocess.run(["openssl", "pkeyutl", "-verify", "-pubin", "-inkey", path / "key.der", "-keyform", "DER",
                               "-rawin", "-in", path / "message", "-sigfile", path / "signature"],
                              capture_output=True).returncode == 0


def record(payload):
    try:
        told = json.loads(payload)
    except (ValueError, RecursionError):
        told = None
    return told if isinstance(told, dict) else {}


for e in proof["entries"]:
    told = record(e["payload"])
    whole = ('{"author":%s,"book":%s,"kind":%s,"payload":%s,"prev":%s,"schema":1,"seq":%d,"time":%s}'
             % (text(e["author"]), text(proof["book"]), text(e["kind"]), e["payload"], text(e["prev"]), e["seq"], text(e["time"])))
    if hashlib.sha256(b"seamwright-entry-1\n" + whole.encode()).hexdigest() != e["hash"]:
        wrong.append(f"entry {e['seq']} is not what was hashed")
    if e["seq"] == 1:
        keys[told.get("id")] = owner = told.get("public_key", "")
    if e["author"] not in keys or e["author"] in revoked or not signed(keys[e["author"]], e["hash"], e["signature"]):
        wrong.append(f"entry {e['seq']} is not signed by its author")
    if e["kind"] in ("person", "key"):
        keys[told.get("id")] = told.get("public_key", "")
    if e["kind"] == "revoke":
        revoked.add(told.get("id"))
    said = told.get("payload") if e["kind"] == "correction" else told
    file = said.get("file") if isinstance(said, dict) else None
    if isinstance(file, dict) and file.get("sha256") not in proof["files"]:
        wrong.append(f"the file of entry {e['seq']} is missing")
for sha256, name in proof["files"].items():
    if hashlib.sha256((here / "files" / name).read_bytes()).hexdigest() != sha256:
        wrong.append(f"{name} is not the file that was signed")
print(f"head of the book {proof['head']}\nkey of its owner {owner}: compare both with what was printed elsewhere")
print("\n".join(wrong) or f"all {len(proof['entries'])} entries and {len(proof['files'])} files hold")
sys.exit(1 if wrong or not proof["entries"] else 0)
