"""Poles, bases and planes, by the geometry itself."""

import math
from decimal import Decimal, getcontext

import numpy as np

getcontext().prec = 30
A_M, E2 = 6378137.0, 1 / 298.257223563 * (2 - 1 / 298.257223563)


def _top(length: float, tilt: float, azimuth: float) -> np.ndarray:
    t, a = math.radians(tilt), math.radians(azimuth)
    return length * np.array([math.sin(t) * math.sin(a), math.sin(t) * math.cos(a), math.cos(t)])


def pole(row):
    length, tilt = row.number("length_m") * 1000, row.number("tilt_deg")
    if row["quantity"] == "horizontal-shift":
        return {"expected_mm": float(np.hypot(*_top(length, tilt, 0)[:2]))}
    if row["quantity"] == "height-drop":
        return {"expected_mm": length * 2 * math.sin(math.radians(tilt) / 2) ** 2}
    step = 1e-4
    by_tilt = (_top(length, tilt + step, 0) - _top(length, tilt - step, 0)) / (2 * step) * row.number("sigma_tilt_deg")
    by_azimuth = (_top(length, tilt, step) - _top(length, tilt, -step)) / (2 * step) * row.number("sigma_azimuth_deg")
    covariance = np.outer(by_tilt, by_tilt) + np.outer(by_azimuth, by_azimuth)
    return {"expected_mm": float(np.sqrt({"tangential": covariance[0, 0], "radial": covariance[1, 1], "drms": covariance[0, 0] + covariance[1, 1], "up": covariance[2, 2]}[row["quantity"]]))}


def ground(row):
    about, grid = ([Decimal(word) for word in row[name].split()] for name in ("about", "grid"))
    factor = Decimal(row["combined_factor"])
    return {"ground": [p + (q - p) / factor for p, q in zip(about, grid)]}


def plane_transformations(row):
    a0, a1, a2, b0, b1, b2 = (Decimal(word) for word in row["parameters"].split())
    x, y = (Decimal(word) for word in row["from_pair"].split())
    return {"to_pair": [a0 + a1 * x + a2 * y, b0 + b1 * x + b2 * y]}


def _frame(latitude: float, longitude: float) -> np.ndarray:
    """Rows east, north and up."""
    s, c, sl, cl = math.sin(latitude), math.cos(latitude), math.sin(longitude), math.cos(longitude)
    return np.array([[-sl, cl, 0], [-s * cl, -s * sl, c], [c * cl, c * sl, s]])


def base_correction(row):
    """What a difference of two coordinates in the base's own frame does elsewhere, on the sphere of Gauss at the base."""
    latitude = math.radians(row.number("latitude_deg"))
    angle = row.number("baseline_m") * (1 - E2 * math.sin(latitude) ** 2) / (A_M * math.sqrt(1 - E2))
    shift = row.number("delta_m") * 1000
    if row["quantity"] == "height-error":
        return {"expected_mm": shift * math.sin(angle)}
    worst = 0.0
    for azimuth in np.radians(np.arange(0, 360, 0.1)):
        end = math.asin(math.sin(latitude) * math.cos(angle) + math.cos(latitude) * math.sin(angle) * math.cos(azimuth))
        turn = math.atan2(math.sin(azimuth) * math.sin(angle) * math.cos(latitude), math.cos(angle) - math.sin(latitude) * math.sin(end))
        worst = max(worst, float(np.linalg.norm(_frame(end, turn) @ _frame(latitude, 0.0).T - np.eye(3), 2)))
    return {"expected_mm": shift * worst}


def plates(row, rates):
    """The greatest turn of a vector between two epochs, from the rate of its plate as the model prints it."""
    years = row.number("to_year") - row.number("from_year")
    return {"turn_mm": math.radians(rates[row["plate"]] * years / 1e6) * row.number("baseline_m") * 1000}
