#!/usr/bin/env python3
"""Exposure by land cover and topographic factor by terrain, through the command, on
ground whose answers follow from the lengths of ASCE 7 sec. 26.7.3 and from Fig. 26.8-1
(both from memory), worked out here.

    test_around.py OUTLAY
"""

import json
import math
import subprocess
import sys
import tempfile

import numpy as np
import site_made as site
from osgeo import gdal, osr

FT = 0.3048
MIDDLE = (site.WEST, site.NORTH)
TOWN, FIELD, SEA, UNLISTED, MISSING = 24, 81, 11, 7, 0
TABLE = "class,name,roughness\n11,water,D\n24,town,B\n81,field,C\n"
LOW, HIGH = 25 * FT, 80 * FT
failed = []


def expect(name, found, wanted):
    if found != wanted:
        failed.append(name)
        print(f"{name}: {found} isn't {wanted}")


# ---- Rasters and runs ----

def write(path, values, pixel, kind, nodata):
    """A raster around the middle."""
    rows, columns = values.shape
    out = gdal.GetDriverByName("GTiff").Create(path, columns, rows, 1, kind,
                                               ["TILED=YES", "COMPRESS=DEFLATE"])
    crs = osr.SpatialReference()
    crs.ImportFromEPSG(site.EPSG)
    out.SetProjection(crs.ExportToWkt())
    out.SetGeoTransform([MIDDLE[0] - columns * pixel / 2, pixel, 0,
                         MIDDLE[1] + rows * pixel / 2, 0, -pixel])
    out.GetRasterBand(1).SetNoDataValue(nodata)
    out.GetRasterBand(1).WriteArray(values)
    out.FlushCache()


