#!/usr/bin/env python3
"""Runs outlay with standard error on a pseudoterminal and looks at what is put there.

    tests/terminal/test_terminal.py --outlay PROGRAM
"""

import argparse
import fcntl
import json
import os
import pathlib
import pty
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time

ANEW = "\r\x1b[K"
ROOFS = 1500


def write_layer(path):
    features = []
    for i in range(ROOFS):
        w, s = -95 + 0.001 * (i % 100), 40 + 0.001 * (i // 100)
        e, n = w + 0.0004, s + 0.0003
        ring = [[w, s], [e, s], [e, n], [w, n], [w, s]]
        features.append({"type": "Feature", "properties": {"id": f"r{i}", "height_m": 6},
                         "geometry": {"type": "Polygon", "coordinates": [ring]}})
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))


def hold(process, path):
    """Lets time pass for a process once it reads a file, so that bars come, however fast
    the machine."""
    links = pathlib.Path(f"/proc/{process.pid}/fd")
    while process.poll() is None:
        try:
            if any(os.readlink(link) == str(path) for link in links.iterdir()):
                break
        except OSError:  # closed meanwhile
            pass
    os.kill(process.pid, signal.SIGSTOP)
    time.sleep(2.2)
    os.kill(process.pid, signal.SIGCONT)


def run(program, folder, columns, **environment):
    """Chunks as they came from the terminal, and the exit status."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    variables = {"PATH": os.environ["PATH"], "TERM": "xterm", **environment}
    variables.update((name, value) for name, value in os.environ.items()
                     if name.endswith("SAN_OPTIONS"))
    command = [program, "zones", folder / "in.geojson", "-o", folder / "out.geojson",
               "--overwrite", "--wind-speed", "51mph", "--threads", "1"]
    process = subprocess.Popen(command, stderr=theirs, stdout=subprocess.DEVNULL,
                               env=variables)
    os.close(theirs)
    hold(process, folder / "in.geojson")
    chunks = []
    while True:
        try:
            chunk = os.read(ours, 65536)
        except OSError:  # the other end is closed
            chunk = b""
        if not chunk:
            break
        chunks.append(chunk.decode())
    os.close(ours)
    return chunks, process.wait()


def check_bar(chunks, columns):
    """Bars fill the width but for a column, each put down at once, and are cleared."""
    text = "".join(chunks)
    bars = [part for part in text.split(ANEW)
            if "roofs" in part and "outlay:" not in part]
    assert bars, f"{columns} columns: no bar: {text!r}"
    for bar in bars:
        assert len(bar) == columns - 1, f"{columns} columns: {bar!r}"
        assert bar.startswith("[") and "] " in bar and " %, " in bar, bar
    assert any(bar.endswith(" left") for bar in bars), f"nothing says what's left: {bars}"
    for chunk in chunks:
        assert chunk.startswith((ANEW, "outlay: ")), f"a torn update: {chunk!r}"
    assert f"{ANEW}outlay: warning: wind-speed-low: " in text, text[-400:]


def main():
    parser = argparse.ArgumentParser(description="Looks at the terminal.")
    parser.add_argument("--outlay", type=pathlib.Path, required=True, help="the program")
    program = parser.parse_args().outlay.resolve()
    with tempfile.TemporaryDirectory(prefix="outlay-terminal-") as name:
        folder = pathlib.Path(name).resolve()
        write_layer(folder / "in.geojson")
        for columns in (40, 80, 200):
            chunks, status = run(program, folder, columns)
            assert status == 0, (status, chunks)
            check_bar(chunks, columns)
        chunks, _ = run(program, folder, 0, COLUMNS="50")
        check_bar(chunks, 50)
        chunks, _ = run(program, folder, 12)
        assert all(len(part) <= 11 for part in "".join(chunks).split(ANEW)
                   if "outlay:" not in part), chunks
        for environment in ({"TERM": "dumb"}, {"TERM": ""}):
            chunks, _ = run(program, folder, 80, **environment)
            assert "\x1b" not in "".join(chunks) and "[" not in "".join(chunks), chunks
        done = subprocess.run([program, "zones", folder / "in.geojson", "-o",
                               folder / "out.geojson", "--overwrite", "--wind-speed",
                               "51mph"], capture_output=True, check=True)
        assert b"\r" not in done.stderr and b"[" not in done.stderr, done.stderr
    print("terminal: as expected")


if __name__ == "__main__":
    sys.exit(main())
