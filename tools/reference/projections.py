"""Projections, by their closed formulas with fifty digits."""

import re

from mpmath import asin, atan, cos, exp, log, mp, mpc, mpf, pi, radians, sin, sqrt, tan

mp.dps = 50
BESSEL_A, BESSEL_INVERSE_F = mpf("6377397.155"), mpf("299.1528128")
INTERNATIONAL_A, INTERNATIONAL_INVERSE_F = mpf(6378388), mpf(297)
GRS80_A, GRS80_INVERSE_F = mpf(6378137), mpf("298.257222101")


def projections(row):
    """The pole of a Lambert conformal cone: the apex, one radius of the origin's parallel away (Snyder 1395, 15-1 to 15-10)."""
    given = dict(re.findall(r"\+(\w+)=(\S+)", row["system"]))
    if given.get("proj") == "mod_krovak" and given["ellps"] == "bessel":
        return modified_krovak(given, row)
    if given.get("proj") == "labrd" and given["ellps"] == "intl":
        return laborde(given, row)
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


KROVAK_C = [mpf(text) for text in (
    "2.946529277e-2", "2.515965696e-2", "1.193845912e-7", "-4.668270147e-7", "9.233980362e-12",
    "1.523735715e-12", "1.696780024e-18", "4.408314235e-18", "-8.331083518e-24", "-3.689471323e-24",
)]


def modified_krovak(given, row):
    """Westing and southing by the formulas of IOGP 373-7-2, method 1042, as they are printed there: tangents and powers."""
    f = 1 / BESSEL_INVERSE_F
    es = f * (2 - f)
    e = sqrt(es)
    centre, axis, parallel = radians(mpf(given["lat_0"])), radians(mpf(given["alpha"])), radians(mpf("78.5"))
    latitude, longitude = radians(mpf(row["latitude_deg"])), radians(mpf(row["longitude_deg"]))
    a = BESSEL_A * sqrt(1 - es) / (1 - es * sin(centre) ** 2)
    b = sqrt(1 + es * cos(centre) ** 4 / (1 - es))
    gamma = asin(sin(centre) / b)
    t = tan(pi / 4 + gamma / 2) * ((1 + e * sin(centre)) / (1 - e * sin(centre))) ** (e * b / 2) / tan(pi / 4 + centre / 2) ** b
    n = sin(parallel)
    r0 = mpf(given["k_0"]) * a / tan(parallel)
    u = 2 * (atan(t * tan(latitude / 2 + pi / 4) ** b / ((1 + e * sin(latitude)) / (1 - e * sin(latitude))) ** (e * b / 2)) - pi / 4)
    v = b * (radians(mpf(given["lon_0"])) - longitude)
    s = asin(cos(axis) * sin(u) + sin(axis) * cos(u) * cos(v))
    theta = n * asin(cos(u) * sin(v) / cos(s))
    r = r0 * tan(pi / 4 + parallel / 2) ** n / tan(s / 2 + pi / 4) ** n
    south, west = r * cos(theta), r * sin(theta)
    x, y = south - 1089000, west - 654000
    c1, c2, c3, c4, c5, c6, c7, c8, c9, c10 = KROVAK_C
    dx = c1 + c3 * x - c4 * y - 2 * c6 * x * y + c5 * (x * x - y * y) + c7 * x * (x * x - 3 * y * y) - c8 * y * (3 * x * x - y * y)
    dx += 4 * c9 * x * y * (x * x - y * y) + c10 * (x ** 4 + y ** 4 - 6 * x * x * y * y)
    dy = c2 + c3 * y + c4 * x + 2 * c5 * x * y + c6 * (x * x - y * y) + c8 * x * (x * x - 3 * y * y) + c7 * y * (3 * x * x - y * y)
    dy += -4 * c10 * x * y * (x * x - y * y) + c9 * (x ** 4 + y ** 4 - 6 * x * x * y * y)
    return {"first": mpf(given["x_0"]) + west - dy, "second": mpf(given["y_0"]) + south - dx}


def laborde(given, row):
    """Easting and northing by the formulas of IOGP 373-7-2, method 9813, as they are printed there."""
    f = 1 / INTERNATIONAL_INVERSE_F
    es = f * (2 - f)
    e = sqrt(es)
    centre, meridian, azimuth = radians(mpf(given["lat_0"])), radians(mpf(given["lon_0"])), radians(mpf(given["azi"]))
    latitude, longitude = radians(mpf(row["latitude_deg"])), radians(mpf(row["longitude_deg"]))

    def isometric(phi):
        return log(tan(pi / 4 + phi / 2) * ((1 - e * sin(phi)) / (1 + e * sin(phi))) ** (e / 2))

    b = sqrt(1 + es * cos(centre) ** 4 / (1 - es))
    on_sphere = asin(sin(centre) / b)
    radius = INTERNATIONAL_A * mpf(given["k_0"]) * sqrt(1 - es) / (1 - es * sin(centre) ** 2)
    c = log(tan(pi / 4 + on_sphere / 2)) - b * isometric(centre)
    turn = b * (longitude - meridian)
    p = 2 * atan(exp(c + b * isometric(latitude))) - pi / 2
    u = cos(p) * cos(turn) * cos(on_sphere) + sin(p) * sin(on_sphere)
    v = cos(p) * cos(turn) * sin(on_sphere) - sin(p) * cos(on_sphere)
    w = cos(p) * sin(turn)
    d = sqrt(u * u + v * v)
    h = mpc(-2 * atan(v / (u + d)), log(tan(pi / 4 + atan(w / d) / 2)))
    g = mpc(1 - cos(2 * azimuth), sin(2 * azimuth)) / 12
    pair = h + g * h ** 3
    return {"first": mpf(given["x_0"]) + radius * pair.imag, "second": mpf(given["y_0"]) + radius * pair.real}