def grid(reach, pixel):
    """Metres east and north of the middle; one pixel's centre is there."""
    count = 2 * int(reach / pixel) + 1
    across = (np.arange(count) - count // 2) * pixel
    return np.meshgrid(across, -across)


def roof_at(east, north):
    rng = np.random.default_rng(1)
    roof = site.Roof(rng, (MIDDLE[0] + east, MIDDLE[1] + north), "flat", 400, 7, 0)
    roof.turn = 0
    return roof


def run(outlay, folder, options, places=((0, 0),)):
    """The roofs' properties, by number, and their problems as one text."""
    site.write_roofs(f"{folder}/roofs.geojson", [roof_at(*place) for place in places])
    subprocess.run([outlay, "run", f"{folder}/roofs.geojson", "--units", "si", "--write",
                    "roofs,problems", "--wind-speed", "115mph", "--overwrite", "--quiet",
                    "-o", f"{folder}/out", *options], stderr=subprocess.DEVNULL)
    with open(f"{folder}/out/roofs.geojson", encoding="utf-8") as file:
        roofs = [f["properties"] for f in json.load(file)["features"]]
    with open(f"{folder}/out/problems.csv", encoding="utf-8") as file:
        return roofs, file.read()


# ---- Exposure ----

def cover_of(near, far, start, end=math.inf, bearing=None, reach=4000, pixel=10):
    """One class, and another from a distance on, all around or in one sector."""
    east, north = grid(reach, pixel)
    radius = np.hypot(east, north)
    there = (radius >= start) & (radius < end)
    if bearing is not None:
        off = np.degrees(np.arctan2(east, north)) - bearing
        there &= abs((off + 180) % 360 - 180) < 22.5
    return np.where(there, far, near)


EXPOSURES = [
    ("a town", LOW, "B", (TOWN, TOWN, 0)),
    ("fields", LOW, "C", (FIELD, FIELD, 0)),
    ("an island", LOW, "D", (SEA, SEA, 0)),
    ("a town of 1,600 ft, h 30 ft", 30 * FT, "B", (TOWN, FIELD, 1600 * FT)),
    ("a town of 1,300 ft, h 30 ft", 30 * FT, "C", (TOWN, FIELD, 1300 * FT)),
    ("a town of 1,600 ft, h 31 ft", 31 * FT, "C", (TOWN, FIELD, 1600 * FT)),
    ("a town of 2,700 ft, h 31 ft", 31 * FT, "B", (TOWN, FIELD, 2700 * FT)),
    ("a town of 2,700 ft, h 200 ft", 200 * FT, "C", (TOWN, FIELD, 2700 * FT)),
    ("a town of 4,100 ft, h 200 ft", 200 * FT, "B", (TOWN, FIELD, 4100 * FT)),
    ("the sea at 500 ft", LOW, "D", (TOWN, SEA, 500 * FT, math.inf, 90)),
    ("the sea at 700 ft", LOW, "C", (TOWN, SEA, 700 * FT, math.inf, 90)),
    ("the sea at 2,000 ft", LOW, "B", (TOWN, SEA, 2000 * FT, math.inf, 90)),
    ("the sea at 1,500 ft, h 80 ft", HIGH, "D", (TOWN, SEA, 1500 * FT, math.inf, 270)),
    ("the sea at 1,700 ft, h 80 ft", HIGH, "C", (TOWN, SEA, 1700 * FT, math.inf, 270)),
    ("a lake of 4,000 ft", LOW, "C", (FIELD, SEA, 300 * FT, 4300 * FT, 180)),
    ("a lake of 5,400 ft", LOW, "D", (FIELD, SEA, 300 * FT, 5700 * FT, 180)),
    ("a lake of 5,400 ft, h 300 ft", 300 * FT, "C",
     (FIELD, SEA, 200 * FT, 5400 * FT, 180)),
]


def exposure(outlay, folder, cover, options, pixel=10):
    write(f"{folder}/cover.tif", cover.astype(np.uint8), pixel, gdal.GDT_Byte, MISSING)
    roofs, problems = run(outlay, folder, [
        "--sample", f"exposure={folder}/cover.tif:{folder}/roughness.csv", *options])
    return roofs[0], problems


def check_exposures(outlay, folder):
    with open(f"{folder}/roughness.csv", "w", encoding="utf-8") as file:
        file.write(TABLE)
    for name, height, wanted, made in EXPOSURES:
        roof, problems = exposure(outlay, folder, cover_of(*made), ["--height",
                                                                    f"{height} m"])
        expect(name, roof["exposure"], wanted)
        expect(f"{name}: weak", roof["sampled_exposure_weak"], None)
        expect(f"{name}: assumed", "roughness" in roof["assumed"], True)
        expect(f"{name}: problems", "sample-" in problems, False)


def check_fine_pixels(outlay, folder):
    """Pixels of 2 m are put together by five."""
    for name, start, wanted in (("500", 500, "D"), ("700", 700, "C")):
        cover = cover_of(TOWN, SEA, start * FT, math.inf, 90, 2000, 2)
        roof, _ = exposure(outlay, folder, cover, ["--height", "25 ft"], 2)
        expect(f"pixels of 2 m, the sea at {name} ft", roof["exposure"], wanted)


def check_missing_cover(outlay, folder):
    low = ["--height", "25 ft"]
    for name, value in (("no data", MISSING), ("a class that isn't listed", UNLISTED)):
        cover = cover_of(TOWN, value, 500 * FT, math.inf, 90)
        roof, problems = exposure(outlay, folder, cover, low)
        listed = "class 7 isn't in the table" in problems
        expect(name, (roof["exposure"], "exposure" in roof["assumed"]), ("C", True))
        expect(f"{name}: roughness", "roughness" in roof["assumed"], False)
        expect(f"{name}: problem", "sample-missing" in problems and
               "it may be B to D" in problems, True)
        expect(f"{name}: class", listed, value == UNLISTED)
    cover = cover_of(TOWN, MISSING, 2000 * FT, math.inf, 90)
    roof, problems = exposure(outlay, folder, cover, low)
    expect("missing where it can't matter", roof["exposure"], "B")
    expect("missing where it can't matter: weak", "sample-weak" in problems, True)
    roof, problems = exposure(outlay, folder, cover_of(MISSING, MISSING, 0), low)
    expect("nothing known", "the raster has no value there" in problems, True)
    roof, problems = exposure(outlay, folder, cover_of(TOWN, TOWN, 0), [])
    expect("no height", "it depends on the height" in problems, True)


def check_heights(outlay, folder):
    """How far is looked depends on the height, which may be sampled or of storeys."""
    cover = cover_of(TOWN, FIELD, 1600 * FT)
    for height, wanted in ((9.0, "B"), (9.6, "C")):
        write(f"{folder}/height.tif", np.full((99, 99), height), 1, gdal.GDT_Float32, -1)
        roof, _ = exposure(outlay, folder, cover,
                           ["--sample", f"height={folder}/height.tif:m"])
        expect(f"sampled height {height}", roof["exposure"], wanted)
    for storeys, wanted in ((1, "B"), (2, "C")):  # 18 ft and 31 ft, ours
        roof, _ = exposure(outlay, folder, cover, ["--storeys", str(storeys)])
        expect(f"storeys {storeys}", roof["exposure"], wanted)


# ---- Topography ----

def kzt(shape, height, length, offset, z, exposure_c=True):
    """Fig. 26.8-1. offset: downwind of the crest above 0."""
    k1 = {"ridge": (1.30, 1.45), "escarpment": (0.75, 0.85),
          "axisymmetric hill": (0.95, 1.05)}[shape][exposure_c]
    gamma = {"ridge": 3, "escarpment": 2.5, "axisymmetric hill": 4}[shape]
    steep = height / length
    if steep > 0.5:
        steep, length = 0.5, 2 * height
    mu = 4 if shape == "escarpment" and offset > 0 else 1.5
    k2 = max(0, 1 - abs(offset) / (mu * length))
    return (1 + k1 * steep * k2 * math.exp(-gamma * z / length)) ** 2


def terrain_of(shape, height, length, crest, bearing=0, pixel=10):
    """Straight slopes of 2 Lh; the crest is so far upwind of the middle."""
    east, north = grid(6800, pixel)
    turn = math.radians(bearing)
    along = east * math.sin(turn) + north * math.cos(turn) - crest
    across = east * math.cos(turn) - north * math.sin(turn)
    far = np.hypot(along, across) if shape == "axisymmetric hill" else along
    rise = height * np.maximum(0, 1 - abs(far) / (2 * length))
    if shape == "escarpment":
        rise = np.where(along < 0, height, rise)
    return 100 + rise


HILLS = [
    ("ridge", 30, 100, 0, 0), ("ridge", 30, 100, 40, 90), ("ridge", 30, 100, -40, 180),
    ("ridge", 60, 80, 30, 270), ("escarpment", 40, 100, 200, 0),
    ("escarpment", 40, 100, -60, 90), ("axisymmetric hill", 50, 200, 100, 270),
    ("axisymmetric hill", 60, 150, 0, 0),
]


def topographic(outlay, folder, terrain, options=(), pixel=10, unit="m"):
    write(f"{folder}/terrain.tif", terrain.astype(np.float32), pixel, gdal.GDT_Float32,
          site.NODATA)
    roofs, problems = run(outlay, folder, [
        "--height", "10 m", "--sample", f"topographic={folder}/terrain.tif:{unit}",
        *options])
    return roofs[0], problems


def check_hills(outlay, folder):
    for shape, height, length, crest, bearing in HILLS:
        name = f"{shape} H {height} Lh {length}, crest {crest} m upwind"
        terrain = terrain_of(shape, height, length, crest, bearing)
        roof, problems = topographic(outlay, folder, terrain, ["--exposure", "C"])
        found = roof["sampled_topographic"]
        wanted = kzt(shape, height, length, crest, 10)
        if abs(found - wanted) > 0.01:
            expect(name, found, wanted)
        expect(f"{name}: assumed", "hill" in roof["assumed"].split("; "), True)
        expect(f"{name}: problems", "sample-" in problems, False)
    terrain = terrain_of("ridge", 30, 100, 40) / FT
    feet, _ = topographic(outlay, folder, terrain, ["--exposure", "B"], 10, "ft")
    wanted = kzt("ridge", 30, 100, 40, 10, False)
    if abs(feet["sampled_topographic"] - wanted) > 0.01:
        expect("in feet, exposure B", feet["sampled_topographic"], wanted)


def check_explained(outlay, folder):
    topographic(outlay, folder, terrain_of("escarpment", 40, 100, 60, 90))
    done = subprocess.run(
        [outlay, "explain", f"{folder}/roofs.geojson", "R0", "--units", "si", "--height",
         "10 m", "--wind-speed", "115mph", "--sample",
         f"topographic={folder}/terrain.tif:m"], capture_output=True, text=True)
    hill = "escarpment, wind from 90.0 degrees: H = 40 m, Lh = 100 m, x = 60 m downwind"
    expect("explain", hill in done.stdout and "K1 = 0.34" in done.stdout, True)


def check_flat_and_missing(outlay, folder):
    flat = np.full(grid(6800, 10)[0].shape, 123.4)
    roof, problems = topographic(outlay, folder, flat)
    assumed = roof["assumed"].split("; ")
    expect("flat", roof["sampled_topographic"], 1)
    expect("flat: assumed", "topographic" in assumed or "hill" in assumed, False)
    expect("flat: problems", "sample-" in problems, False)
    flat[:200, :] = site.NODATA
    roof, problems = topographic(outlay, folder, flat)
    expect("flat, part missing", "sampled_topographic" in roof, False)
    expect("flat, part missing: assumed", "topographic" in roof["assumed"], True)
    expect("flat, part missing: state", roof["state"] != "met", True)
    expect("flat, part missing: problem", "sample-missing" in problems, True)
    ridge = terrain_of("ridge", 30, 100, 40)
    ridge[-200:, :] = site.NODATA
    roof, problems = topographic(outlay, folder, ridge)
    expect("ridge, part missing", abs(roof["sampled_topographic"] -
                                      kzt("ridge", 30, 100, 40, 10)) < 0.01, True)
    expect("ridge, part missing: problem", "sample-weak" in problems, True)
    ridge[660:700, 660:700] = site.NODATA
    roof, problems = topographic(outlay, folder, ridge)
    expect("nothing under it", "the raster has no value there" in problems, True)


# ---- Damage ----

def check_damage(outlay, folder):
    """A raster whose scale can't be read would have other heights: it is refused."""
    write(f"{folder}/whole.tif", np.full((99, 99), 900), 1, gdal.GDT_UInt16, 0)
    dataset = gdal.Open(f"{folder}/whole.tif", gdal.GA_Update)
    dataset.GetRasterBand(1).SetScale(0.01)
    del dataset
    with open(f"{folder}/whole.tif", "rb") as file:
        data = bytearray(file.read())
    entry = data.find((42112).to_bytes(2, "little") + (2).to_bytes(2, "little"))
    data[entry + 8:entry + 12] = (len(data) + 99).to_bytes(4, "little")  # its place
    with open(f"{folder}/damaged.tif", "wb") as file:
        file.write(data)
    site.write_roofs(f"{folder}/roofs.geojson", [roof_at(0, 0)])
    for name, good in (("whole", True), ("damaged", False)):
        done = subprocess.run([outlay, "inspect", f"{folder}/roofs.geojson", "--sample",
                               f"height={folder}/{name}.tif:m"], capture_output=True)
        expect(f"a {name} raster", done.returncode in (0, 1), good)
        expect(f"a {name} raster: why", b"can't be read" in done.stderr, not good)


# ---- What neighbours share ----

def check_neighbours(outlay, folder):
    """A roof gets the same whatever roofs are sampled before it, in another order too."""
    rng = np.random.default_rng(4)
    east, north = grid(9000, 10)
    waves = np.sin(east / 900) * np.cos(north / 1300)
    cover = np.where(waves > 0.6, SEA, np.where(waves < 0.1, TOWN, FIELD))
    write(f"{folder}/cover.tif", cover.astype(np.uint8), 10, gdal.GDT_Byte, MISSING)
    write(f"{folder}/terrain.tif", (100 + 120 * np.sin(east / 500) * np.cos(north / 700))
          .astype(np.float32), 10, gdal.GDT_Float32, site.NODATA)
    places = [tuple(rng.uniform(-3000, 3000, 2)) for _ in range(60)]
    options = ["--sample", f"exposure={folder}/cover.tif:{folder}/roughness.csv",
               "--sample", f"topographic={folder}/terrain.tif:m", "--height", "40 ft"]
    roofs, _ = run(outlay, folder, options, places)
    alone = [run(outlay, folder, options, places[i::20])[0] for i in range(20)]

    def told(roof):
        return roof["exposure"], roof.get("sampled_topographic")

    apart = [told(alone[i % 20][i // 20]) for i in range(60)]
    expect("neighbours", [told(roof) for roof in roofs], apart)
    expect("neighbours differ", len(set(apart)) > 10, True)


def main():
    outlay = sys.argv[1]
    checks = [check_exposures, check_fine_pixels, check_missing_cover, check_heights,
              check_hills, check_explained, check_flat_and_missing, check_damage,
              check_neighbours]
    with tempfile.TemporaryDirectory() as folder:
        for check in checks:
            check(outlay, folder)
    print(f"{len(EXPOSURES)} exposures, {len(HILLS)} hills and the rest: "
          f"{len(failed)} wrong")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
