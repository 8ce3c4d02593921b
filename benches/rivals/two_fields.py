"""The exported problem of two fields by SciPy's stiff integrators, banded where they can be.

usage: two_fields.py PROBLEM REPEATS
prints for each method one line a tolerance: rtol, time to the rise [s], steps, least processor time [us]
"""

import sys
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.sparse import diags

SIGMA = 5.670374419e-8
numbers = iter(open(sys.argv[1]).read().split())
repeats = int(sys.argv[2])


def take(count):
    return [float(next(numbers)) for _ in range(count)]


n = int(next(numbers))
h, temp_gas, p_gas, q_rad, emissivity, temp_surround, temp_start, rise, t_end = take(9)
rv, t0, latent, c_liquid, c_vapour, datum, power, pressure, open_air, a, b, c, temp_low = take(13)
scale, low, high, t_iso, q0, fall, roundness, film = take(8)
growth, air_fit, (air_low, air_high) = take(7), take(5), take(2)
c0, c1, start, binds, at_65, pores = np.array(take(6 * n)).reshape(n, 6).T.copy()
cell, dx, k0, k1, openness, cut_off, k_wet = np.array(take(7 * (n - 1))).reshape(n - 1, 7).T.copy()
binds, cell = binds == 1.0, cell == 1.0
bare, joints = np.flatnonzero(~binds), np.flatnonzero(~cell)
per_length = np.where(cell, openness, 1.0) / dx
share = np.where(cell, cut_off, open_air)
exchange, thickness = k0[joints], dx[joints]
k0, k1 = np.where(cell, k0, 0.0), np.where(cell, k1, 0.0)


def stefan(p, share):
    air = 1.0 - p / pressure
    held = np.maximum(air, share)
    return (held - air) / share - np.log(held)


def transport(temp):
    return datum * np.polynomial.polynomial.polyval(np.sqrt(temp / t0), growth)


def k_air(temp):
    held = np.clip(temp, air_low, air_high)
    return np.polynomial.polynomial.polyval(1e-3 * held, air_fit)


def rates(T, w):
    ratio = w / at_65
    over = 1.0 / (np.maximum(T, temp_low) - c)
    sat = np.exp(a - b * over)
    sat_t = np.where(temp_low <= T, sat * b * over**2, 0.0)
    liquid, gas = c_liquid * (T - t0), latent + c_vapour * (T - t0)
    z = ratio / scale
    bend = low + high - (high - low) * z
    root = np.sqrt(bend**2 + 4.0 * low * high * z**2)
    total = root + np.abs(bend)
    phi = np.where(bend >= 0.0, 2.0 * low * high * z / total, total / (2.0 * z))
    phi_z = (low + phi) * (high - phi) / (scale * root)
    filled = 1.0 + fall * ratio
    binding, warmer = q0 / filled, (1.0 / t_iso - 1.0 / T) / rv
    loosened = np.exp(binding * warmer)
    x = phi * loosened
    x_t = x * binding / (rv * T**2)
    x_z = phi_z * loosened - fall * x * binding * warmer / filled
    s = np.sqrt((1.0 - x) ** 2 + 4.0 * roundness * x)
    activity = 2.0 * x / (1.0 + x + s)
    by_x = (1.0 - activity) / s
    p = activity * sat
    room = pores / (rv * T)
    airborne = room * p
    store_t = room * (by_x * x_t * sat + activity * sat_t) - airborne / T
    airborne_w = room * by_x * x_z * sat / at_65
    cap = c0 + c1 * T + c_liquid * w + store_t * gas + c_vapour * airborne
    heat_w = liquid - binding + airborne_w * gas
    store_w = 1.0 + airborne_w
    y = ratio[bare]
    p[bare] = sat[bare] * y / (1.0 + y**8) ** 0.125
    cap[bare] = (c0 + c1 * T + c_liquid * w)[bare]
    heat_w[bare], store_t[bare], store_w[bare] = liquid[bare], 0.0, 1.0

    mean, diff = 0.5 * (T[:-1] + T[1:]), T[:-1] - T[1:]
    j = transport(mean) * per_length * (stefan(p[:-1], share) - stefan(p[1:], share))
    beyond = np.maximum(ratio - 1.0, 0.0)
    k = k0 + k1 * mean + 0.5 * k_wet * (beyond[:-1] + beyond[1:])
    q = k * diff / dx + j * (latent + c_vapour * (mean - t0))
    sent = SIGMA * exchange * (T[joints] ** 4 - T[joints + 1] ** 4)
    q[joints] += k_air(mean[joints]) / thickness * diff[joints] + sent
    between = 0.5 * (temp_gas + T[0])
    drop = stefan(p_gas, open_air) - stefan(p[0], open_air)
    j_in = transport(between) * h / k_air(between) * drop
    q_in = h * (temp_gas - T[0]) + q_rad - emissivity * SIGMA * (T[0] ** 4 - temp_surround**4)
    heat = np.concatenate([[q_in + j_in * gas[0]], q]) - np.concatenate([q, [0.0]])
    held = np.concatenate([[j_in], j]) - np.concatenate([j, [0.0]])
    det = cap * store_w - heat_w * store_t
    return (heat * store_w - heat_w * held) / det, (cap * held - store_t * heat) / det


def rhs(t, unknowns):
    out = np.empty(2 * n)
    out[0::2], out[1::2] = rates(unknowns[0::2], unknowns[1::2])
    return out


def over(t, unknowns):
    return unknowns[2 * n - 2] - temp_start - rise


over.terminal = True
np.seterr(all="ignore")
first = np.empty(2 * n)
first[0::2], first[1::2] = temp_start, start
band = diags([np.ones(2 * n - abs(k)) for k in range(-3, 4)], range(-3, 4))
print("# SciPy", scipy.__version__, "numpy", np.__version__)
for method in ("BDF", "Radau", "LSODA"):
    how = {"lband": 3, "uband": 3} if method == "LSODA" else {"jac_sparsity": band}
    print("#", method)
    for rtol in (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5):
        atol = np.empty(2 * n)
        atol[0::2], atol[1::2] = 1e-6, 1e-3 * rtol * at_65
        best = np.inf
        for _ in range(repeats):
            begin = time.process_time()
            got = solve_ivp(rhs, (0.0, t_end), first, method, rtol=rtol, atol=atol, events=over, **how)
            best = min(best, time.process_time() - begin)
        if len(got.t_events[0]):
            print(f"{rtol:g} {got.t_events[0][0]:.12g} {len(got.t) - 1} {1e6 * best:.3f}")
