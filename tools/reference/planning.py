"""The planning model and what is asked of a base, term by term as docs/methods/uncertainty.md states them."""

import math

import numpy as np
from scipy import stats

K2 = math.sqrt(stats.chi2.ppf(0.95, 2))
K1 = stats.norm.ppf(0.975)
IONOSPHERE = {"quiet": (0.2, 0.4), "normal": (0.4, 0.8), "active": (1.0, 2.0)}
ZENITH = {"quiet": 0.15, "normal": 0.25, "active": 0.35}
POLE = (4.0, 2.0)


def _terms(conditions: str, km: float, dh: float) -> tuple[list[float], list[float]]:
    flat, up = IONOSPHERE[conditions]
    return [6, flat * km, 0.1 * km, 0.03 * km], [12, up * km, 2.7 * math.hypot(ZENITH[conditions] * km, 0.012 * dh), 0.05 * km]


def precision_model(row):
    quantity = row["quantity"]
    km = row.number("baseline_m") / 1000
    if quantity in ("horizontal-95", "vertical-95"):
        axis = 0 if quantity == "horizontal-95" else 1
        terms = _terms(row["conditions"], km, float(row["height_difference_m"] or 0))[axis] + [POLE[axis]]
        return {"expected": (K2, K1)[axis] * math.sqrt(sum(t * t for t in terms))}
    if quantity == "vertical-troposphere":
        return {"expected": _terms(row["conditions"], km, row.number("height_difference_m"))[1][2]}
    a, b = row.number("constant_mm"), row.number("ppm")
    if quantity == "horizontal-sigma":
        return {"expected": math.hypot(a, b * km) if row["combine"] == "rss" else a + b * km}
    return {"expected": 1000 * _reach(a, b, row["combine"], float(quantity.split("-")[-1]) / K2)}


def _reach(a: float, b: float, combine: str, sigma: float) -> float:
    """Kilometres at which constant and ppm reach a sigma, millimetres."""
    return math.sqrt(sigma * sigma - a * a) / b if combine == "rss" else (sigma - a) / b


def ranges(row):
    sigma = row.number("tolerance_mm") / (K2 if row["axis"] == "horizontal" else K1)
    if sigma < row.number("constant_mm"):
        return {"expected_m": ""}
    return {"expected_m": 1000 * _reach(row.number("constant_mm"), row.number("ppm"), row["combine"], sigma)}


def predictions(row):
    axis = 0 if row["quantity"] == "horizontal-95" else 1
    base = row.number(("base_horizontal_mm", "base_vertical_mm")[axis])
    terms = _terms(row["conditions"], row.number("baseline_m") / 1000, 0)[axis] + [POLE[axis], base]
    return {"expected": (K2, K1)[axis] * math.sqrt(sum(t * t for t in terms))}


# Of the packets that carry one epoch.
TRANSPORT_BYTES = 52
BITS = {"msm4": (18, 48), "msm5": (36, 63), "msm7": (36, 80)}


def stream(row):
    """Sizes from the field widths of the messages, which are recalled: only the arithmetic is another's."""
    per_satellite, per_cell = BITS[row["kind_of_message"]]
    byte = sum(math.ceil((169 + n * g + n * per_satellite + n * g * per_cell) / 8) + 6 for n, g in zip(map(int, row["satellites"].split()), map(int, row["signals"].split())))
    hours = {"mb-8-h": 8, "mb-24-h": 24}
    quantity = row["quantity"]
    if quantity == "bytes-per-s":
        return {"expected": float(byte)}
    if quantity == "kbit-per-s":
        return {"expected": byte * 8 / 1000}
    sent = byte + (TRANSPORT_BYTES if quantity.endswith("-transport") else 0)
    return {"expected": sent * 3600 * hours[quantity.removesuffix("-transport")] / 1e6}


def site_fit(row):
    """Sigma of a least-squares plane at a distance from the middle, four corners of a square of 10 km of sigma 1."""
    corners = np.array([[1, x, y] for x in (-5e3, 5e3) for y in (-5e3, 5e3)])
    at = np.array([1, row.number("distance_m"), 0])
    return {"expected": float(np.sqrt(at @ np.linalg.inv(corners.T @ corners) @ at))}


def standards(row):
    a, b, km = row.number("constant_m"), row.number("ppm") / 1e3, row.number("distance_m") / 1000
    return {"expected_m": math.hypot(a, b * km) if row["combine"] == "rss" else a + b * km}
