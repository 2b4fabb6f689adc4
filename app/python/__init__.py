# SPDX-License-Identifier: GPL-3.0-or-later
"""Fatigue life, weld procedures and records of welded cargo trike frames, from Python."""
from . import _seamwright
from ._seamwright import *  # noqa: F401,F403
from ._values import fields

__version__ = _seamwright.__version__
__all__ = sorted([name for name in vars(_seamwright) if not name.startswith("_")] + ["fields"])
