# SPDX-License-Identifier: GPL-3.0-or-later
"""Values of the module as text."""


def fields(value):
    """The names of a value's fields."""
    kind = type(value)
    return [name for base in reversed(kind.__mro__) for name, member in vars(base).items() if isinstance(member, property)]


def shown(value):
    """The value with those of its fields that fit a line."""
    parts = ((name, getattr(value, name)) for name in fields(value))
    told = ", ".join(f"{name}={part!r}" for name, part in parts if isinstance(part, (str, int, float)))
    return f"{type(value).__name__}({told})"
