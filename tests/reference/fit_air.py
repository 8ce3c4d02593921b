"""Fits the polynomials of src/physics/air.rs to CoolProp's dry air at 101325 Pa.

Prints coefficients in powers of x = T / 1000 K, lowest first, and the largest
relative error over the range of the fit and over 250 to 1500 K. The fit is
minimax in relative error by Lawson's reweighting. CoolProp's equations end at
2000 K; from there to 2300 K it extrapolates them.

    pip install -r requirements.txt && python fit_air.py
"""

import CoolProp.CoolProp as CP
import numpy as np

LO, HI, STEP = 200.0, 2300.0, 2.5
DEGREES = {"conductivity": 4, "kinematic viscosity": 4, "diffusivity": 5}


def air(temp):
    """Conductivity, kinematic viscosity and diffusivity of dry air at one atmosphere."""
    def prop(key):
        return CP.PropsSI(key, "T", temp, "P", 101325, "Air")

    rho = prop("D")
    return prop("L"), prop("V") / rho, prop("L") / (rho * prop("C"))


def minimax(x, y, degree):
    """Coefficients of the polynomial with the smallest largest relative error."""
    powers = np.vander(x, degree + 1, increasing=True) / y[:, None]
    weights = np.full(len(x), 1.0 / len(x))
    for _ in range(5000):
        root = np.sqrt(weights)
        coefficients = np.linalg.lstsq(powers * root[:, None], root, rcond=None)[0]
        error = np.abs(powers @ coefficients - 1)
        weights *= error + 1e-12
        weights /= weights.sum()
    return coefficients


def main():
    temps = np.arange(LO, HI + STEP / 2, STEP)
    values = np.array([air(temp) for temp in temps]).T
    inner = (temps >= 250) & (temps <= 1500)
    for (name, degree), y in zip(DEGREES.items(), values):
        scale = 10.0 ** np.floor(np.log10(y[-1]))
        c = minimax(temps / 1000, y / scale, degree)
        c = np.array([float(f"{v * scale:.6e}") for v in c])
        error = np.abs(np.polynomial.polynomial.polyval(temps / 1000, c) / y - 1)
        print(f"{name}: {', '.join(f'{v:.6e}' for v in c)}")
        print(f"  largest error {error.max():.3%} from {LO:g} to {HI:g} K, "
              f"{error[inner].max():.3%} from 250 to 1500 K")
    rho_temp = np.array([CP.PropsSI("D", "T", t, "P", 101325, "Air") * t for t in temps])
    gas = 101325 * CP.PropsSI("M", "Air") / CP.PropsSI("gas_constant", "Air")
    error = np.abs(gas / rho_temp - 1)
    print(f"density: molar mass {CP.PropsSI('M', 'Air'):.7g} kg/mol, "
          f"largest error {error.max():.3%}, {error[inner].max():.3%} from 250 to 1500 K")


if __name__ == "__main__":
    main()
