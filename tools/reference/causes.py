"""Evidence for one cause by dense matrices, as the criterion of docs/methods/likely-cause.md states it."""

import numpy as np
from scipy.optimize import minimize_scalar

CAUSES = 24
# What writing a height to 0.1 mm leaves, m².
RECORDING_M2 = 1e-8


def likely_cause(row) -> dict:
    r = np.array([float(word) for word in row["residuals_m"].split(";")])
    names = row["points"].split(";")
    points = len(set(names))
    measured = np.full(r.size, row.number("sigma_m") ** 2)
    inverse = np.diag(1 / (measured + RECORDING_M2))
    whole = float(r @ inverse @ r)
    if row["cause"] == "noise":
        # Twice the log of the likelihood with the variance of the measurements s times as large; three forms.
        minus = lambda log: float(np.sum(np.log(np.exp(log) * measured + RECORDING_M2) + r**2 / (np.exp(log) * measured + RECORDING_M2)))
        least = minimize_scalar(minus, bounds=(0, np.log(25)), method="bounded", options={"xatol": 1e-9})
        return {"chi_square": whole, "gain": minus(0) - least.fun - np.log(r.size) - 2 * np.log(3) - 2 * np.log(CAUSES)}
    if row["cause"] == "names-exchanged":
        # The way between the two is known: a pattern of no unknown, one of every ordered pair.
        drop, unknowns, forms = whole - 0.0, 0, points * (points - 1)
    else:
        at = np.array([name == "A" for name in names], dtype=float) if row["cause"] == "control-coordinate" else np.ones(r.size)
        pattern = at[:, None]
        size = np.linalg.solve(pattern.T @ inverse @ pattern, pattern.T @ inverse @ r)
        left = r - pattern @ size
        drop, unknowns = whole - float(left @ inverse @ left), 1
        forms = 3 * points if row["cause"] == "control-coordinate" else 1
    return {"chi_square": whole, "gain": drop - unknowns * np.log(r.size) - 2 * np.log(forms) - 2 * np.log(CAUSES)}
