#!/usr/bin/env python3
"""Makes the inputs of testdata/golden/sample: an invented street of eight roofs.

    make_golden.py FOLDER
"""

import json
import sys

import numpy as np
from osgeo import gdal, osr

import site_made as site

PIXEL = 1.0
STEP = 40
NAMES = ["flat", "pitched", "stepped", "narrow", "holes", "column", "outside", "edge"]


def roofs():
    """Name, kind, area, height, pitch; what is special about it lies in the rasters."""
    rng = np.random.default_rng(5)
    kinds = {"pitched": "gable", "stepped": "stepped"}
    for number, name in enumerate(NAMES):
        column, row = number % 4, number // 4
        middle = (site.WEST + (column + 0.5) * STEP, site.NORTH - (row + 0.5) * STEP)
        area = 18 if name == "narrow" else 400
        roof = site.Roof(rng, middle, kinds.get(name, "flat"), area, 6 + number,
                         0.5 if name == "pitched" else 0.01)
        roof.trees, roof.units, roof.turn = name == "flat", name == "flat", 0.3
        roof.share, roof.step = 0.6, 3.5
        if name == "narrow":
            roof.length, roof.width = 12, 1.5
        if name == "outside":
            roof.middle = (site.WEST + 3000, site.NORTH)
        yield name, roof


def write_centimetres(path, values):
    """Whole centimetres, as a raster with a scale has them."""
    driver = gdal.GetDriverByName("GTiff")
    out = driver.Create(path, values.shape[1], values.shape[0], 1, gdal.GDT_Int16,
                        ["COMPRESS=DEFLATE", "PREDICTOR=2"])
    crs = osr.SpatialReference()
    crs.ImportFromEPSG(site.EPSG)
    out.SetProjection(crs.ExportToWkt())
    out.SetGeoTransform([site.WEST, PIXEL, 0, site.NORTH, 0, -PIXEL])
    band = out.GetRasterBand(1)
    band.SetScale(0.01)
    band.SetUnitType("metre")
    band.SetNoDataValue(-1)
    band.WriteArray(np.where(np.isnan(values), -1, np.round(values * 100)))
    out.FlushCache()


def write_rasters(folder, made):
    rng = np.random.default_rng(6)
    x = site.WEST + (np.arange(4 * STEP) + 0.5)[None, :] * PIXEL
    y = site.NORTH - (np.arange(2 * STEP) + 0.5)[:, None] * PIXEL
    terrain = site.ground(x, y)
    surface = terrain.copy()
    for name, roof in made:
        if name != "outside":
            site.put_roof(rng, surface, PIXEL, roof)
        if name == "holes":
            surface[roof.inside(x, y) & (rng.random(surface.shape) < 0.7)] = np.nan
    surface += rng.normal(0, 0.1, surface.shape)
    write_centimetres(f"{folder}/in_surface.tif", surface)
    write_centimetres(f"{folder}/in_terrain.tif", terrain)


def write_far(path, made, pixel, count, nodata):
    """A raster of bytes far around the street; made: from metres east and north of it."""
    across = (np.arange(count) - count / 2 + 0.5) * pixel
    out = gdal.GetDriverByName("GTiff").Create(path, count, count, 1, gdal.GDT_Byte,
                                               ["COMPRESS=DEFLATE"])
    crs = osr.SpatialReference()
    crs.ImportFromEPSG(site.EPSG)
    out.SetProjection(crs.ExportToWkt())
    out.SetGeoTransform([site.WEST + 2 * STEP - count * pixel / 2, pixel, 0,
                         site.NORTH - STEP + count * pixel / 2, 0, -pixel])
    out.GetRasterBand(1).SetNoDataValue(nodata)
    out.GetRasterBand(1).WriteArray(made(*np.meshgrid(across, -across)))
    out.FlushCache()


def cover(east, north):
    """A town by the sea, with something that the table doesn't know."""
    return np.where(east > 200, 11, np.where((east < -1500) & (north > 500), 90, 24))


def hills(east, north):
    """An escarpment west of the street; ground is missing far to the south."""
    rise = 100 + 45 * np.clip((east + 400) / 300, 0, 1)
    return np.where(north < -6400, 0, np.round(rise))


def write_features(path, kind, rows):
    features = [{"type": "Feature", "properties": properties,
                 "geometry": {"type": kind, "coordinates": coordinates}}
                for properties, coordinates in rows]
    with open(path, "w", encoding="utf-8") as out:
        json.dump({"type": "FeatureCollection", "features": features}, out, indent=1)


def lonlat(points):
    way = site.to_lonlat()
    return [[round(v, 8) for v in way.TransformPoint(*point)[:2]] for point in points]


def box(west, east):
    south, north = site.NORTH - 200, site.NORTH + 100
    return lonlat([(site.WEST + x, y) for x, y in
                   [(west, south), (east, south), (east, north), (west, north),
                    (west, south)]])


def line(east):
    return lonlat([(site.WEST + east, site.NORTH - 5000),
                   (site.WEST + east, site.NORTH + 5000)])


def main():
    folder = sys.argv[1]
    made = list(roofs())
    write_rasters(folder, made)
    write_far(f"{folder}/in_cover.tif", cover, 30, 130, 0)
    write_far(f"{folder}/in_hills.tif", hills, 60, 230, 0)
    write_features(f"{folder}/in_roofs.geojson", "Polygon", [
        ({"roof_id": name, **({"height_ft": 31.5} if name == "column" else {})},
         [lonlat(roof.ring())]) for name, roof in made])
    write_features(f"{folder}/in_exposure.geojson", "Polygon", [
        ({"terrain": "B"}, [box(-50, 75)]), ({"terrain": "C"}, [box(75, 143)])])
    write_features(f"{folder}/in_speeds.geojson", "LineString", [
        ({"V": 110}, line(-2000)), ({"V": 120}, line(2000))])


if __name__ == "__main__":
    main()
