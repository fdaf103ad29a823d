"""Shows that the gates of scripts/ find what they are for, and pass what is fine."""

import importlib.machinery
import importlib.util
import pathlib
import sys
import unittest

SCRIPTS = pathlib.Path(__file__).resolve().parents[2] / "scripts"
sys.path.insert(0, str(SCRIPTS))
sys.dont_write_bytecode = True


def gate(name):
    loader = importlib.machinery.SourceFileLoader(name, str(SCRIPTS / name))
    spec = importlib.util.spec_from_loader(name, loader)
    module = importlib.util.module_from_spec(spec)
    loader.exec_module(module)
    return module


banned, headers, limits = gate("banned"), gate("headers"), gate("limits")
rooms, words = gate("rooms"), gate("words")
import sources  # noqa: E402 (found by the path above)


class Rooms(unittest.TestCase):
    def test_the_way_down_is_open(self):
        for room, target in (("zoning", "standard/standard.h"), ("read", "read/roles.h"),
                             ("geo", "geos_c.h"), ("read", "ogr_api.h"),
                             ("write", "gdal.h"), ("base", "outlay/status.h"),
                             ("flow", "zoning/zoning.h"), ("geo", "stdio.h"),
                             ("main.c", "cli/command.h")):
            self.assertIsNone(rooms.fault(room, False, target), (room, target))

    def test_every_other_way_is_closed(self):
        for room, target in (("base", "geo/shape.h"), ("zoning", "uplift/uplift.h"),
                             ("write", "zoning/zoning.h"), ("cli", "read/read.h"),
                             ("read", "options/settings.h"), ("zoning", "geos_c.h"),
                             ("read", "proj.h"), ("geo", "ogr_srs_api.h"),
                             ("flow", "gdal.h"), ("geo", "cpl_error.h"),
                             ("cli", "yaml.h"), ("write", "outlay/outlay.h")):
            self.assertIsNotNone(rooms.fault(room, False, target), (room, target))

    def test_tests_may_see_libraries_but_not_other_rooms(self):
        self.assertIsNone(rooms.fault("write", True, "ogr_api.h"))
        self.assertIsNotNone(rooms.fault("write", True, "read/read.h"))

    def test_the_table_has_no_cycle(self):
        seen = set()
        for room, allowed in rooms.ALLOWED.items():
            self.assertLessEqual(set(allowed), seen, room)
            seen.add(room)


class Limits(unittest.TestCase):
    CODE = ("static const int table[] = {\n    1,\n};\n\n"
            "struct x {\n    int a;\n};\n\n"
            "int first(struct x *x,\n          int b)\n{\n    if (b) {\n    }\n}\n\n"
            "void second(void)\n{\n}\n")

    def test_functions_are_found_and_measured(self):
        self.assertEqual(list(limits.functions(self.CODE.splitlines())),
                         [("first", 11, 2), ("second", 17, 0)])


class Banned(unittest.TestCase):
    def found(self, code, path="src/read/x.c"):
        return banned.check_shipped(path, sources.bare_code(code))

    def test_calls_are_found(self):
        for code in ("strcpy(a, b);", "x = atoi (text);", "return sprintf(b, f);"):
            self.assertEqual(len(self.found(code)), 1, code)

    def test_comments_texts_and_longer_names_are_not_calls(self):
        for code in ("/* strcpy(a, b) */", 'puts("system(x)");', "// atoi(x)",
                     "my_strcpy(a, b);", "json_exit_system(1);", "snprintf(b, n, f);"):
            self.assertEqual(self.found(code), [], code)

    def test_the_exception_holds_in_its_file_only(self):
        self.assertEqual(self.found("strtod(t, 0);", "src/base/number.c"), [])
        self.assertEqual(len(self.found("strtod(t, 0);", "src/base/text.c")), 1)

    def test_what_follows_the_locale_is_found(self):
        for code in ("#include <ctype.h>", "# include <strings.h>",
                     'snprintf(b, n, "%.2f", x);', 'printf("%s,\\n" "%g", s,\n x);',
                     'fprintf(stderr, "%-5.1e", x);'):
            self.assertEqual(len(banned.check_locale("a.c", code)), 1, code)

    def test_what_does_not_is_fine(self):
        for code in ('snprintf(b, n, "%d %016llx %zu", x);', 'text_printf(t, "%.2f", x);',
                     'printf("%3d %% free", x);', 'puts("%f");', "#include <stdio.h>",
                     'print_into(b, n, "%g", x);'):
            self.assertEqual(banned.check_locale("a.c", code), [], code)
        self.assertEqual(
            banned.check_locale("src/base/print.c", "#include <locale.h>"), [])

    def test_mutable_statics_are_found(self):
        for code in ("static int count;", "static int count = 0;",
                     "    static char b[9];", "static const char *name = 0;",
                     "static struct x *first;", "static const char *names[] = {0};"):
            self.assertEqual(len(self.found(code)), 1, code)

    def test_constants_and_functions_are_fine(self):
        for code in ("static const int a = 1;", "static const char *const n[] = {0};",
                     "static int f(int a);", "static inline void g(void)\n{\n}",
                     "static const struct x rows[] = {{1}};", "int *static_count = 0;",
                     "static double (*const table[])(double) = {f};"):
            self.assertEqual(self.found(code), [], code)


class Headers(unittest.TestCase):
    def test_the_guard_is_named_after_the_place(self):
        self.assertEqual(headers.guard_of(pathlib.PurePosixPath("src/geo/frame.h")),
                         "OUTLAY_GEO_FRAME_H")
        self.assertEqual(
            headers.guard_of(pathlib.PurePosixPath("include/outlay/status.h")),
            "OUTLAY_STATUS_H")


class Words(unittest.TestCase):
    def test_forbidden_words_are_found(self):
        for line in ("see /" "home/me/x", "in iss" "ue 12", "iss" "ues #3",
                     "TO" "DO later", 'open("/ro' 'ot/x")'):
            self.assertEqual(len(words.check_line(line)), 1, line)

    def test_ordinary_words_are_fine(self):
        for line in ("a/home/b", "$ROOT/work/x", "this is an issue", "/usr/share/x",
                     "network/shares", "${x}/home/"):
            self.assertEqual(words.check_line(line), [], line)

    def test_links_out_of_the_tree_are_found(self):
        for line in ("../.." "/else/x", "notes" ".md"):
            self.assertEqual(
                len(list(words.out_of_tree("scripts/x", line, {"README.md"}))), 1, line)

    def test_links_in_the_tree_are_fine(self):
        for line in (".." "/tests/CMakeLists.txt", "README.md", "see ./README.md", ".."):
            self.assertEqual(
                list(words.out_of_tree("scripts/x", line, {"README.md"})), [], line)


if __name__ == "__main__":
    unittest.main()
