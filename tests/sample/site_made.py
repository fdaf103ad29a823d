"""Makes surfaces with roofs whose heights and shapes are known. All of it is invented.

A site is a grid of roofs on terrain that slopes: flat ones, some of them with units and
with trees over their edge, stepped ones, gables and hips. The surface has noise and holes
without data.
"""

import json

import numpy as np
from osgeo import gdal, osr

gdal.UseExceptions()
EPSG = 32618
WEST, NORTH = 480000.0, 4430000.0
NODATA = -9999.0


class Roof:
    """A rectangle, its kind and its height above the ground at its middle."""

    def __init__(self, rng, middle, kind, area, height, pitch):
        ratio = rng.uniform(1, 2.2)
        self.middle = middle
        self.kind = kind
        self.height = height
        self.pitch = pitch
        self.length = np.sqrt(area * ratio)
        self.width = area / self.length
        self.turn = rng.uniform(0, np.pi)
        self.trees = rng.random() < 0.3
        self.units = rng.random() < 0.3
        self.share = rng.uniform(0.6, 0.8)  # of the length that the main level has
        self.step = rng.uniform(2, 6) * (1 if rng.random() < 0.5 else -0.4)

    def local(self, x, y):
        x, y = x - self.middle[0], y - self.middle[1]
        c, s = np.cos(self.turn), np.sin(self.turn)
        return c * x + s * y, -s * x + c * y

    def inside(self, x, y):
        u, v = self.local(x, y)
        return (abs(u) < self.length / 2) & (abs(v) < self.width / 2)

    def rise(self, x, y):
        """Height over the roof's base; of a pitched one the mean is self.height."""
        u, v = self.local(x, y)
        if self.kind == "gable":
            return self.height + self.pitch * (self.width / 4 - abs(v))
        if self.kind == "hip":
            edge = np.minimum(self.width / 2 - abs(v), self.length / 2 - abs(u))
            return self.height + self.pitch * (edge - self.width / 6)
        tilted = self.height + self.pitch * v
        if self.kind == "stepped":
            tilted = tilted + np.where(u > (self.share - 0.5) * self.length, self.step, 0)
        return tilted

    def truth(self):
        """What a height is: the median over the outline shrunk by 1 m, without units,
        trees and noise."""
        u = np.linspace(-self.length / 2 + 1, self.length / 2 - 1, 200)[None, :]
        v = np.linspace(-self.width / 2 + 1, self.width / 2 - 1, 200)[:, None]
        c, s = np.cos(self.turn), np.sin(self.turn)
        x = self.middle[0] + c * u - s * v
        y = self.middle[1] + s * u + c * v
        slope = ground(x, y) - ground(*self.middle)
        return np.median(self.rise(x, y) - slope)

    def ring(self):
        c, s = np.cos(self.turn), np.sin(self.turn)
        corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
        return [(self.middle[0] + c * a * self.length / 2 - s * b * self.width / 2,
                 self.middle[1] + s * a * self.length / 2 + c * b * self.width / 2)
                for a, b in corners]


def roofs_of(rng, columns, rows, spacing, areas):
    kinds = ["flat", "flat", "stepped", "gable", "hip"]
    for row in range(rows):
        for column in range(columns):
            kind = kinds[rng.integers(len(kinds))]
            pitch = (rng.uniform(0.25, 1) if kind in ("gable", "hip")
                     else rng.uniform(0, 0.03))
            area = np.exp(rng.uniform(np.log(areas[0]), np.log(areas[1])))
            middle = (WEST + (column + 0.5) * spacing, NORTH - (row + 0.5) * spacing)
            yield Roof(rng, middle, kind, area, rng.uniform(4, 20), pitch)


def ground(x, y):
    return 30 + 0.05 * (x - WEST) + 0.02 * (NORTH - y)


def put_roof(rng, surface, pixel, roof):
    reach = np.hypot(roof.length, roof.width) / 2 + 5
    left = max(int((roof.middle[0] - reach - WEST) / pixel), 0)
    top = max(int((NORTH - roof.middle[1] - reach) / pixel), 0)
    size = int(2 * reach / pixel) + 2
    part = surface[top:top + size, left:left + size]
    x = WEST + (left + np.arange(part.shape[1]) + 0.5)[None, :] * pixel
    y = NORTH - (top + np.arange(part.shape[0]) + 0.5)[:, None] * pixel
    u, v = roof.local(x, y)
    inside = roof.inside(x, y)
    part[inside] = (ground(*roof.middle) + roof.rise(x, y))[inside]
    if roof.units:
        part[inside & (abs(u) < 1.5) & (abs(v) < 1.5)] += 2
    if roof.trees:
        crown = np.hypot(u - roof.length / 2, v) < min(0.25 * roof.width, 4)
        part[crown] = ground(*roof.middle) + roof.height + 4


def write(path, values, transform, epsg=EPSG):
    driver = gdal.GetDriverByName("GTiff")
    out = driver.Create(path, values.shape[1], values.shape[0], 1, gdal.GDT_Float32,
                        ["TILED=YES", "COMPRESS=DEFLATE", "PREDICTOR=3"])
    crs = osr.SpatialReference()
    crs.ImportFromEPSG(epsg)
    out.SetProjection(crs.ExportToWkt())
    out.SetGeoTransform(transform)
    out.GetRasterBand(1).SetNoDataValue(NODATA)
    out.GetRasterBand(1).WriteArray(values.astype(np.float32))
    out.FlushCache()


def to_lonlat():
    utm, lonlat = osr.SpatialReference(), osr.SpatialReference()
    utm.ImportFromEPSG(EPSG)
    lonlat.ImportFromEPSG(4326)
    lonlat.SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    return osr.CoordinateTransformation(utm, lonlat)


def write_roofs(path, roofs):
    way = to_lonlat()
    features = []
    for number, roof in enumerate(roofs):
        ring = [list(way.TransformPoint(*corner)[:2]) for corner in roof.ring()]
        features.append({"type": "Feature",
                         "properties": {"roof_id": f"R{number}", "kind": roof.kind},
                         "geometry": {"type": "Polygon", "coordinates": [ring]}})
    with open(path, "w", encoding="utf-8") as out:
        json.dump({"type": "FeatureCollection", "features": features}, out)


def make(folder, seed, pixel, noise, columns=40, rows=25, spacing=70, areas=(100, 1500)):
    """Writes surface.tif, terrain.tif and roofs.geojson; returns the roofs."""
    rng = np.random.default_rng(seed)
    roofs = list(roofs_of(rng, columns, rows, spacing, areas))
    x = WEST + (np.arange(int(columns * spacing / pixel)) + 0.5)[None, :] * pixel
    y = NORTH - (np.arange(int(rows * spacing / pixel)) + 0.5)[:, None] * pixel
    terrain = ground(x, y)
    surface = terrain.copy()
    for roof in roofs:
        put_roof(rng, surface, pixel, roof)
    surface += rng.normal(0, noise, surface.shape)
    surface[rng.random(surface.shape) < 0.05] = NODATA
    transform = [WEST, pixel, 0, NORTH, 0, -pixel]
    write(f"{folder}/surface.tif", surface, transform)
    write(f"{folder}/terrain.tif", terrain, transform)
    write_roofs(f"{folder}/roofs.geojson", roofs)
    return roofs
