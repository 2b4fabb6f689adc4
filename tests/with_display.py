# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs a program on a virtual display of its own, drawn by the processor: with_display.py PROGRAM [ARGUMENT ...]."""
import os
import subprocess
import sys

reading, writing = os.pipe()
display = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-screen", "0", "1366x768x24", "-nolisten", "tcp"],
                           pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
os.close(writing)
try:
    number = os.fdopen(reading).readline().strip()
    if not number:
        sys.exit("Xvfb gives no display")
    environment = dict(os.environ, DISPLAY=":" + number, QT_QPA_PLATFORM="xcb", LIBGL_ALWAYS_SOFTWARE="1")
    sys.exit(subprocess.call(sys.argv[1:], env=environment))
finally:
    display.terminate()
    display.wait()
