"""Networks by full matrices, with NumPy: no elimination, no blocks, no shared unknowns unless a row asks for them."""

import csv
from functools import lru_cache
from pathlib import Path

import numpy as np
from scipy import optimize, sparse, stats
from scipy.sparse.linalg import spsolve

VECTORS = Path(__file__).resolve().parents[2] / "tests" / "core" / "network" / "thirteen-vectors.csv"
HELD = {"A": (402.35087, -4652995.30109, 4349760.77753), "B": (8086.03178, -4642712.84739, 4360439.08326)}
AXES = "XYZ"
STACK_LOSS = np.array([
    (80, 27, 89, 42), (80, 27, 88, 37), (75, 25, 90, 37), (62, 24, 87, 28), (62, 22, 87, 18), (62, 23, 87, 18), (62, 24, 93, 19),
    (62, 24, 93, 20), (58, 23, 87, 15), (58, 18, 80, 14), (58, 18, 89, 14), (58, 17, 88, 13), (58, 18, 82, 11), (58, 19, 93, 12),
    (50, 18, 89, 8), (50, 18, 86, 7), (50, 19, 72, 8), (50, 19, 79, 8), (50, 20, 80, 9), (56, 20, 82, 15), (70, 20, 91, 15),
], dtype=float)


def networks(row):
    name, quantity, of = row["set"], row["quantity"], row["of"]
    if name == "noncentrality" and quantity == "shift":
        level, power, _ = row.numbers("of")
        return {"expected": stats.norm.isf(level / 2) + stats.norm.isf(1 - power)}
    if name == "noncentrality":
        return {"expected": noncentrality(*row.numbers("of"))}
    if name == "b-method":
        return {"expected": b_method(int(of))[0 if quantity == "level-percent" else 1]}
    if name == "stack-loss":
        return {"expected": stack_loss(quantity, of)}
    table = {"thirteen": lambda: thirteen(("A", "B")), "thirteen-minimal": lambda: thirteen(("A",)), "shared-base": shared_base,
             "seeded-20": lambda: seeded(20), "seeded-1000": lambda: seeded(1000), "seeded-50000": lambda: seeded(50000), "least-sum": least_sum,
             "distorted": distorted}[name]()
    return {"expected": table[quantity, of]}


def noncentrality(level, power, degrees):
    """Of a two-sided test of one number the usual sum of two quantiles; of more, the noncentral chi-square distribution itself."""
    limit = stats.chi2.isf(level, degrees)
    return optimize.brentq(lambda value: stats.ncx2.sf(limit, degrees, value) - power, 1e-6, 200, xtol=1e-13)


def b_method(degrees):
    value = noncentrality(0.001, 0.8, 1)
    limit = optimize.brentq(lambda x: stats.ncx2.sf(x, degrees, value) - 0.8, 1e-3, 500, xtol=1e-12)
    return 100 * stats.chi2.sf(limit, degrees), limit / degrees


