#!/usr/bin/env python3
"""Measures sampling against reading the same rasters once.

    sampling.py OUTLAY FOLDER OUTLINES

Makes three rasters of 0.5 m, tiled and compressed, with roofs every 30 m, so that nearly
all of their blocks are touched. What sampling takes is `inspect` with it less `inspect`
without; the yardstick is gdal_translate of the three into memory. Needs Debian's Python
with numpy and GDAL.
"""

import math
import multiprocessing
import os
import pathlib
import subprocess
import sys
import time

import numpy as np
from osgeo import gdal, osr

sys.path.append(str(pathlib.Path(__file__).resolve().parent.parent / "sample"))
import site_made as site  # noqa: E402

PIXEL = 0.5
SPACING = 30
BAND = int(SPACING / PIXEL)
RASTERS = ("surface", "terrain", "other")


def create(path, side):
    driver = gdal.GetDriverByName("GTiff")
    out = driver.Create(str(path), side, side, 1, gdal.GDT_Float32,
                        ["TILED=YES", "COMPRESS=DEFLATE", "PREDICTOR=3", "BIGTIFF=YES"])
    crs = osr.SpatialReference()
    crs.ImportFromEPSG(site.EPSG)
    out.SetProjection(crs.ExportToWkt())
    out.SetGeoTransform([site.WEST, PIXEL, 0, site.NORTH, 0, -PIXEL])
    out.GetRasterBand(1).SetNoDataValue(site.NODATA)
    return out


def make(folder, count):
    """Row of roofs by row, since a city's raster doesn't fit in memory."""
    rng = np.random.default_rng(3)
    columns = math.isqrt(count)
    files = [create(folder / f"{name}.tif", columns * BAND) for name in RASTERS]
    x = site.WEST + (np.arange(columns * BAND) + 0.5)[None, :] * PIXEL
    y = site.NORTH - (np.arange(BAND) + 0.5)[:, None] * PIXEL
    roofs = []
    for row in range(columns):
        terrain = site.ground(x, y)
        surface = terrain.copy()
        for roof in site.roofs_of(rng, columns, 1, SPACING, (100, 300)):
            site.put_roof(rng, surface, PIXEL, roof)
            roof.middle = (roof.middle[0], roof.middle[1] - row * SPACING)
            roofs.append(roof)
        surface += rng.normal(0, 0.1, surface.shape)
        for file, values in zip(files, (surface, terrain, surface + 1)):
            file.GetRasterBand(1).WriteArray(np.round(values, 2).astype(np.float32), 0,
                                             row * BAND)
    for file in files:
        file.FlushCache()
    site.write_roofs(folder / "roofs.geojson", roofs)


def measure(command):
    """Wall seconds and peak memory in MB."""
    start = time.monotonic()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        sys.exit(f"bench: {' '.join(command)}: exit status {process.returncode}")
    return time.monotonic() - start, usage.ru_maxrss / 1024


def main():
    outlay, folder, count = sys.argv[1], pathlib.Path(sys.argv[2]), int(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    # by a process of its own: the peak memory of a child counts what it was forked from
    maker = multiprocessing.Process(target=make, args=(folder, count))
    maker.start()
    maker.join()
    if maker.exitcode:
        sys.exit("bench: the rasters can't be made")
    inspect = [outlay, "inspect", str(folder / "roofs.geojson"), "--height", "6 m"]
    rasters = {name: str(folder / f"{name}.tif") for name in RASTERS}
    three = ["--sample", f"height={rasters['surface']}-{rasters['terrain']}:m",
             "--sample", f"elevation={rasters['other']}:m"]
    slope = ["--sample", f"slope={rasters['surface']}:m"]
    read = sum(measure(["gdal_translate", "-q", path, "/vsimem/copy.tif"])[0]
               for path in rasters.values())
    without, least = measure(inspect)
    with_three, memory = measure(inspect + three)
    with_slope, memory_slope = measure(inspect + three + slope)
    print(f"{math.isqrt(count) ** 2:,} outlines: gdal_translate of three rasters "
          f"{read:.1f} s; sampling them {(with_three - without) / read:.2f} times that, "
          f"and slopes too {(with_slope - without) / read:.2f} times; peak MB "
          f"{memory:.0f} and {memory_slope:.0f}, without sampling {least:.0f}")


if __name__ == "__main__":
    main()
