"""Quantiles with mpmath, and what follows from them with SciPy."""

import numpy as np
from mpmath import betainc, erf, findroot, gammainc, mp, mpf, sqrt
from scipy import stats
from scipy.integrate import quad
from scipy.optimize import brentq

mp.dps = 30


def _probability(function: str, x, a, b):
    if function == "normal":
        return (1 + erf(x / sqrt(2))) / 2
    if function == "chi2":
        return gammainc(a / 2, 0, x / 2, regularized=True)
    if function == "t":
        tail = betainc(a / 2, mpf(1) / 2, 0, a / (a + x * x), regularized=True) / 2
        return tail if x < 0 else 1 - tail
    return betainc(a / 2, b / 2, 0, a * x / (a * x + b), regularized=True)


def quantile(row) -> dict:
    """The root of the distribution function, from SciPy's as a start."""
    p = mpf(row["probability"])
    function = row["function"]
    if function == "circle":
        return {"expected": sqrt(-2 * mp.log(1 - p))}
    degrees = [mpf(row[name]) for name in ("degrees1", "degrees2") if row[name] != ""]
    a, b = (degrees + [None, None])[:2]
    if function == "sphere":
        return {"expected": sqrt(_root("chi2", p, mpf(3), None))}
    return {"expected": _root(function, p, a, b)}


def _root(function: str, p, a, b):
    start = {
        "normal": lambda: stats.norm.ppf(float(p)), "chi2": lambda: stats.chi2.ppf(float(p), float(a)),
        "t": lambda: stats.t.ppf(float(p), float(a)), "f": lambda: stats.f.ppf(float(p), float(a), float(b)),
    }[function]()
    start = mpf(float(start))
    return findroot(lambda x: _probability(function, x, a, b) - p, (start * (1 - mpf(10) ** -9), start * (1 + mpf(10) ** -9)), solver="secant", tol=mpf(10) ** -50)


def rmse_interval(row) -> dict:
    n = row.number("count")
    return {"low": float(np.sqrt(n / stats.chi2.ppf(0.975, n))), "high": float(np.sqrt(n / stats.chi2.ppf(0.025, n)))}


def wilson(row) -> dict:
    interval = stats.binomtest(int(row["count"]), int(row["of"])).proportion_ci(method="wilson")
    return {"low": float(interval.low), "high": float(interval.high)}


def circle_factor(ratio: float) -> float:
    """K with 95 % of a normal density of axes 1 and ratio inside the circle of radius K."""
    def inside(k: float) -> float:
        outside = quad(lambda t: np.exp(-k * k / (2 * (np.cos(t) ** 2 + ratio**2 * np.sin(t) ** 2))), 0, np.pi / 2, epsabs=1e-13, epsrel=1e-13)[0]
        return 1 - 2 / np.pi * outside - 0.95
    return float(brentq(inside, 1.9, 2.5, xtol=1e-13))


def positional_uncertainty(row) -> dict:
    if row["quantity"] == "circle-exact":
        return {"expected": circle_factor(row.number("axis_ratio"))}
    ee, en, nn = (row.number(name) for name in ("ee_mm2", "en_mm2", "nn_mm2"))
    values, vectors = np.linalg.eigh(np.array([[ee, en], [en, nn]]))
    k = np.sqrt(stats.chi2.ppf(0.95, 2))
    major = vectors[:, 1]
    return {"expected": float({
        "ellipse-major": k * np.sqrt(values[1]), "ellipse-minor": k * np.sqrt(values[0]),
        "ellipse-azimuth": np.degrees(np.arctan2(major[0], major[1])) % 180,
    }[row["quantity"]])}


def acceptance(row) -> dict:
    e, n, r = (row.number(name) for name in ("sigma_east_m", "sigma_north_m", "correlation_en"))
    return {"expected_m": float(np.sqrt(np.linalg.eigvalsh(np.array([[e * e, r * e * n], [r * e * n, n * n]]))[1]))}


def run_comparison(row) -> dict:
    """Shares of 95 % that a movement may reach, over n points in two axes at 0.01; and a movement by a circle's own 95 %."""
    whole = sqrt(-2 * mp.log(mpf("0.05")))
    if row["quantity"] == "own_horizontal":
        return {"expected": mpf(row["input"]) / (mpf(row["sigma_m"]) * whole)}
    alpha = -mp.expm1(mp.log1p(-mpf("0.01")) / (2 * mpf(row["input"])))
    if row["quantity"] == "horizontal_limit":
        return {"expected": sqrt(-2 * mp.log(alpha)) / whole}
    return {"expected": _root("normal", 1 - alpha / 2, None, None) / _root("normal", mpf("0.975"), None, None)}
