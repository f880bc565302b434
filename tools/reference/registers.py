"""Control charts over days: how long a chart runs until it signals, and how many inversions a random order has."""

from itertools import combinations, permutations

import numpy as np
from scipy.stats import norm


def registers(row):
    if row["quantity"] == "run-length":
        k, h, shift = (row.number(name) for name in ("k", "h", "shift"))
        up, down = one_sided(k, h, shift), one_sided(k, h, -shift)
        return {"expected": 1 / (1 / up + 1 / down)}
    if row["quantity"] == "kendall-tail":
        n, most = (int(number) for number in row.numbers("values"))
        return {"expected": np.mean([inversions(order) <= most for order in permutations(range(n))])}
    return None


def one_sided(k: float, h: float, shift: float, nodes: int = 60) -> float:
    """Average run length from a sum of zero: L(z) = 1 + L(0) F(k - z) + integral over 0 to h of L(x) f(x + k - z)."""
    x, weights = np.polynomial.legendre.leggauss(nodes)
    x, weights = h * (x + 1) / 2, weights * h / 2
    at = np.concatenate([[0.0], x])
    matrix = np.eye(nodes + 1)
    matrix[:, 0] -= norm.cdf(k - at - shift)
    matrix[:, 1:] -= weights * norm.pdf(x[None, :] + k - at[:, None] - shift)
    return float(np.linalg.solve(matrix, np.ones(nodes + 1))[0])


def inversions(order) -> int:
    return sum(a > b for a, b in combinations(order, 2))
