"""Makes the layers of an invented town: outlines without heights, and what heights,
slopes, wind speeds, exposure and topography are sampled from.

    scripts/town FOLDER        installs what is missing and runs this

roofs.gpkg     some 400 outlines in three districts; nothing else is known of them
surface.tif    heights of everything, 1 m; terrain.tif: of the ground
hills.tif      ground for miles around, 20 m; cover.tif: land cover, 10 m
roughness.csv  which surface roughness a class of land cover has
speeds.gpkg    polygons of wind speeds, mph

The town (Saltmere), its lake, its bluff and every value are invented; whatever stands
where it was set down has nothing to do with it. Needs numpy and GDAL of Debian's Python;
writes the same values each time.
"""

import pathlib
import sys

import numpy as np
from osgeo import gdal, ogr, osr

gdal.UseExceptions()

EPSG = 32615
WEST, NORTH = 480000, 4430000  # of the town's middle row of streets
BLOCK_X, BLOCK_Y = 60, 55      # m
COLUMNS, ROWS = 21, 19
AROUND = 8000                  # m of ground and cover beyond the town
SEED = 26

# district: from which column, share of pitched roofs, area in m2, height in m
DISTRICTS = {
    "Harbour": (0, 0.05, (600, 1600), (5, 12)),
    "Centre": (7, 0.15, (250, 900), (8, 34)),
    "Bluff": (14, 0.6, (110, 320), (4, 9)),
}
CLASSES = {"water": (1, "D"), "buildings": (2, "B"), "fields": (3, "C"),
           "wood": (4, "B")}
SPEEDS = {115: (-20000, 700), 110: (700, 20000)}  # mph, from and to: m east of WEST


def ground(x, y):
    """Elevation, m: a lake in the west, a bluff of 24 m through the town."""
    east = x - WEST
    bluff = 24 / (1 + np.exp(-(east - 860) / 14))
    return 190 + np.clip(0.004 * (east + 150), 0, 12) + bluff + 0.001 * (NORTH - y)


def cover(x, y):
    east, south = x - WEST, NORTH - y
    town = (abs(south - ROWS * BLOCK_Y / 2) < 1200) & (east < 2500)
    wood = (east > 4200) & (np.sin(x / 900) + np.cos(y / 700) > 0.2)
    classes = np.where(wood, CLASSES["wood"][0], CLASSES["fields"][0])
    classes = np.where(town, CLASSES["buildings"][0], classes)
    return np.where(east < -150, CLASSES["water"][0], classes)


class Roof:
    """A rectangle with a shape over it, turned a little."""

    def __init__(self, rng, column, row):
        self.district, (_, pitched, areas, heights) = max(
            ((name, d) for name, d in DISTRICTS.items() if d[0] <= column),
            key=lambda named: named[1][0])
        self.name = f"{self.district[0]}{row + 1:02}{column + 1:02}"
        self.middle = (WEST + (column + 0.5) * BLOCK_X, NORTH - (row + 0.5) * BLOCK_Y)
        area, ratio = rng.uniform(*areas), rng.uniform(1, 1.6)
        self.length, self.width = np.sqrt(area * ratio), np.sqrt(area / ratio)
        self.height = rng.uniform(*heights)
        self.turn = rng.uniform(-0.12, 0.12)
        self.pitch = rng.uniform(0.3, 0.8) if rng.random() < pitched else 0
        self.step = rng.uniform(2.5, 5) if rng.random() < 0.2 and not self.pitch else 0

    def local(self, x, y):
        x, y = x - self.middle[0], y - self.middle[1]
        c, s = np.cos(self.turn), np.sin(self.turn)
        return c * x + s * y, c * y - s * x

    def top(self, u, v):
        low = self.height + self.pitch * (self.width / 4 - abs(v))
        return low + np.where(u > 0.1 * self.length, self.step, 0)

    def ring(self):
        c, s = np.cos(self.turn), np.sin(self.turn)
        corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
        return [(self.middle[0] + (c * a * self.length - s * b * self.width) / 2,
                 self.middle[1] + (s * a * self.length + c * b * self.width) / 2)
                for a, b in corners]


