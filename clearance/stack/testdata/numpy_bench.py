"""Monte Carlo of a linear stack of five normal parts, vectorised with numpy.

Prints the nanoseconds that one trial takes on one core, the best of several
repeats. It finds what the Go side finds: mean, standard deviation, two
quantiles and how many trials lie outside limits. The sum is made in chunks that
stay in the cache, which is faster than one large array.

Usage: numpy_bench.py TRIALS REPEATS
"""

import sys
import time

import numpy as np

SIGMA = np.array([0.010, 0.013, 0.007, 0.011, 0.017])
MIDDLE = 0.1
LIMITS = (0.02, 0.18)


def simulate(trials, seed):
    rng = np.random.Generator(np.random.PCG64DXSM(seed))
    chunk = 1 << 14
    gap = np.empty(trials)
    parts = np.empty(chunk)
    for start in range(0, trials, chunk):
        out = gap[start:start + chunk]
        out[:] = MIDDLE
        part = parts[:len(out)]
        for sigma in SIGMA:
            rng.standard_normal(out=part)
            part *= sigma
            out += part
    outside = np.count_nonzero(gap < LIMITS[0]) + np.count_nonzero(gap > LIMITS[1])
    return gap.mean(), gap.std(ddof=1), np.quantile(gap, [0.025, 0.975]), outside


def main():
    trials, repeats = int(sys.argv[1]), int(sys.argv[2])
    simulate(1 << 14, 1)
    best = float("inf")
    for repeat in range(repeats):
        begin = time.perf_counter()
        simulate(trials, repeat)
        best = min(best, time.perf_counter() - begin)
    print(best / trials * 1e9)


main()
