"""Surfaces of heights by full matrices and their plain inverse, with mpmath and SciPy: no factor, no updating formula."""

import csv
from functools import lru_cache
from pathlib import Path

import numpy as np
from mpmath import atan, cos, exp, matrix, mp, mpf, pi, sin, sqrt
from scipy import optimize

SIXTEEN = Path(__file__).resolve().parents[2] / "tests" / "core" / "heights" / "sixteen.csv"
ISAAKS = [(61, 139, 477), (63, 140, 696), (64, 129, 227), (68, 128, 646), (71, 140, 606), (73, 141, 791), (75, 128, 783)]
INVENTED = [(0, 0, .052), (12, 3, .061), (25, -4, .048), (31, 18, .083), (8, 22, .074), (18, 11, .066), (40, 5, .058), (2, 35, .091)]
OWN = ".008"
BASE = ".010"
RADIUS = 6371
LATITUDE, CONVERGENCE = "-31.5", ".7"


def trend_of(kind, x, y):
    """Rows of A by their textbook form; the sphere is laid to the plane at the origin, stereographically."""
    if kind == "offset":
        return [mpf(1)]
    if kind == "plane":
        return [mpf(1), x, y]
    turn, phi0 = mpf(CONVERGENCE) * pi / 180, mpf(LATITUDE) * pi / 180
    east, north = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
    d = sqrt(east * east + north * north)
    angle = 2 * atan(d / (2 * RADIUS))
    e, n, u = (sin(angle) * east / d, sin(angle) * north / d, cos(angle)) if d > 0 else (mpf(0), mpf(0), mpf(1))
    # From east, north, up at the origin, on the meridian 0, to X, Y, Z: cos φ cos λ, cos φ sin λ, sin φ.
    row = [mpf(1), u * cos(phi0) - n * sin(phi0), e, n * cos(phi0) + u * sin(phi0)]
    return row if kind == "four-parameter" else row + [row[3] ** 2]


def signal(kind, c0, length, d):
    return c0 * exp(-d / length) if kind == "exponential" else c0 * (1 + d / length) * exp(-d / length)


