"""The orbit of a journal by scipy's solve_ivp, with the mobility of the short bearing at L/D = 0.4.

Reads the drive, the swing of the rod and the number of cycles, then crank angle in degrees and load in N by line; prints the
time in ns and the largest eccentricity of the last cycle.
"""
import sys
import time
from math import cos, hypot, pi, radians, sin, sqrt

import numpy as np
from scipy.integrate import solve_ivp

drive, swing, cycles = (float(x) for x in sys.stdin.readline().split())
table = np.array([[float(x) for x in line.split()] for line in sys.stdin])
start, period = radians(table[0, 0]), radians(table[-1, 0] - table[0, 0])
fx, fy, steps = table[:, 1].tolist(), table[:, 2].tolist(), len(table) - 1
scale = drive / (pi * 0.4 * 0.4)


def right(crank, e):
    place = ((crank - start) % period) / period * steps
    i = min(int(place), steps - 1)
    part = place - i
    lx, ly = fx[i] + part * (fx[i + 1] - fx[i]), fy[i] + part * (fy[i + 1] - fy[i])
    x, y = e
    half = (1 + swing * cos(crank) / sqrt(1 - (swing * sin(crank)) ** 2)) / 2
    w = hypot(lx, ly)
    if w == 0:
        return [-half * y, half * x]
    gap = max(0.0, 1 - (x * lx + y * ly) / w)
    along = scale * gap**2.5
    across = -4 / pi * scale * (y * lx - x * ly) / w * gap**1.5
    return [along * lx - across * ly - half * y, along * ly + across * lx + half * x]


begin = time.perf_counter_ns()
end = start + cycles * period
found = solve_ivp(right, (start, end), [0.0, 0.0], rtol=1e-7, atol=1e-7, t_eval=np.linspace(end - period, end, steps + 1))
print(time.perf_counter_ns() - begin, np.hypot(*found.y).max())
