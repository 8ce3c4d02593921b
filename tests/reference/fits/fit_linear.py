"""A linear least-squares case solved by scipy, for the optimiser's test.

The data are a cubic's readings with fixed offsets, badly scaled on purpose. Run from this folder:
python fit_linear.py > fit_linear.csv
"""
import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.stats import t as student

x = np.linspace(0.5, 12.0, 24)
offsets = np.array([0.11, -0.07, 0.03, 0.16, -0.12, 0.05, -0.09, 0.02, 0.14, -0.15, 0.08, -0.04] * 2)
y = np.round(2.0 - 0.8 * x + 0.31 * x**2 - 0.012 * x**3 + offsets, 4)
matrix = np.column_stack([np.ones_like(x), x, x**2, x**3])
found = least_squares(lambda b: matrix @ b - y, np.ones(4), xtol=1e-15, ftol=1e-15, gtol=1e-15)
exact, rss, _, _ = scipy.linalg.lstsq(matrix, y)
assert np.allclose(found.x, exact, rtol=1e-9)
s2 = rss / (len(x) - 4)
covariance = s2 * np.linalg.inv(matrix.T @ matrix)
half = student.ppf(0.975, len(x) - 4) * np.sqrt(np.diag(covariance))
print(f"# scipy {scipy.__version__}, numpy {np.__version__}: scipy.linalg.lstsq, checked against")
print("# scipy.optimize.least_squares; half widths by scipy.stats.t. Made by fit_linear.py.")
print("# kind `parameter`: value, half of the 95 % interval; kind `sum`: residual sum of squares; kind `data`: y, x.")
print("kind,a,b")
for value, width in zip(exact, half):
    print(f"parameter,{value:.15e},{width:.15e}")
print(f"correlation,{covariance[0,1]/np.sqrt(covariance[0,0]*covariance[1,1]):.12f},")
print(f"sum,{rss:.15e},")
for row in zip(y, x):
    print(f"data,{row[0]:.4f},{row[1]:.1f}")
