"""A Gaussian process of fixed hyperparameters on fixed data, by scikit-learn.

    pip install scikit-learn && python kriging.py

Kernel 0.3^2 * RBF([0.7, 1.5]), prior mean 0, a variance of its own for every observation.
"""
from importlib.metadata import version
from pathlib import Path

import numpy as np
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel

rng = np.random.default_rng(17492)
seen = rng.uniform(-1.5, 1.5, (8, 2)).round(3)
value = rng.normal(0, 0.3, 8).round(3)
variance = rng.uniform(0.001, 0.02, 8).round(4)
asked = rng.uniform(-2.5, 2.5, (12, 2)).round(3)
kernel = ConstantKernel(0.09, "fixed") * RBF([0.7, 1.5], "fixed")
process = GaussianProcessRegressor(kernel, alpha=variance, optimizer=None).fit(seen, value)
mean, deviation = process.predict(asked, return_std=True)
with open(Path(__file__).parent / "kriging.csv", "w") as file:
    file.write(f"# By scikit-learn {version('scikit-learn')} and kriging.py beside it; invented data.\n")
    file.write("# kind 0: an observation (value, variance of its error); kind 1: a place asked for (mean, deviation).\n")
    file.write("kind,x1,x2,value_or_mean,variance_or_deviation\n")
    for (a, b), y, v in zip(seen, value, variance):
        file.write(f"0,{a},{b},{y},{v}\n")
    for (a, b), m, s in zip(asked, mean, deviation):
        file.write(f"1,{a},{b},{m:.12f},{s:.12f}\n")
