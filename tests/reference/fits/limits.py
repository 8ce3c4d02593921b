"""Prediction limits of made-up ratios by scipy, for the rule of `evidence::measured::support`.

Run from this folder: python limits.py > limits.csv
"""
import numpy as np
import scipy
from scipy.stats import t as student

print(f"# scipy {scipy.__version__}: 5 % and 95 % limits of one further observation, log-normal ratios")
print("# made up for the test; scipy.stats.t. Made by limits.py.")
print("ratios,lower,upper")
for ratios in (
    [0.57, 0.61, 0.66, 0.72, 0.87],
    [0.9, 1.1, 1.0, 0.95, 1.05, 1.02, 0.97, 1.2],
    [0.4, 0.8, 1.6, 0.5, 0.7, 0.9, 1.3, 0.65, 1.05, 0.75, 0.58],
):
    logs = np.log(ratios)
    half = student.ppf(0.95, len(logs) - 1) * logs.std(ddof=1) * np.sqrt(1 + 1 / len(logs))
    lower, upper = np.exp(logs.mean() - half), np.exp(logs.mean() + half)
    print(f"{' '.join(map(str, ratios))},{lower:.12f},{upper:.12f}")