@lru_cache
def thirteen(held):
    with VECTORS.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    names = sorted({row[end] for row in rows for end in ("from_id", "to_id")} - set(held))
    design, observed = np.zeros((39, 3 * len(names))), np.zeros(39)
    weight = np.zeros((39, 39))
    start = np.array(HELD["A"])
    for k, row in enumerate(rows):
        rows3 = slice(3 * k, 3 * k + 3)
        observed[rows3] = [float(row[f"d{axis}_m"]) for axis in "xyz"]
        for end, sign in (("to_id", 1), ("from_id", -1)):
            if row[end] in held:
                observed[rows3] -= sign * (np.array(HELD[row[end]]) - start)
            else:
                column = 3 * names.index(row[end])
                design[rows3, column:column + 3] = sign * np.eye(3)
        c = {pair: float(row[f"cov_{pair}_m2"]) for pair in ("xx", "xy", "xz", "yy", "yz", "zz")}
        weight[rows3, rows3] = np.linalg.inv([[c["xx"], c["xy"], c["xz"]], [c["xy"], c["yy"], c["yz"]], [c["xz"], c["yz"], c["zz"]]])
    cofactor = np.linalg.inv(design.T @ weight @ design)
    x = cofactor @ design.T @ weight @ observed
    v = design @ x - observed
    own = np.linalg.inv(weight) - design @ cofactor @ design.T
    spread = weight @ own @ weight
    force = weight @ v
    squares = v @ weight @ v
    freedom = 39 - x.size
    found = {("sum-of-squares", ""): squares, ("degrees-of-freedom", ""): freedom, ("redundancy-sum", ""): np.trace(own @ weight)}
    found["variance-factor", ""] = squares / freedom
    found["global-low", ""], found["global-high", ""] = stats.chi2.ppf((0.025, 0.975), freedom)
    share = 0.95 ** (1 / 39)
    t = stats.t.ppf(1 - (1 - share) / 2, freedom - 1)
    found["studentised", "A-E X"] = abs(force[3] / np.sqrt(spread[3, 3])) / np.sqrt(squares / freedom)
    found["pope-critical", ""] = np.sqrt(freedom) * t / np.sqrt(freedom - 1 + t * t)
    for i, name in enumerate(names):
        for a in range(3):
            found["coordinate", f"{name} {AXES[a]}"] = x[3 * i + a] + start[a]
            found["sigma", f"{name} {AXES[a]}"] = np.sqrt(cofactor[3 * i + a, 3 * i + a])
    shift = (stats.norm.isf(0.025) + stats.norm.isf(0.2))
    for k, row in enumerate(rows):
        rows3 = slice(3 * k, 3 * k + 3)
        pair = f"{row['from_id']}-{row['to_id']}"
        others = np.linalg.solve(spread[rows3, rows3], force[rows3])
        found["block-test", pair] = force[rows3] @ others
        found["vector-redundancy", pair] = np.trace((own @ weight)[rows3, rows3])
        for a in range(3):
            i = 3 * k + a
            of = f"{pair} {AXES[a]}"
            found["residual", of] = v[i]
            found["redundancy", of] = (own @ weight)[i, i]
            found["w", of] = force[i] / np.sqrt(spread[i, i])
            found["detectable", of] = shift / np.sqrt(spread[i, i])
            found["others-minus-observed", of] = others[a]
    if "B" in names:
        at = 3 * names.index("B")
        d = x[at:at + 3] + start - np.array(HELD["B"])
        found["control-test", "B"] = d @ np.linalg.solve(cofactor[at:at + 3, at:at + 3], d)
        found["control-limit", "0.05 3"] = stats.chi2.isf(0.05, 3)
        found["control-f", "B"] = found["control-test", "B"] / 3 / found["variance-factor", ""]
        found["control-f-limit", "0.05 3"] = stats.f.isf(0.05, 3, freedom)
        for a in range(3):
            found["control-difference", f"B {AXES[a]}"] = d[a]
    return found


@lru_cache
def least_sum():
    """Least sum of absolute whitened residuals of the thirteen vectors, as a linear programme."""
    with VECTORS.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    names = ["C", "D", "E", "F"]
    design, observed = np.zeros((39, 12)), np.zeros(39)
    root = np.zeros((39, 39))
    start = np.array(HELD["A"])
    for k, row in enumerate(rows):
        rows3 = slice(3 * k, 3 * k + 3)
        observed[rows3] = [float(row[f"d{axis}_m"]) for axis in "xyz"]
        for end, sign in (("to_id", 1), ("from_id", -1)):
            if row[end] in HELD:
                observed[rows3] -= sign * (np.array(HELD[row[end]]) - start)
            else:
                column = 3 * names.index(row[end])
                design[rows3, column:column + 3] = sign * np.eye(3)
        c = {pair: float(row[f"cov_{pair}_m2"]) for pair in ("xx", "xy", "xz", "yy", "yz", "zz")}
        weight = np.linalg.inv([[c["xx"], c["xy"], c["xz"]], [c["xy"], c["yy"], c["yz"]], [c["xz"], c["yz"], c["zz"]]])
        root[rows3, rows3] = np.linalg.cholesky(weight).T
    x, total = absolute_sum(root @ design, root @ observed)
    weight = root.T @ root
    least_squares = np.linalg.solve(design.T @ weight @ design, design.T @ weight @ observed)
    found = {("least-sum", ""): total}
    for i, name in enumerate(names):
        for a in range(3):
            found["least-sum-shift", f"{name} {AXES[a]}"] = (x - least_squares)[3 * i + a]
    return found


