"""The exported three-ply problem by SciPy's stiff integrators, banded where they can be.

usage: integrate.py PROBLEM REPEATS
prints for each method one line a tolerance: rtol, time to the rise [s], steps, best time [us]
"""

import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.sparse import diags

SIGMA = 5.670374419e-8
numbers = np.array(open(sys.argv[1]).read().split(), dtype=float)
repeats = int(sys.argv[2])
n = int(numbers[0])
h, temp_gas, q_rad, emissivity, temp_surround, cap_disc, temp_start, rise, t_end = numbers[1:10]
dx, k0, k1, c0, c1 = numbers[10:].reshape(n, 5).T.copy()
half = 0.5 * dx


def rhs(t, temps):
    a, b = temps[:-1], temps[1:]
    q = (k0 + 0.5 * k1 * (a + b)) * (a - b) / dx
    rate = np.empty(n + 1)
    rate[0] = h * (temp_gas - a[0]) + q_rad - emissivity * SIGMA * (a[0] ** 4 - temp_surround**4)
    rate[1:] = q
    rate[:-1] -= q
    cap = np.zeros(n + 1)
    cap[n] = cap_disc
    cap[:-1] += half * (c0 + c1 * a)
    cap[1:] += half * (c0 + c1 * b)
    return rate / cap


def over(t, temps):
    return temps[n] - temp_start - rise


over.terminal = True
band = diags([np.ones(n), np.ones(n + 1), np.ones(n)], [-1, 0, 1])
print("# SciPy", scipy.__version__, "numpy", np.__version__)
for method in ("BDF", "Radau", "LSODA"):
    how = {"lband": 1, "uband": 1} if method == "LSODA" else {"jac_sparsity": band}
    print("#", method)
    for rtol in (3e-3, 1e-3, 5e-4, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6):
        best = np.inf
        for _ in range(repeats):
            start = time.perf_counter()
            got = solve_ivp(
                rhs, (0.0, t_end), np.full(n + 1, temp_start), method,
                rtol=rtol, atol=1e-6, events=over, **how,
            )
            best = min(best, time.perf_counter() - start)
        if len(got.t_events[0]):
            print(f"{rtol:g} {got.t_events[0][0]:.12g} {len(got.t) - 1} {1e6 * best:.3f}")
