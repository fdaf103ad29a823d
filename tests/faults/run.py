#!/usr/bin/env python3
"""Fails one call after the other of small runs of every kind of file. What comes out is
the whole result of the undisturbed run, or a status and nothing: no folder, no file, no
temporary one, and what stood there before as it was; of a stream that breaks off, its
beginning.

    tests/faults/run.py --outlay PROGRAM --shim SHIM [--kind KIND...] [--most COUNT]
                        [--all] [CASE...]
        --kind   files: calls that make, write, read or move files
                 disk: those that need room, all later ones too
                 memory: allocations of outlay's own code
                 libraries: those of the libraries under it
        --most   calls tried of each case and kind, spread evenly; --all: every one

Libraries that end the process when memory runs out (SPARED names them) aren't disturbed.
A process that dies all the same leaves nothing but *.partial, which the next run removes.
"""

import argparse
import concurrent.futures
import io
import os
import pathlib
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import zipfile

HERE = pathlib.Path(__file__).resolve().parent
# What is read, copied to where calls fail.
READ = {"roofs.geojson": HERE / "roofs.geojson", "plan.csv": HERE / "plan.csv",
        "findings.csv": HERE / "findings.csv", "decisions.csv": HERE / "decisions.csv",
        "actions.csv": HERE.parent.parent / "testdata/demo/actions.csv"}
STREET = HERE.parent.parent / "testdata/golden/sample"
READ |= {path.name: path for path in sorted(STREET.glob("in_*"))}
INPUT = "in/roofs.geojson"
# Waiting costs so much that roofs are done, and plans needn't be the best.
MONEY = ["--cap", "40000", "--start", "2027", "--waiting", "60", "--steps", "1"]
ZONES = ["zones", INPUT, "-o"]
DRAW = ["draw", INPUT, "-o"]
RUN = ["run", INPUT, "-o", "out"]
# Name of the case: arguments. What is there beforehand is the file or folder "old".
CASES = {
    "run": RUN + MONEY + ["--methods", "adhered", "--order-by", "portfolio"],
    "workbook": RUN + MONEY + ["--write", "workbook"],
    "layout": RUN + ["--write", "layout"],
    "plans": RUN + ["--write", "plans"],
    "over": ["run", INPUT, "-o", "old", "--overwrite", "--write", "summary,problems"],
    "compare": ["compare", INPUT, "-o", "out"],
    "budget": ["budget", INPUT, "-o", "out", "--actions", "in/actions.csv", "--adopted",
               "in/plan.csv"] + MONEY,
    "geojson": ZONES + ["z.geojson"],
    "lines": ZONES + ["z.geojsonl"],
    "gpkg": ZONES + ["z.gpkg"],
    "fgb": ZONES + ["z.fgb"],
    "stream": ["zones", "-", "-o", "z.geojsonl"],
    "stdout": ["zones", "-", "-o", "-"],
    "pdf": DRAW + ["p.pdf"],
    "svg": DRAW + ["p.svg"],
    "png": DRAW + ["p.png"],
    "explain": ["explain", INPUT, "c"],
    "inspect": ["inspect", INPUT],
    "sample": ["run", "in/in_roofs.geojson", "-o", "out", "--write", "roofs,problems",
               "--sample", "height=in/in_surface.tif-in/in_terrain.tif",
               "--sample", "slope=in/in_surface.tif",
               "--sample", "wind_speed=in/in_speeds.geojson:V:mph",
               "--sample", "exposure=in/in_cover.tif:in/in_roughness.csv",
               "--sample", "topographic=in/in_hills.tif:m"],
    "survey": ["survey", INPUT, "-o", "out", "--findings", "in/findings.csv",
               "--decisions", "in/decisions.csv"],
    "draws": RUN + ["--write", "spread,drivers,ranking", "--draws", "3", "--spread",
                    "height=2ft,trace=1ft"],
    "catalog": ["catalog", "-o", "tables"],
    "job": ["job", "-o", "job.yaml"],
}
PLAIN = {"catalog", "job"}  # without roofs
# They end the process, or go on with less, when an allocation fails.
SPARED = ("libglib-2.0:libgobject-2.0:libpango:libharfbuzz:libfontconfig:libcairo:"
          "libfreetype:libstdc++:libc.so:ld-linux")
SECONDS = re.compile(rb'("(?:reading and stages|checks over the layer|all until here)": )'
                     rb"[0-9.]+")
LOOK = re.compile(rb' s="[0-9]+"')
DATE = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9:.]+Z")


