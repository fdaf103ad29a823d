#!/usr/bin/env python3
"""Runs the cases of testdata/golden and compares what comes out with what is expected.

    tests/golden/run.py --outlay PROGRAM [CASE...]     all cases, or some
    tests/golden/run.py --outlay PROGRAM --redo [CASE...]
        writes the expectations anew; read the difference before you commit it

A case is a folder:
    cmd               shell lines run one after the other in an empty folder, as
                      `outlay ...`; $CASE is the case's folder, $DATA is testdata. A pipe
                      or a redirection is fine. The case's exit status, standard output
                      and standard error are those of the whole.
    in*               input files of its own (used by way of $CASE)
    expected_exit     the exit status, 0 when there is no such file
    expected_stdout   compared whole; nothing is expected when there is no such file
    expected_stderr   likewise
    expected_files/   files that must be left in the folder with this content; files not
                      listed here are listed in expected_left, a name a line

What differs by design between two runs is masked: seconds and threads in run.json, the
version, and the paths of $CASE, $DATA and of the empty folder.
"""

import argparse
import difflib
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
CASES = ROOT / "testdata" / "golden"
MASKS = [
    (re.compile(rb'("(?:reading and stages|checks over the layer|all until here)": )'
                rb"[0-9.]+"), rb"\1SECONDS"),
    (re.compile(rb'("threads": )[0-9]+'), rb"\1THREADS"),
    (re.compile(rb'("version": ?")[0-9.]+"'), rb'\1VERSION"'),
    (re.compile(rb"outlay [0-9]+\.[0-9]+\.[0-9]+"), b"outlay VERSION"),
    (re.compile(rb"VERSION, commit ([0-9a-f]+(-dirty)?|unknown)"),
     b"VERSION, commit COMMIT"),
    (re.compile(rb"^(  (GDAL|json-c|GEOS|PROJ|cairo|Pango|libxlsxwriter|libyaml)) "
                rb"[0-9][^ ]*$", re.MULTILINE), rb"\1 VERSION"),
]


def masked(data, names):
    """What a run wrote, without what differs by design; names: what stands for a path."""
    for path, name in names:
        data = data.replace(os.fsencode(path), name)
    for pattern, replacement in MASKS:
        data = pattern.sub(replacement, data)
    return data


def run(program, case, folder):
    """Runs a case; returns {name of expectation: bytes}."""
    tools = folder / "tools"
    work = folder / "work"
    tools.mkdir()
    work.mkdir()
    (tools / "outlay").symlink_to(program)
    # cases name data without quotes, and the path of the tree may have blanks
    data = tools / "data"
    data.symlink_to(ROOT / "testdata")
    data_case = data / "golden" / case.name
    names = ((work, b"$FOLDER"), (data_case, b"$CASE"), (data, b"$DATA"),
             (case, b"$CASE"), (ROOT / "testdata", b"$DATA"))
    environment = {"PATH": f"{tools}:{os.environ['PATH']}", "CASE": str(data_case),
                   "DATA": str(data), "HOME": str(folder), "LANG": "C.UTF-8"}
    for name, value in os.environ.items():
        if name.endswith("SAN_OPTIONS"):
            environment[name] = value
    done = subprocess.run(["bash", "-o", "pipefail", "-c", (case / "cmd").read_text()],
                          cwd=work, env=environment, capture_output=True, timeout=250)
    found = {"exit": f"{done.returncode}\n".encode() if done.returncode else b"",
             "stdout": masked(done.stdout, names),
             "stderr": masked(done.stderr, names)}
    left = []
    for path in sorted(p for p in work.rglob("*") if p.is_file()):
        name = path.relative_to(work).as_posix()
        if (case / "expected_files" / name).exists():
            found[f"files/{name}"] = masked(path.read_bytes(), names)
        else:
            left.append(name)
    found["left"] = "".join(f"{name}\n" for name in left).encode()
    return found


def expectations(case):
    """{name: bytes} of a case; what isn't there is expected to be empty."""
    wanted = {name: b"" for name in ("exit", "stdout", "stderr", "left")}
    for name in wanted:
        path = case / f"expected_{name}"
        if path.exists():
            wanted[name] = path.read_bytes()
    files = case / "expected_files"
    for path in (p for p in files.rglob("*") if p.is_file()):
        wanted[f"files/{path.relative_to(files).as_posix()}"] = path.read_bytes()
    return wanted


def show_difference(name, wanted, found):
    if found is None:
        print(f"  {name}: missing")
        return
    lines = difflib.unified_diff(
        wanted.decode(errors="replace").splitlines(), found.decode(errors="replace")
        .splitlines(), "expected", "found", lineterm="", n=1)
    print(f"  {name}:")
    for line in list(lines)[:40]:
        print(f"    {line[:400]}")


def write_anew(case, found):
    for name, data in found.items():
        path = case / ("expected_" + name)
        if data:
            path.write_bytes(data)
        elif path.exists():
            path.unlink()


def check(program, case, redo):
    """Runs one case; true when all is as expected."""
    with tempfile.TemporaryDirectory(prefix="outlay-golden-") as folder:
        found = run(program, case, pathlib.Path(folder).resolve())
    if redo:
        write_anew(case, found)
        return True
    wanted = expectations(case)
    wrong = [name for name in wanted if wanted[name] != found.get(name)]
    if wrong:
        print(f"golden {case.name}: not as expected")
        for name in wrong:
            show_difference(name, wanted[name], found.get(name))
    return not wrong


def main():
    parser = argparse.ArgumentParser(description="Runs the golden cases.")
    parser.add_argument("--outlay", type=pathlib.Path, required=True,
                        help="the program")
    parser.add_argument("--redo", action="store_true",
                        help="write the expectations anew")
    parser.add_argument("cases", nargs="*", metavar="CASE")
    chosen = parser.parse_args()
    program = chosen.outlay.resolve()
    if not os.access(program, os.X_OK):
        sys.exit(f"golden: {program} can't be run")
    names = chosen.cases or sorted(p.parent.name for p in CASES.glob("*/cmd"))
    missing = [name for name in names if not (CASES / name / "cmd").exists()]
    if missing or not names:
        sys.exit(f"golden: no such case: {', '.join(missing) or 'none at all'}")
    results = [check(program, CASES / name, chosen.redo) for name in names]
    print(f"golden: {sum(results)} of {len(results)} cases as expected")
    sys.exit(0 if all(results) else 1)


if __name__ == "__main__":
    main()
