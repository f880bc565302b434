"""Means of correlated epochs, with NumPy: sums over whole matrices, nothing in closed form."""

import numpy as np
from scipy import stats
from scipy.optimize import brentq


def _correlations(count: int, step: float, tau: float) -> np.ndarray:
    at = np.arange(count) * step
    return np.exp(-np.abs(at[:, None] - at[None, :]) / tau)


def averaging(row):
    quantity = row["quantity"]
    if quantity == "sigma-of-mean":
        n = int(row["count"])
        return {"expected": float(np.sqrt(_correlations(n, row.number("step_s"), row.number("correlation_s")).sum()) / n)}
    if quantity == "sample-sd-ratio":
        n = int(row["count"])
        centring = np.eye(n) - np.full((n, n), 1 / n)
        return {"expected": float(np.sqrt(np.trace(centring @ _correlations(n, row.number("step_s"), row.number("correlation_s"))) / (n - 1)))}
    if quantity == "separation-factor":
        return {"expected": float(np.sqrt(_correlations(2, row.number("separation_s"), row.number("correlation_s")).sum()) / 2)}
    if quantity == "fast-noise":
        steps = np.diff(row.numbers("values"))
        return {"expected": float(np.sqrt((steps**2).sum() / (2 * steps.size)))}
    if quantity == "scatter-within":
        constant, total = row.numbers("values")
        slow = min(1.0, 2 * (1 - np.exp(-3 * row.number("step_s") / (2 * row.number("correlation_s")))))
        return {"expected": float(np.sqrt(constant**2 + (total**2 - constant**2) * slow))}
    if quantity == "screen-limit":
        return {"expected": screen_limit(int(row["count"]), *row.numbers("values"))}
    if quantity == "huber-mean":
        return {"expected": huber_mean(np.array(row.numbers("values")))}
    return None


LEVEL = 0.005
AXES = 3
# b_n of Croux and Rousseeuw for 2 to 9 values, recalled.
SMALL = [1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107]


def screen_limit(n: int, scale: float, within: float, most: float) -> float:
    """How far from the median an epoch may lie, as docs/methods/averaging.md states it."""
    if n == 2:
        return float(stats.norm.ppf(1 - LEVEL / (2 * AXES)) / np.sqrt(2) * most)
    p = 1 - LEVEL / (2 * AXES * n)
    z, t = stats.norm.ppf(p), stats.t.ppf(p, (n - 1) / 2)
    seen = t * (SMALL[n - 2] if n <= 9 else n / (n - 0.8)) * scale
    return float(np.sqrt(1 + np.pi / (2 * n)) * min(np.hypot(z * within, seen), z * most))


def huber_mean(values: np.ndarray) -> float:
    """The root of the sum of clipped residuals; epochs beyond the screen, where 6 to 12 mm are expected, do not count."""
    if values.size <= 2:
        return float(values.mean())
    aside = np.abs(values - np.median(values))
    seen = float(np.median(aside) / stats.norm.ppf(0.75))
    values = values[aside <= screen_limit(values.size, seen, 0.006, 0.012)]
    scale = max(0.001, seen)
    return float(brentq(lambda m: np.clip((values - m) / scale, -1.345, 1.345).sum(), values.min(), values.max(), xtol=1e-15))


def repeats(row):
    """What the mean of two occupations keeps of the sigma of one, in height, at the separation asked for."""
    if row["quantity"] != "two_occupation_factor":
        return None
    return {"expected": float(np.sqrt(_correlations(2, row.number("separation_s"), row.number("correlation_s")).sum()) / 2)}


def occupation_plan(row):
    """Every count of epochs tried in turn, for one occupation, then two, and so on."""
    k2, k1 = np.sqrt(-2 * np.log(0.05)), stats.norm.ppf(0.975)
    slow, noise, pole, base = ((row.number(a), row.number(b)) for a, b in (
        ("slow_horizontal_mm", "slow_vertical_mm"), ("noise_mm", "noise_mm"), ("pole_mm", "pole_mm"), ("base_mm", "base_mm")))
    noise, pole, base = (noise[0], 2 * noise[0]), (pole[0], pole[0] / 2), (base[0], 2 * base[0])
    tau = row.number("correlation_horizontal_s"), row.number("correlation_vertical_s")
    limits = row.number("tolerance_horizontal_mm"), row.number("tolerance_vertical_mm")
    most = int(row["max_epochs"])
    kept = [[float(_correlations(n, 1, t).sum()) / n**2 for n in range(1, most + 1)] for t in tau]
    best = None
    for m in range(1, int(row["max_occupations"]) + 1):
        for n in range(1, most + 1):
            apart = row.number("separation_s") + n - 1
            sizes = []
            for axis, k in ((0, k2), (1, k1)):
                share = kept[axis][n - 1] * float(_correlations(m, apart, tau[axis]).sum()) / m**2
                sizes.append(float(k * np.sqrt(slow[axis]**2 * share + noise[axis]**2 / (n * m) + pole[axis]**2 / m + base[axis]**2)))
            found = {"status": "reached", "occupations": float(m), "epochs": float(n), "circle_95_mm": sizes[0], "vertical_95_mm": sizes[1]}
            excess = max(size / limit for size, limit in zip(sizes, limits))
            if excess <= 1:
                return found
        if best is None or excess < best[0]:
            best = excess, {**found, "status": "not-reached"}
    return best[1]