def absolute_sum(design, observed):
    n, u = design.shape
    objective = np.r_[np.zeros(u), np.ones(2 * n)]
    solved = optimize.linprog(objective, A_eq=np.c_[design, np.eye(n), -np.eye(n)], b_eq=observed,
                              bounds=[(None, None)] * u + [(0, None)] * (2 * n), method="highs")
    return solved.x[:u], solved.fun


def huber(design, observed, k=1.345):
    """Least squares weighted anew by min(1, k s / |v|) with s the median of |v| over 0.6745, until nothing changes."""
    x = np.linalg.lstsq(design, observed, rcond=None)[0]
    for _ in range(2000):
        v = observed - design @ x
        scale = np.median(np.abs(v)) / 0.6745
        root = np.sqrt(np.minimum(1, k * scale / np.maximum(np.abs(v), 1e-300)))
        x = np.linalg.lstsq(design * root[:, None], observed * root, rcond=None)[0]
    return x, scale


def stack_loss(quantity, of):
    design = np.c_[np.ones(21), STACK_LOSS[:, :3]]
    if quantity == "least-squares":
        return np.linalg.lstsq(design, STACK_LOSS[:, 3], rcond=None)[0][int(of)]
    if quantity.startswith("huber"):
        x, scale = huber(design, STACK_LOSS[:, 3])
        return scale if quantity == "huber-scale" else x[int(of)]
    x, total = absolute_sum(design, STACK_LOSS[:, 3])
    return total if quantity == "least-sum" else x[int(of)]


@lru_cache
def shared_base():
    """Heights of three points from two bases: the full covariance, and the wrong ways."""
    rows = [("B1", 1, "P1", 25.012, 10), ("B1", 1, "P2", 40.031, 20), ("B1", 2, "P1", 24.985, 10),
            ("B2", 1, "P2", -59.972, 30), ("B2", 1, "P3", -80.010, 25), ("B1", 2, "P3", 19.979, 35)]
    height = {"B1": 100.0, "B2": 200.0}
    observed = np.array([height[base] + dh for base, _, _, dh, _ in rows])
    own = np.array([0.010**2 + (0.0005 * d) ** 2 for *_, d in rows])
    full = np.diag(own)
    for i, a in enumerate(rows):
        for j, b in enumerate(rows):
            full[i, j] += 0.010**2 * (a[0] == b[0]) + 0.008**2 * (a[:2] == b[:2])
    points = ["P1", "P2", "P3"]
    design = np.array([[1.0 * (row[2] == point) for point in points] for row in rows])
    found = {}
    for name, covariance in (("", full), (" base ignored", np.diag(own)), (" diagonal", np.diag(np.diag(full)))):
        weight = np.linalg.inv(covariance)
        q = np.linalg.inv(design.T @ weight @ design)
        x = q @ design.T @ weight @ observed
        v = design @ x - observed
        for i, point in enumerate(points):
            found["height", point + name] = x[i]
            found["sigma", point + name] = np.sqrt(q[i, i])
        if name == "":
            found["sum-of-squares", ""] = v @ weight @ v
            for i, j in ((0, 1), (1, 2)):
                found["relative-sigma", f"{points[i]} {points[j]}"] = np.sqrt(q[i, i] + q[j, j] - 2 * q[i, j])
            for of, shared in (("B1", [row[0] == "B1" for row in rows]), ("B2", [row[0] == "B2" for row in rows])):
                found["base-offset", of] = 0.010**2 * np.array(shared, float) @ weight @ v
            for of in (("B1", 1), ("B1", 2), ("B2", 1)):
                found["day-offset", f"{of[0]} {of[1]}"] = 0.008**2 * np.array([row[:2] == of for row in rows], float) @ weight @ v
    return found


