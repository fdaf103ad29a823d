"""What the gates share: the files of the tree, and C code without comments and texts."""

import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent

_COMMENT_OR_TEXT = re.compile(
    r'//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.DOTALL)


def tree():
    """Every file that is committed or about to be, as paths relative to ROOT."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, check=True, capture_output=True).stdout.decode()
    paths = (pathlib.PurePosixPath(name) for name in sorted(listed.split("\0")) if name)
    return [path for path in paths if (ROOT / path).is_file()]


def c_files(*folders):
    """The .c and .h files below folders (all if none are named)."""
    return [path for path in tree() if path.suffix in (".c", ".h")
            and (not folders or path.parts[0] in folders)]


def read(path):
    return (ROOT / path).read_text(encoding="utf-8")


def bare_code(code):
    """C code with comments and texts blanked out; lines and columns stay."""
    return _COMMENT_OR_TEXT.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), code)


def uncommented(code):
    """C code with comments blanked out; lines and columns stay."""
    return _COMMENT_OR_TEXT.sub(
        lambda m: re.sub(r"[^\n]", " ", m.group()) if m.group().startswith("/")
        else m.group(), code)


def report(gate, findings):
    """Prints the findings and ends the program: status 1 if there are any."""
    for finding in findings:
        print(finding)
    if findings:
        print(f"{gate}: {len(findings)} to mend", file=sys.stderr)
    sys.exit(1 if findings else 0)