class Place:
    """A folder for runs of one case, one after the other."""

    def __init__(self, program, shim, case, folder):
        self.program, self.case = program, case
        # LD_PRELOAD takes no path with a blank in it
        self.shim = folder / "shim.so"
        self.shim.symlink_to(pathlib.Path(shim).resolve())
        self.work, self.temporary = folder / "work", folder / "tmp"
        self.report = folder / "report"
        self.stream = b"".join(line.rstrip(b",\n") + b"\n" for line in
                               READ["roofs.geojson"].read_bytes().splitlines(True)
                               if line.startswith(b'{"type": "Feature",'))
        self.before = None

    def run(self, kind="none", at=0):
        """@return exit status, standard output, what is left, calls, which one failed"""
        arguments = CASES[self.case]
        for folder in (self.work, self.temporary):
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir(parents=True)
        (self.work / "in").mkdir()
        for name, path in READ.items():
            shutil.copyfile(path, self.work / "in" / name)
        if "old" in arguments:
            (self.work / "old").mkdir()
            (self.work / "old" / "run.json").write_text("{}")
        self.before = tree(self.work)
        if self.case not in PLAIN:
            arguments = arguments + ["--wind-speed", "115mph"]
        if self.case not in PLAIN | {"explain", "inspect"}:
            arguments = arguments + ["--threads", "1"]
        environment = {
            **os.environ, "TMPDIR": str(self.temporary), "LD_PRELOAD": str(self.shim),
            "CPL_TMPDIR": str(self.temporary),
            "FAULTS_AT": str(at),
            "FAULTS_KIND": kind,
            "FAULTS_IN": str(self.work.parent), "FAULTS_REPORT": str(self.report),
            "FAULTS_SPARE": SPARED}
        if kind == "disk":
            environment["FAULTS_ON"] = "1"
        self.report.unlink(missing_ok=True)
        done = subprocess.run([self.program, *arguments], cwd=self.work, env=environment,
                              input=self.stream, capture_output=True, timeout=120)
        count, failed = "0", ""
        if self.report.exists():
            count, _, failed = self.report.read_text().partition(" ")
        self.errors = done.stderr.decode(errors="replace")
        return (done.returncode, done.stdout, tree(self.work), int(count), failed.strip())


def content(path):
    """What a file holds, but for the time of the run."""
    if path.suffix != ".gpkg":
        return SECONDS.sub(rb"\1", path.read_bytes())
    with sqlite3.connect(path) as base:
        try:
            return DATE.sub("", "\n".join(base.iterdump())).encode()
        except sqlite3.DatabaseError as error:
            return str(error).encode()


def tree(folder):
    """Every file below a folder with its content, every folder with None."""
    return {str(path.relative_to(folder)): content(path) if path.is_file() else None
            for path in sorted(folder.rglob("*"))}


def without_looks(files):
    """Files as they are, of workbooks the parts without the styles of cells."""
    def parts(content):
        with zipfile.ZipFile(io.BytesIO(content)) as book:
            return {name: LOOK.sub(b"", book.read(name)) for name in book.namelist()
                    if name != "xl/styles.xml"}
    return {name: parts(content) if name.endswith(".xlsx") else content
            for name, content in files.items()}


def begins(left, reference):
    """Whether files are the beginning of what they were to be, in whole lines."""
    return all(name in reference and
               (content == reference[name] if content is None else
                content[-1:] in (b"", b"\n") and reference[name].startswith(content))
               for name, content in left.items())


def judge(place, kind, reference, result):
    """What is wrong with a disturbed run; None when nothing is."""
    status, out, left, _, _ = result
    if status < 0 and kind == "libraries":  # ended by a library
        left = {name: content for name, content in left.items()
                if ".partial" not in name}
        return None if left == place.before else "died and left files"
    temporary = tree(place.temporary)
    if temporary:
        return f"temporary files are left: {', '.join(temporary)}"
    if status == reference[0]:
        if (out, left) == reference[1:3]:
            return None
        # The workbook's library goes on without a font that it has no memory for.
        if kind == "libraries" and out == reference[1] and \
                without_looks(left) == without_looks(reference[2]):
            return None
        changed = [name for name in sorted({*left, *reference[2]})
                   if left.get(name, b"-") != reference[2].get(name, b"-")]
        return f"changed: {', '.join(changed) or 'standard output'}"
    if status not in (2, 3, 4):
        return f"status {status}"
    if left == place.before:
        return None
    if place.case == "stream" and status == 2 and begins(left, reference[2]):
        return None
    # Standard output comes last, when the files stand.
    if left == reference[2] and status == (4 if kind in ("memory", "libraries") else 3):
        return None
    return "a part is left: " + ", ".join(name for name in left
                                          if name not in place.before)


def try_all(place, kind, most):
    """@return calls, calls tried, findings"""
    reference = place.run()
    count = place.run(kind)[3]
    step = max(1, count / most) if most else 1
    chosen = sorted({int(i * step) + 1 for i in range(int(count / step))})
    findings = [] if count else [f"{place.case} {kind}: no call seen: is the shim in?"]
    for at in chosen:
        result = place.run(kind, at)
        wrong = judge(place, kind, reference, result)
        if wrong:
            findings.append(f"{place.case} {kind} {at} {result[4]}: status {result[0]}: "
                            f"{wrong}: {place.errors.strip()[-300:]}")
    return count, len(chosen), findings


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--outlay", required=True)
    parser.add_argument("--shim", required=True)
    parser.add_argument("--kind", action="append",
                        choices=["files", "disk", "memory", "libraries"])
    parser.add_argument("--most", type=int, default=20)
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("cases", nargs="*")
    wanted = parser.parse_args()

    def work(task):
        case, kind = task
        with tempfile.TemporaryDirectory() as folder:
            place = Place(wanted.outlay, wanted.shim, case, pathlib.Path(folder))
            return task, try_all(place, kind, 0 if wanted.all else wanted.most)

    tasks = [(case, kind) for case in wanted.cases or CASES
             for kind in wanted.kind or ["files", "disk", "memory", "libraries"]]
    failed = False
    with concurrent.futures.ThreadPoolExecutor(wanted.jobs) as pool:
        for (case, kind), (count, tried, findings) in pool.map(work, tasks):
            print(f"{case} {kind}: {tried} of {count} calls, {len(findings)} wrong",
                  flush=True)
            for finding in findings:
                print("  " + finding, flush=True)
            failed = failed or bool(findings)
    sys.exit(failed)


if __name__ == "__main__":
    main()
