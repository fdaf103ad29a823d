#!/usr/bin/env python3
"""Presses Ctrl-C while a plan is made, and measures how long outlay goes on.

    tests/terminal/test_interrupt.py --outlay PROGRAM --roofs LAYER --actions FILE

The roofs of the demo portfolio stand in the layer many times, with ids and buildings of
their own, so that a search to a gap of 0 goes on for minutes. The signal comes by the
processor time used, whatever else the machine does: before a run that ends its search at
once would be done, and well after it. Status 130, and all folders are as they were.
"""

import argparse
import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

COPIES = 10
WITHIN = 3  # s; 1 is promised, the rest is for loaded machines
SEARCH = ["--gap", "0", "--steps", "100000000"]
NO_SEARCH = ["--gap", "50", "--steps", "1"]
# Name: share of the time without a search, seconds of search, options.
MOMENTS = {
    "before the search": (0.5, 0, SEARCH),
    "as the search begins": (1, 0.5, SEARCH),
    "well into the search": (1, 3, SEARCH),
    "while scenarios are searched": (1, 3, SEARCH + ["--time-limit", "1"]),
}


def write_layer(source, path):
    """The copies stand north of one another."""
    layer = json.loads(source.read_text())
    features = []
    for copy in range(COPIES):
        for feature in json.loads(json.dumps(layer["features"])):
            properties = feature["properties"]
            properties["id"] += f"-{copy}"
            properties["building"] += f" {copy}"
            geometry = feature["geometry"]
            parts = geometry["coordinates"]
            for rings in [parts] if geometry["type"] == "Polygon" else parts:
                for ring in rings:
                    ring[:] = [[east, north + 0.05 * copy] for east, north in ring]
            features.append(feature)
    path.write_text(json.dumps({**layer, "features": features}))


def tree(folder):
    """Every file below a folder with its content, every folder with None."""
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None
            for path in sorted(folder.rglob("*"))}


def processor_time(process):
    """In seconds; proc(5): fields 14 and 15, in ticks."""
    fields = pathlib.Path(f"/proc/{process.pid}/stat").read_text().rpartition(")")[2]
    return sum(map(int, fields.split()[11:13])) / os.sysconf("SC_CLK_TCK")


def start(arguments, folder, out, options):
    command = [arguments.outlay.resolve(), "budget", "roofs.geojson", "-o", out,
               "--overwrite", "-q", "--wind-speed", "115mph", "--actions",
               arguments.actions.resolve(), "--start", "2027", "--cap",
               str(500000 * COPIES), *options]
    temporary = str(folder.parent / "tmp")
    return subprocess.Popen(command, cwd=folder, stderr=subprocess.DEVNULL,
                            env={**os.environ, "TMPDIR": temporary,
                                 "CPL_TMPDIR": temporary})


def interrupt(process, used):
    """@return exit status, seconds from the signal to the end (None: it came too late)"""
    while process.poll() is None and processor_time(process) < used:
        time.sleep(0.01)
    if process.returncode is not None:
        return process.returncode, None
    process.send_signal(signal.SIGINT)
    began = time.monotonic()
    try:
        status = process.wait(20)
    except subprocess.TimeoutExpired:
        process.kill()
        status = process.wait()
    return status, time.monotonic() - began


def main():
    parser = argparse.ArgumentParser(description="Presses Ctrl-C.")
    for name in ("outlay", "roofs", "actions"):
        parser.add_argument(f"--{name}", type=pathlib.Path, required=True)
    arguments = parser.parse_args()
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="outlay-interrupt-") as name:
        everything = pathlib.Path(name)
        folder = everything / "work"
        folder.mkdir()
        (everything / "tmp").mkdir()
        write_layer(arguments.roofs, folder / "roofs.geojson")
        process = start(arguments, folder, "old",
                        [*NO_SEARCH, "--write", "plan,visits,budget"])
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        assert process.returncode == 1, process.returncode  # roofs without a height
        without = usage.ru_utime + usage.ru_stime
        before = tree(everything)
        for moment, (share, more, options) in MOMENTS.items():
            for out in ("new", "old"):
                used = share * without + more
                status, seconds = interrupt(start(arguments, folder, out, options), used)
                changed = sorted({path for path, _ in
                                  tree(everything).items() ^ before.items()})
                good = status == 130 and seconds and seconds <= WITHIN and not changed
                wrong += not good
                print(f"{moment} ({used:.1f} s of processor time), {out} folder: status "
                      f"{status}, " + (f"{seconds:.2f} s" if seconds else "too late") +
                      "".join(f", left or changed: {path}" for path in changed))
    print(f"interrupt: {wrong} of {2 * len(MOMENTS)} not as expected")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
