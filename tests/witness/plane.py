"""A plane around a place, by geodesics alone: shares no formula with outlay's frame.

Azimuthal equidistant: a point's direction and distance from the place are those of the
geodesic to it. Within 500 m of the place lengths are true to 1e-9.
Needs GeographicLib's Python package (Debian: python3-geographiclib).
"""

import math

import numpy as np
from geographiclib.geodesic import Geodesic

EARTH = Geodesic.WGS84


class Plane:
    def __init__(self, lon, lat):
        self.lon, self.lat = lon, lat

    def lonlat(self, ring):
        """Points (x, y) in m to (lon, lat) in degrees."""
        out = []
        for x, y in ring:
            far = EARTH.Direct(self.lat, self.lon, math.degrees(math.atan2(x, y)),
                               math.hypot(x, y))
            out.append((far["lon2"], far["lat2"]))
        return out

    def local(self, ring):
        """Points (lon, lat) in degrees to an array of (x, y) in m."""
        out = []
        for lon, lat in ring:
            way = EARTH.Inverse(self.lat, self.lon, lat, lon)
            azimuth = math.radians(way["azi1"])
            out.append((way["s12"] * math.sin(azimuth), way["s12"] * math.cos(azimuth)))
        return np.array(out)


def feature(plane, region, properties):
    """A GeoJSON feature of a region: a list of polygons, each a list of open rings."""
    polygons = []
    for polygon in region:
        rings = []
        for ring in polygon:
            points = [[round(lon, 10), round(lat, 10)] for lon, lat in
                      plane.lonlat(ring)]
            rings.append(points + points[:1])
        polygons.append(rings)
    geometry = ({"type": "Polygon", "coordinates": polygons[0]} if len(polygons) == 1
                else {"type": "MultiPolygon", "coordinates": polygons})
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def polygons_of(geometry):
    """The polygons of a GeoJSON geometry as lists of closed lon/lat rings."""
    if geometry is None:
        return []
    if geometry["type"] == "Polygon":
        return [geometry["coordinates"]]
    return geometry["coordinates"]
