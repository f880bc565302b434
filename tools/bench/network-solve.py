"""Solves the normal equations of `network-numbers.bin` with SciPy's sparse solver: the solution alone, no variance, no test.

Covariances of the file are diagonal, so that X, Y and Z are three systems of a third of the size, which favours this side.
"""

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

BASES, DAYS = 4, 5
BASE_SIGMA_M, DAY_SIGMA_M = 0.010, 0.005
PLACES = np.array([(0, 0, 0), (120, 40_000, 5_000), (-60, 15_000, 45_000), (340, 60_000, 52_000)], float)

numbers = np.fromfile("network-numbers.bin").reshape(-1, 9)
base, day, point = numbers[:, :3].T.astype(int)
count = point.max() + 1
rows, shared = np.arange(len(numbers)), np.arange(BASES * (1 + DAYS))
i = np.concatenate([rows, rows, rows, len(numbers) + shared])
j = np.concatenate([point, count + base, count + BASES + DAYS * base + day, count + shared])
design = sparse.csc_matrix((np.repeat([1.0, -1.0, -1.0, 1.0], [len(rows)] * 3 + [len(shared)]), (i, j)))
prior = np.repeat([BASE_SIGMA_M, DAY_SIGMA_M], [BASES, BASES * DAYS]) ** -2
squares = 0.0
for axis in range(3):
    weight = sparse.diags(np.concatenate([1 / numbers[:, 6 + axis], prior]))
    observed = np.concatenate([numbers[:, 3 + axis] + PLACES[base, axis], np.zeros(len(shared))])
    x = spsolve((design.T @ weight @ design).tocsc(), design.T @ weight @ observed)
    v = design @ x - observed
    squares += float(v @ (weight @ v))
print(f"sum of squares {squares:.6f}")
