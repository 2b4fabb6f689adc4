# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes what Python sees of the headers' plain values: values.py ROOT LIST FOLDER.

Fields, their order and their docstrings are the headers' own, read anew whenever one changes, so that nothing here can differ
from them: FOLDER gets values_1.cpp ..., each with a share of the classes, and values.pyi with their types.
"""
import json
import keyword
import pathlib
import re
import sys

root, listed, folder = (pathlib.Path(argument) for argument in sys.argv[1:4])
SHARES = 2
PLAIN = {"double": "float", "int": "int", "bool": "bool", "std::string": "str", "std::size_t": "int", "std::int64_t": "int", "MessageId": "str", "char": "str", "Json": "Any"}


def closed(text, start):
    """The place behind the brace that closes the one at start."""
    depth = 0
    for place in range(start, len(text)):
        depth += {"{": 1, "}": -1}.get(text[place], 0)
        if depth == 0:
            return place + 1
    sys.exit(f"values.py: a brace is not closed: {text[start:start + 60]}")


def split_outside(text, mark):
    """Parts of the text between marks that stand in no brackets."""
    parts, depth, part = [], 0, ""
    for letter in text:
        depth += {"<": 1, "{": 1, "(": 1, ">": -1, "}": -1, ")": -1}.get(letter, 0)
        if letter == mark and depth == 0:
            parts.append(part)
            part = ""
        else:
            part += letter
    return [*parts, part]


def sentence(lines):
    return " ".join(line.strip() for line in lines if line.strip())


def statements(body):
    """(code, comment) of each member: the comment before it, else that behind it and in the lines after."""
    found, before, code, depth = [], [], "", 0
    for line in body.splitlines():
        text, mark, comment = line.partition("///<") if "///<" in line else line.partition("///")
        text = re.sub(r"(?<!/)//(?!/).*", "", text).strip()
        if not text:
            if mark == "///<" and found:
                found[-1][1].append(comment)
            elif mark == "///":
                before.append(comment)
            continue
        code += " " + text
        depth += text.count("{") - text.count("}")
        if mark == "///<" and comment:
            before.append(comment)
        if depth == 0 and text.endswith((";", "}")):
            found.append((code.strip(), before))
            before, code = [], ""
    return [(code, sentence(comment)) for code, comment in found]


def fields_of(body, where):
    """(type, name, comment, is it a function) of each member that is a value, or worked out from the others alone."""
    fields = []
    for code, comment in statements(body):
        function = re.match(r"([\w:]+) (\w+)\(\) const\b", code)
        if function:
            fields.append((*function.groups(), comment, True))
            continue
        if re.match(r"(static|struct|enum|explicit|friend|using|bool operator|auto operator)\b|[\w:<>&\s]+\b\w+\s*\([^)]*\)\s*(const)?\s*[;{:]|\w+\(", code):
            continue
        kind = re.match(r"(?:const )?[\w:]+", code)
        end = kind.end()
        if code[end:end + 1] == "<":
            depth = 0
            for end in range(end, len(code)):
                depth += {"<": 1, ">": -1}.get(code[end], 0)
                if depth == 0:
                    break
            end += 1
        for declared in split_outside(code[end:].rstrip(";"), ","):
            name = re.match(r"\s*(\w+)", declared)
            if not name:
                sys.exit(f"values.py: {where}: cannot read: {code}")
            fields.append((code[:end], name.group(1), comment, False))
    return fields


class Header:
    def __init__(self, path):
        self.path, self.text = path, (root / path).read_text(encoding="utf-8")
        self.space = re.search(r"namespace (seamwright[\w:]*) \{", self.text.split("struct", 1)[-1] if path.endswith("compare.h") else self.text)
        self.spaces = [(m.start(), m.group(1)) for m in re.finditer(r"^namespace (seamwright[\w:]*) \{", self.text, re.M)]

    def struct(self, name):
        found = re.search(rf"((?:^///.*\n)*)^struct {name}(?: : [\w:]+)? \{{", self.text, re.M)
        if not found:
            sys.exit(f"values.py: {self.path} has no struct {name}")
        space = [s for at, s in self.spaces if at < found.start()][-1]
        body = self.text[found.end():closed(self.text, found.end() - 1) - 1]
        doc = sentence(line[3:] for line in found.group(1).splitlines())
        return f"{space}::{name}", doc, fields_of(body, f"{self.path}: {name}")


def hint(kind, values, enumerations, where):
    kind = kind.removeprefix("const ").strip()
    if kind in PLAIN:
        return PLAIN[kind]
    if kind.startswith("Eigen::") or kind == "std::vector<double>":
        return "numpy.typing.NDArray[numpy.float64]"
    outer = re.match(r"std::(\w+)<(.*)>$", kind)
    if outer:
        inner = [hint(part, values, enumerations, where) for part in split_outside(outer.group(2), ",")]
        return {"vector": "list[{0}]", "optional": "{0} | None", "variant": " | ".join(inner), "pair": "tuple[{0}, {1}]" if len(inner) > 1 else "",
                "map": "dict[{0}, {1}]" if len(inner) > 1 else ""}[outer.group(1)].format(*inner)
    last = kind.split("::")[-1]
    if last in values:
        return last
    if last in enumerations:
        return "str"
    sys.exit(f"values.py: {where}: no value of Python for {kind}: name its struct in {listed.name}, or leave the field out there")


def read_list():
    headers, left_out = [], set()
    for line in listed.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            path, _, names = line.partition(":")
            left_out |= {name[1:] for name in names.split() if name[0] == "-"}
            headers.append((path, [name for name in names.split() if name[0] != "-"]))
    return headers, left_out


def main():
    headers, left_out = read_list()
    values = {name for _, names in headers for name in names}
    enumerations = {name for top in ("engine", "catalog") for path in (root / top).rglob("*.h")
                    for name in re.findall(r"enum class (\w+)", path.read_text(encoding="utf-8"))}
    classes, stub, forgotten = [], [], set(left_out)
    for path, names in headers:
        header = Header(path)
        for name in names:
            full, doc, fields = header.struct(name)
            lines = [f'  {{\n    auto c = value<{full}>(module, "{name}", {json.dumps(doc)});']
            stub.append(f"class {name}:\n    {json.dumps(doc)}" if doc else f"class {name}:")
            for kind, field, comment, function in fields:
                forgotten.discard(f"{name}.{field}")
                if f"{name}.{field}" in left_out:
                    continue
                name_there = f"{field}_" if keyword.iskeyword(field) else field
                lines.append(f'    {"derived" if function else "field"}(c, "{name_there}", &{full}::{field}, {json.dumps(comment)});')
                stub.append(f"    @property\n    def {name_there}(self) -> {hint(kind, values, enumerations, f'{path}: {name}.{field}')}: ...")
            classes.append((path, "\n".join(lines) + "\n  }"))
    if forgotten:
        sys.exit(f"values.py: left out and not there: {', '.join(sorted(forgotten))}")
    for share in range(SHARES):
        mine = classes[share * len(classes) // SHARES:(share + 1) * len(classes) // SHARES]
        includes = "".join(f'#include "{path}"\n' for path in sorted({path for path, _ in mine}))
        (folder / f"values_{share + 1}.cpp").write_text(
            f'// Written by app/python/values.py.\n{includes}#include "app/python/values.h"\n\nnamespace seamwright::python {{\n\n'
            f"void add_values_{share + 1}(py::module_& module) {{\n" + "\n".join(text for _, text in mine) + "\n}\n\n}  // namespace seamwright::python\n", encoding="utf-8")
    (folder / "values.pyi").write_text("\n".join(stub) + "\n", encoding="utf-8")


main()
