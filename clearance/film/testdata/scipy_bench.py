"""The film of a plain journal bearing by scipy's direct sparse solver, beside which the benchmarks of the package
stand. Finite volumes on evenly spaced columns over the full turn and rows over half the width; the end of the film by
active sets: solve, hold at zero what comes out below it, let go what would be pushed up, until nothing changes.

    scipy_bench.py RATIO ECCENTRICITY COLUMNS ROWS REPEATS

prints the least time of a solution in nanoseconds, the Sommerfeld number and P over the largest pressure.
"""
import sys
import time

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import spsolve


def solve(ratio, e, n, m):
    theta = 2 * np.pi * np.arange(n + 1) / n
    dt, dz = 2 * np.pi / n, 1 / m
    h = 1 + e * np.cos(theta)
    face = 1 + e * np.cos(theta[:-1] + dt / 2)
    row = np.full(m, dz)
    row[0] = dz / 2  # the middle, about which the film is symmetric
    inner = n - 1  # columns but the first, at ambient pressure
    a = face**3 / dt
    along = sparse.diags([-a[1:-1], a[:-1] + a[1:], -a[1:-1]], [-1, 0, 1], shape=(inner, inner))
    c = np.full(m, 1 / dz)
    diagonal = c + np.concatenate([[0], c[:-1]])
    across = sparse.diags([-c[:-1], diagonal, -c[:-1]], [-1, 0, 1], shape=(m, m))
    b = h[1:n] ** 3 * dt / ratio**2
    matrix = (sparse.kron(along, sparse.diags(row)) + sparse.kron(sparse.diags(b), across)).tocsr()
    right = np.kron(-(face[1:] - face[:-1]), row)

    p = np.zeros(inner * m)
    free = np.repeat(theta[1:n] < np.pi * 1.1, m)
    for _ in range(100):
        index = np.flatnonzero(free)
        p[:] = 0
        p[index] = spsolve(matrix[index][:, index].tocsc(), right[index])
        push = right - matrix @ p
        now = np.where(free, p >= 0, push > 0)
        if np.array_equal(now, free):
            break
        free = now
    p = p.reshape(inner, m)
    column = p @ row * dt
    w = np.hypot(column @ np.cos(theta[1:n]), column @ np.sin(theta[1:n]))
    return 1 / (6 * np.pi * w), w / 2 / p.max()


def main():
    ratio, e = float(sys.argv[1]), float(sys.argv[2])
    n, m, repeats = (int(a) for a in sys.argv[3:])
    best = float("inf")
    for _ in range(repeats):
        begin = time.perf_counter_ns()
        s, peak = solve(ratio, e, n, m)
        best = min(best, time.perf_counter_ns() - begin)
    print(best, repr(float(s)), repr(float(peak)))


main()
