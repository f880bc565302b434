"""Projections, by their closed formulas with fifty digits."""

import re

from mpmath import log, mp, mpf, radians, sin, cos, sqrt, tan, pi

mp.dps = 50
GRS80_A, GRS80_INVERSE_F = mpf(6378137), mpf("298.257222101")


def projections(row):
    """The pole of a Lambert conformal cone: the apex, one radius of the origin's parallel away (Snyder 1395, 15-1 to 15-10)."""
    given = dict(re.findall(r"\+(\w+)=(\S+)", row["system"]))
    if given.get("proj") != "lcc" or row["latitude_deg"] != "90" or given["ellps"] != "GRS80":
        return None
    f = 1 / GRS80_INVERSE_F
    e = sqrt(f * (2 - f))

    def isometric(latitude):
        return tan(pi / 4 - latitude / 2) / ((1 - e * sin(latitude)) / (1 + e * sin(latitude))) ** (e / 2)

    def radius(latitude):
        return cos(latitude) / sqrt(1 - (e * sin(latitude)) ** 2)

    first, second, origin = (radians(mpf(given[name])) for name in ("lat_1", "lat_2", "lat_0"))
    n = (log(radius(first)) - log(radius(second))) / (log(isometric(first)) - log(isometric(second)))
    return {"second": GRS80_A * radius(first) * (isometric(origin) / isometric(first)) ** n / n}
