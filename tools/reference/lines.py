"""Lines on the transverse Mercator plane: the projection by complex quadrature of the meridian, geodesics by their differential
equations. Nothing of either is a series."""

import math
import re

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import fsolve

A_M, F = 6378137.0, 1 / 298.257222101
E2 = F * (2 - F)
E = math.sqrt(E2)
ARCSEC = math.degrees(1) * 3600
# Latitude and longitude of the origin, degrees; scale on the central meridian.
SYSTEMS = {"EPSG:28355": (0.0, 147.0, 0.9996)}


def _system(text: str) -> tuple[float, float, float]:
    if text in SYSTEMS:
        return SYSTEMS[text]
    given = dict(re.findall(r"\+(\w+)=(\S+)", text))
    if given["proj"] != "tmerc" or given["ellps"] != "GRS80":
        raise ValueError(f"no script for {text}")
    return float(given["lat_0"]), float(given["lon_0"]), float(given["k_0"])


def _angle(text: str) -> float:
    """Degrees, or degrees, minutes and seconds between colons, in radians."""
    parts = [float(part) for part in text.lstrip("-").split(":")]
    size = sum(part / 60**at for at, part in enumerate(parts))
    return math.radians(-size if text.startswith("-") else size)


def _normal(latitude):
    return A_M / np.sqrt(1 - E2 * np.sin(latitude) ** 2)


def _meridional(latitude):
    return A_M * (1 - E2) / (1 - E2 * np.sin(latitude) ** 2) ** 1.5


def _isometric(latitude):
    s = np.sin(latitude)
    return np.arctanh(s) - E * np.arctanh(E * s)


def _plane(system, latitude: float, longitude: float) -> tuple[complex, complex]:
    """North + i east from the origin, metres; and the scale, turned by the convergence, of which that is the plane's angle."""
    origin, meridian, k0 = system
    wanted = _isometric(latitude) + 1j * (longitude - math.radians(meridian))
    at = complex(latitude)
    for _ in range(50):
        step = (_isometric(at) - wanted) * _normal(at) * np.cos(at) / _meridional(at)
        at -= step
        if abs(step) < 1e-16:
            break
    start = math.radians(origin)
    way = at - start
    arc = [quad(lambda t: part(_meridional(start + way * t) * way), 0, 1, epsabs=1e-9, epsrel=1e-13, limit=200)[0] for part in (np.real, np.imag)]
    turn = _normal(at) * np.cos(at) / (_normal(latitude) * math.cos(latitude))
    return k0 * complex(*arc), k0 * turn


def _geodesic(latitude: float, longitude: float, azimuth: float, distance: float) -> np.ndarray:
    """Latitude, longitude and azimuth at the end of a geodesic, radians."""
    def slopes(_, y):
        n = _normal(y[0])
        return [math.cos(y[2]) / _meridional(y[0]), math.sin(y[2]) / (n * math.cos(y[0])), math.tan(y[0]) * math.sin(y[2]) / n]
    return solve_ivp(slopes, (0, distance), [latitude, longitude, azimuth], method="DOP853", rtol=1e-13, atol=1e-16).y[:, -1]


def _between(latitude: float, longitude: float, to_latitude: float, to_longitude: float) -> tuple[float, float]:
    """Azimuth and length of the geodesic, by trying."""
    east = (to_longitude - longitude) * _normal(latitude) * math.cos(latitude)
    north = (to_latitude - latitude) * _meridional(latitude)
    length = math.hypot(east, north)
    start = [math.atan2(east, north), 1.0]
    miss = lambda x: (_geodesic(latitude, longitude, x[0], x[1] * length)[:2] - [to_latitude, to_longitude]) * 1e3
    azimuth, share = fsolve(miss, start, xtol=1e-14)
    return azimuth, share * length


def _turned(chord: complex, azimuth: float, scale: complex) -> float:
    """From the projected geodesic to the straight line, seconds of arc."""
    return float(np.angle(chord / (np.exp(1j * azimuth) * scale))) * ARCSEC


def lines(row) -> dict:
    system = _system(row["system"])
    latitude, longitude = _angle(row["latitude_deg"]), _angle(row["longitude_deg"])
    if row["to_latitude_deg"] == "":
        azimuth, distance = math.radians(row.number("azimuth_deg")), row.number("distance_m")
    else:
        azimuth, distance = _between(latitude, longitude, _angle(row["to_latitude_deg"]), _angle(row["to_longitude_deg"]))
    middle, end = (_geodesic(latitude, longitude, azimuth, part * distance) for part in (0.5, 1))
    (here, scale), (_, scale_middle), (there, scale_to) = (_plane(system, *at) for at in ((latitude, longitude), middle[:2], end[:2]))
    chord = there - here
    values = {
        "grid_distance_m": abs(chord),
        "k_from": abs(scale), "k_middle": abs(scale_middle), "k_to": abs(scale_to),
        "line_scale_factor": abs(chord) / distance,
        "arc_to_chord_from_arcsec": _turned(chord, azimuth, scale),
        "arc_to_chord_to_arcsec": _turned(-chord, end[2] + math.pi, scale_to),
    }
    return {name: float(value) for name, value in values.items() if row[name] != ""}