def uniforms(count):
    """Numbers of a linear congruence from 0 to 1, the next 4096 of each state at once."""
    factor, addend, modulus = 1103515245, 12345, 2**31
    factors, addends = np.empty(4096, np.uint64), np.empty(4096, np.uint64)
    a, c = 1, 0
    for k in range(4096):
        a, c = factor * a % modulus, (factor * c + addend) % modulus
        factors[k], addends[k] = a, c
    states, state = [], np.uint64(20260304)
    for _ in range(count // 4096 + 1):
        states.append((factors * state + addends) % np.uint64(modulus))
        state = states[-1][-1]
    return np.concatenate(states) / modulus


@lru_cache
def made(count):
    """Points from four bases on five days, made by a linear congruence: bases, stated and true, and vectors with their sigmas."""
    draws, at = uniforms(1000 + 118 * count), 0

    def u(n):
        nonlocal at
        at += n
        return draws[at - n:at]

    def g():
        return u(36).reshape(3, 12).sum(axis=1) - 6

    bases = np.array([(0, 0, 0), (40000, 5000, 120), (15000, 45000, -60), (60000, 52000, 340)], float)
    base_error = np.array([0.010 * g() for _ in range(4)])
    day_error = np.array([[0.005 * g() for _ in range(5)] for _ in range(4)])
    truth = u(3 * count).reshape(count, 3) * (60000, 60000, 400)
    vectors = []
    for p in range(count):
        for _ in range(1 + int(3 * u(1)[0])):
            b, d = (int(one) for one in u(2) * (4, 5))
            vectors.append((b, d, p, g()))
    base, day, point = (np.array([row[k] for row in vectors]) for k in range(3))
    length = np.hypot(*(truth[point] - bases[base])[:, :2].T) / 1000
    plan, height = np.hypot(0.008, 0.0005 * length), np.hypot(0.015, 0.001 * length)
    sigma = np.array([plan, plan, height]).T
    noise = np.array([row[3] for row in vectors])
    vector = truth[point] - bases[base] - base_error[base] - day_error[base, day] + sigma * noise
    return bases, base, day, point, truth, vector, sigma


@lru_cache
def seeded(count):
    """Points from four bases on five days, made by a linear congruence; base and day errors as unknowns with a prior."""
    bases, base, day, point, _, vector, sigma = made(count)
    squares, found = 0.0, {}
    solved = np.zeros((count, 3))
    rows, shared = np.arange(len(vector)), np.arange(24)
    i = np.concatenate([rows, rows, rows, len(vector) + shared])
    j = np.concatenate([point, count + base, count + 4 + 5 * base + day, count + shared])
    value = np.repeat([1.0, -1.0, -1.0, 1.0], [len(vector)] * 3 + [24])
    design = sparse.csc_matrix((value, (i, j)))
    prior = np.repeat([0.010, 0.005], [4, 20]) ** -2
    for a in range(3):
        p = sparse.diags(np.concatenate([sigma[:, a] ** -2, prior]))
        l = np.concatenate([vector[:, a] + bases[base, a], np.zeros(24)])
        x = spsolve((design.T @ p @ design).tocsc(), design.T @ p @ l)
        squares += float((design @ x - l) @ (p @ (design @ x - l)))
        solved[:, a] = x[:count]
    found["sum-of-squares", ""] = squares
    found["vectors", ""] = len(vector)
    found["degrees-of-freedom", ""] = 3 * len(vector) - 3 * count
    for name, p in (("first", 0), ("last", count - 1)):
        for a in range(3):
            found["coordinate", f"{name} {AXES[a]}"] = solved[p, a]
    return found


@lru_cache
def distorted():
    """The made network of 100 points where the equator meets Greenwich, up along X, with three distortions planted: by full matrices."""
    bases, base, day, point, truth, vector, sigma = made(100)
    turned = [2, 0, 1]
    place = lambda local: local[:, turned] + (6378137.0, 0, 0)
    bases, truth, vector, sigma = place(bases), place(truth), vector[:, turned], sigma[:, turned]
    n, wide = len(vector), 3 * 124 + 3
    names = ("scale of base B2", "turn about up of base B3", "zenith delay of base B4")

    def columns(points, stations):
        found = np.zeros((3, n, 3))
        for k in range(n):
            start, end = stations[base[k]], points[point[k]]
            if base[k] == 1:
                found[0, k] = end - start
            if base[k] == 2:
                found[1, k] = np.cross(upward(start), end - start)
            if base[k] == 3:
                found[2, k] = upward(end) * (height(end) - height(start))
        return found * 1e-6

    vector = vector + np.tensordot((3.0, -2.0, 500.0), columns(truth, bases), 1)
    weight = np.concatenate([sigma.ravel() ** -2, np.repeat([0.010, 0.005], [12, 60]) ** -2])

    def solved(without):
        points, stations = truth.copy(), bases.copy()
        for _ in range(5):
            design, observed = np.zeros((3 * n + 72, wide)), np.zeros(3 * n + 72)
            design[:3 * n, 372:] = columns(points, stations).reshape(3, -1).T
            for k in range(n):
                for a in range(3):
                    design[3 * k + a, 3 * point[k] + a] = 1
                    design[3 * k + a, 300 + 3 * base[k] + a] = -1
                    design[3 * k + a, 312 + 3 * (5 * base[k] + day[k]) + a] = -1
                    observed[3 * k + a] = vector[k, a] - (points[point[k]] - stations[base[k]])[a]
            design[3 * n:, 300:372] = np.eye(72)
            observed[3 * n:3 * n + 12] = (bases - stations).ravel()
            kept = [c for c in np.unique(np.nonzero(design)[1]) if c not in without]
            own = design[:, kept]
            q = np.linalg.inv((own.T * weight) @ own)
            x = np.zeros(wide)
            x[kept] = q @ own.T @ (weight * observed)
            v = design @ x - observed
            points, stations = points + x[:300].reshape(-1, 3), stations + x[300:312].reshape(-1, 3)
        return v @ (weight * v), x[-3:], np.sqrt(np.diag(q)[-3:]), len(observed) - len(kept)

    whole, value, deviation, freedom = solved(())
    found = {("sum-of-squares", ""): whole, ("degrees-of-freedom", ""): freedom}
    for k, name in enumerate(names):
        found["distortion", name] = value[k]
        found["distortion-sigma", name] = deviation[k]
        found["distortion-test", name] = solved((372 + k,))[0] - whole
    return found


def height(at):
    """Height above the GRS 80 ellipsoid, metres: along the normal from where it meets the surface."""
    flattening = 1 / 298.257222101
    e2 = flattening * (2 - flattening)
    normal = upward(at)
    foot = 6378137.0 / np.sqrt(1 - e2 * normal[2] ** 2) * normal * (1, 1, 1 - e2)
    return (at - foot) @ normal


def upward(at):
    """The outward normal of the GRS 80 ellipsoid at a place, from a latitude found by repetition."""
    flattening = 1 / 298.257222101
    e2 = flattening * (2 - flattening)
    across = np.hypot(at[0], at[1])
    latitude = np.arctan2(at[2], across * (1 - e2))
    for _ in range(20):
        curve = 6378137.0 / np.sqrt(1 - e2 * np.sin(latitude) ** 2)
        latitude = np.arctan2(at[2] + e2 * curve * np.sin(latitude), across)
    east = np.arctan2(at[1], at[0])
    return np.array([np.cos(latitude) * np.cos(east), np.cos(latitude) * np.sin(east), np.sin(latitude)])