class Surface:
    """Data (x, y, e), own variances, groups that share an error, all in one unit of length and one of height."""

    def __init__(self, data, own, trend, kind, c0, length, shared=None, base=0):
        self.trend, self.kind, self.c0, self.length = trend, kind, mpf(c0), mpf(length)
        self.data = [tuple(map(lambda v: mpf(str(v)), row)) for row in data]
        self.shared, self.base = shared or [None] * len(data), mpf(base)
        n = len(data)
        c = matrix(n, n)
        for i in range(n):
            for j in range(n):
                c[i, j] = self.between(self.data[i], self.data[j]) + (self.base if self.shared[i] is not None and self.shared[i] == self.shared[j] else 0)
            c[i, i] += mpf(str(own[i]))
        self.c, self.own = c, [mpf(str(v)) for v in own]
        self.inverse = c ** -1
        self.a = matrix([trend_of(trend, x, y) for x, y, _ in self.data])
        self.e = matrix([e for _, _, e in self.data])
        self.normal = self.a.T * self.inverse * self.a
        self.cofactor = self.normal ** -1
        self.b = self.cofactor * (self.a.T * (self.inverse * self.e))
        self.left = self.e - self.a * self.b
        self.squares = (self.left.T * self.inverse * self.left)[0]

    def between(self, p, q):
        return signal(self.kind, self.c0, self.length, sqrt((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2))

    def at(self, x, y, shares=None):
        """The system of kriging as a whole: weights, value, variance, multipliers."""
        n, size = len(self.data), self.a.cols
        p = (mpf(str(x)), mpf(str(y)))
        common = [self.base if shares is not None and g == shares else mpf(0) for g in self.shared]
        c = matrix([self.between(row, p) + common[i] for i, row in enumerate(self.data)])
        f = matrix(trend_of(self.trend, *p))
        whole, right = matrix(n + size, n + size), matrix(n + size, 1)
        for i in range(n):
            right[i] = c[i]
            for j in range(n):
                whole[i, j] = self.c[i, j]
            for k in range(size):
                whole[i, n + k] = whole[n + k, i] = self.a[i, k]
        for k in range(size):
            right[n + k] = f[k]
        solved = whole ** -1 * right
        prior = self.c0 + (self.base if shares is not None else 0)
        variance = prior - sum(solved[i] * right[i] for i in range(n + size))
        value = sum(solved[i] * self.e[i] for i in range(n))
        return {"weights": [solved[i] for i in range(n)], "value": value, "sigma": sqrt(variance), "variance": variance}

    def without(self, i):
        """Truly left out, and solved anew."""
        keep = [j for j in range(len(self.data)) if j != i]
        rest = Surface([self.data[j] for j in keep], [self.own[j] for j in keep], self.trend, self.kind, self.c0, self.length,
                       [self.shared[j] for j in keep], self.base)
        found = rest.at(self.data[i][0], self.data[i][1], self.shared[i])
        return {"left-out": found["value"] - self.data[i][2], "left-out-sigma": sqrt(found["variance"] + self.own[i])}


@lru_cache
def surface(name):
    mp.dps = 50
    own = [mpf(OWN) ** 2] * 8
    if name == "isaaks":
        return Surface(ISAAKS, [mpf("1e-9")] * 7, "offset", "exponential", 10, 1 / mpf("0.3"))
    if name == "shared":
        return Surface(INVENTED, own, "plane", "exponential", mpf(".015") ** 2, 20, ["B1"] * 5 + ["B2"] * 2 + [None], mpf(BASE) ** 2)
    kind = "second-order-markov" if name == "markov" else "exponential"
    trend = name if name.endswith("parameter") else "plane"
    return Surface(INVENTED, own, trend, kind, mpf(".015") ** 2, 20)


def sixteen():
    with SIXTEEN.open(encoding="utf-8") as file:
        rows = [[float(cell) for cell in row.values()] for row in csv.DictReader(file)]
    return map(np.array, zip(*rows))


@lru_cache
def likely(kind, x0, y0):
    """Sigma at a place over all signals: 160 x 160 of them by their restricted likelihood times √C₀, about the correction of the likeliest."""
    x, y, e, s = sixteen()
    d, to = np.hypot(x[:, None] - x, y[:, None] - y), np.hypot(x - x0, y - y0)
    ones = np.ones(len(x))

    def predicted(root, length):
        def fall(ratio):
            return root ** 2 * np.exp(-ratio) * (1 if kind == "exponential" else 1 + ratio)
        inverse = np.linalg.inv(fall(d / length) + np.diag(s * s))
        c = fall(to / length)
        normal = ones @ inverse @ ones
        offset = ones @ inverse @ e / normal
        left = e - offset
        size = np.linalg.slogdet(inverse)[1] / 2 - np.log(normal) / 2 - left @ inverse @ left / 2
        variance = root ** 2 - c @ inverse @ c + (1 - ones @ inverse @ c) ** 2 / normal
        return size + np.log(root), offset + c @ inverse @ left, variance

    reach = d.max()
    found = np.array([predicted(root, length) for root in np.exp(np.linspace(np.log(.0002), np.log(2), 160))
                      for length in np.exp(np.linspace(np.log(.02 * reach), np.log(reach), 160))])
    weight = np.exp(found[:, 0] - found[:, 0].max())
    at = predicted(*likeliest(kind))[1]
    return np.sqrt(np.sum(weight * (found[:, 2] + (found[:, 1] - at) ** 2)) / np.sum(weight))


@lru_cache
def likeliest(kind):
    """√C₀ and L of sixteen benchmarks by restricted maximum likelihood, offset only, with NumPy and SciPy."""
    x, y, e, s = sixteen()
    d = np.hypot(x[:, None] - x, y[:, None] - y)
    a = np.ones((len(x), 1))

    def minus(unknowns):
        c0, length = np.exp(2 * unknowns[0]), np.exp(unknowns[1])
        fall = np.exp(-d / length)
        c = c0 * (fall if kind == "exponential" else (1 + d / length) * fall) + np.diag(s * s)
        inverse = np.linalg.inv(c)
        normal = a.T @ inverse @ a
        left = e - a @ np.linalg.solve(normal, a.T @ inverse @ e)
        return .5 * (np.linalg.slogdet(c)[1] + np.linalg.slogdet(normal)[1] + left @ inverse @ left)

    found = optimize.minimize(minus, [np.log(.02), np.log(15000)], method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-13})
    return np.exp(found.x)


def height_surface(row):
    name, quantity, of = row["set"], row["quantity"], row["of"]
    if quantity == "likely-sigma":
        return {"expected": likely(name.removeprefix("likeliest "), *map(float, of.split()))}
    if name.startswith("likeliest"):
        return {"expected": likeliest(name.removeprefix("likeliest "))[0 if quantity == "sigma" else 1]}
    own = surface(name)
    if quantity == "coefficient":
        return {"expected": own.b[int(of)]}
    if quantity == "coefficient-sigma":
        return {"expected": sqrt(own.cofactor[int(of), int(of)])}
    if quantity == "weighted-squares":
        return {"expected": own.squares}
    if quantity in ("left-out", "left-out-sigma"):
        return {"expected": own.without(int(of))[quantity]}
    if quantity == "transfer-sigma":
        d, length = mpf(of), own.length
        return {"expected": sqrt(2 * mpf(OWN) ** 2 + 2 * (own.c0 - signal(own.kind, own.c0, length, d)))}
    place = of.split(" ")
    found = own.at(place[0], place[1])
    if len(place) < 3:
        return {"expected": found[quantity]}
    # A height from the same base is off by its error too, which the weights of that base bring in as well.
    brought = sum(weight for weight, group in zip(found["weights"], own.shared) if group == place[2])
    return {"expected": sqrt(found["variance"] + own.base * (1 - 2 * brought))}