def centres(west, north, width, height, pixel):
    x = west + (np.arange(int(width / pixel)) + 0.5) * pixel
    y = north - (np.arange(int(height / pixel)) + 0.5) * pixel
    return x[None, :], y[:, None]


def put_roof(surface, x, y, roof):
    reach = (roof.length + roof.width) / 2
    across = abs(x[0] - roof.middle[0]) < reach
    along = abs(y[:, 0] - roof.middle[1]) < reach
    u, v = roof.local(x[:, across], y[along])
    inside = (abs(u) < roof.length / 2) & (abs(v) < roof.width / 2)
    part = surface[np.ix_(along, across)]
    top = ground(*roof.middle) + roof.top(u, v)
    surface[np.ix_(along, across)] = np.where(inside, top, part)


def system():
    out = osr.SpatialReference()
    out.ImportFromEPSG(EPSG)
    return out


def write_raster(path, values, west, north, pixel, kind=gdal.GDT_Float32):
    driver = gdal.GetDriverByName("GTiff")
    out = driver.Create(str(path), values.shape[1], values.shape[0], 1, kind,
                        ["TILED=YES", "COMPRESS=DEFLATE"])
    out.SetProjection(system().ExportToWkt())
    out.SetGeoTransform([west, pixel, 0, north, 0, -pixel])
    out.GetRasterBand(1).WriteArray(values)
    out.FlushCache()


def write_layer(path, columns, features):
    path.unlink(missing_ok=True)
    source = ogr.GetDriverByName("GPKG").CreateDataSource(str(path))
    layer = source.CreateLayer(path.stem, system(), ogr.wkbPolygon)
    for name, kind in columns.items():
        layer.CreateField(ogr.FieldDefn(name, kind))
    layer.StartTransaction()
    for ring, values in features:
        feature = ogr.Feature(layer.GetLayerDefn())
        for name, value in zip(columns, values):
            feature[name] = value
        points = ", ".join(f"{x:.3f} {y:.3f}" for x, y in ring)
        feature.SetGeometry(ogr.CreateGeometryFromWkt(f"POLYGON (({points}))"))
        layer.CreateFeature(feature)
    layer.CommitTransaction()


def band(west, east):
    low, high = NORTH - 20000, NORTH + 20000
    return [(WEST + west, low), (WEST + east, low), (WEST + east, high),
            (WEST + west, high), (WEST + west, low)]


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(SEED)
    roofs = [Roof(rng, column, row) for row in range(ROWS) for column in range(COLUMNS)]
    width, height = COLUMNS * BLOCK_X, ROWS * BLOCK_Y
    x, y = centres(WEST, NORTH, width, height, 1)
    terrain = ground(x, y)
    surface = terrain.copy()
    for roof in roofs:
        put_roof(surface, x, y, roof)
    surface += rng.normal(0, 0.1, surface.shape)
    write_raster(folder / "surface.tif", surface, WEST, NORTH, 1)
    write_raster(folder / "terrain.tif", terrain, WEST, NORTH, 1)
    west, north = WEST - AROUND, NORTH + AROUND
    for name, pixel, values, kind in (("hills", 20, ground, gdal.GDT_Float32),
                                      ("cover", 10, cover, gdal.GDT_Byte)):
        wide = centres(west, north, width + 2 * AROUND, height + 2 * AROUND, pixel)
        write_raster(folder / f"{name}.tif", values(*wide), west, north, pixel, kind)
    (folder / "roughness.csv").write_text(
        "class,roughness,what\n" + "".join(
            f"{number},{roughness},{what}\n"
            for what, (number, roughness) in CLASSES.items()))
    write_layer(folder / "roofs.gpkg", {"roof_id": ogr.OFTString,
                                        "district": ogr.OFTString},
                [(roof.ring(), (roof.name, roof.district)) for roof in roofs])
    write_layer(folder / "speeds.gpkg", {"mph": ogr.OFTReal},
                [(band(*reach), (speed,)) for speed, reach in SPEEDS.items()])


if __name__ == "__main__":
    main()
