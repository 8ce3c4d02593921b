"""Regenerates the computed tables of this folder; see README.md for their columns.

    pip install -r requirements.txt && python regenerate.py

Each table's first line says program and version. A table is only written after the
checks beside its function hold.
"""

import csv
import importlib.metadata
from pathlib import Path

import cantera
import CoolProp.CoolProp as CP
import ht
import mpmath as mp
import moving_vapour

HERE = Path(__file__).parent
mp.mp.dps = 40


def write(name, package, what, columns, rows):
    """Writes a table with its program and version in the first line."""
    version = importlib.metadata.version(package)
    with open(HERE / name, "w", newline="") as file:
        file.write(f"# Computed with {package} {version}. {what}\n")
        table = csv.writer(file, lineterminator="\n")
        table.writerow(columns)
        table.writerows(rows)
    print(name, len(rows), "rows")


def digits(value, n):
    return f"{float(value):.{n}g}"


def close(value, expected, tolerance, what):
    if not abs(value - expected) <= tolerance:
        raise SystemExit(f"{what}: {value} instead of {expected}")


def air():
    """Dry air at one atmosphere, 250 to 2000 K."""
    temps = list(range(250, 1001, 25)) + list(range(1050, 1501, 50)) + list(range(1600, 2001, 100))
    rows = []
    for temp in temps:
        keys = ["L", "D", "C", "V", "Prandtl"]
        values = [CP.PropsSI(key, "T", temp, "P", 101325, "Air") for key in keys]
        rows.append([temp] + [digits(value, 6) for value in values])
    write("air_coolprop.csv", "CoolProp",
          'Dry air at 101325 Pa, PropsSI(..., "Air"): Lemmon et al. 2000 and 2004.',
          ["temperature_K", "conductivity_W_mK", "density_kg_m3", "specific_heat_J_kgK",
           "viscosity_Pa_s", "prandtl"], rows)


def water():
    """Latent heat at 100 C; of liquid water mean specific heat from 25 to 100 C, conductivity
    and density at 330 K."""
    latent = (CP.PropsSI("H", "T", 373.15, "Q", 1, "Water")
              - CP.PropsSI("H", "T", 373.15, "Q", 0, "Water"))
    cold = CP.PropsSI("H", "T", 298.15, "Q", 0, "Water")
    mean = (CP.PropsSI("H", "T", 373.15, "Q", 0, "Water") - cold) / 75
    write("water_coolprop.csv", "CoolProp", 'Saturated water, PropsSI(..., "Water"): IAPWS-95, conductivity Huber et al. 2012.',
          ["quantity", "value", "unit"],
          [["latent_heat_100_C", digits(latent, 6), "J/kg"],
           ["mean_specific_heat_25_to_100_C", digits(mean, 6), "J/(kg K)"],
           ["conductivity_330_K", digits(CP.PropsSI("L", "T", 330, "Q", 0, "Water"), 6), "W/(m K)"],
           ["density_330_K", digits(CP.PropsSI("D", "T", 330, "Q", 0, "Water"), 6), "kg/m3"]])


def vapour():
    """Saturation pressure and latent heat of water from 5 to 110 C, and humid air: the pressure of
    the vapour in it at half of saturation."""
    rows = []
    for celsius in range(5, 111, 5):
        temp = 273.15 + celsius
        pressure = CP.PropsSI("P", "T", temp, "Q", 0, "Water")
        latent = (CP.PropsSI("H", "T", temp, "Q", 1, "Water")
                  - CP.PropsSI("H", "T", temp, "Q", 0, "Water"))
        humid = (CP.HAPropsSI("P_w", "T", temp, "P", 101325, "R", 0.5)
                 if celsius <= 95 else "")
        rows.append([celsius, digits(pressure, 6), digits(latent, 6),
                     digits(humid, 6) if humid != "" else ""])
    write("vapour_coolprop.csv", "CoolProp",
          'Saturated water, PropsSI(..., "Water"): IAPWS-95; humid air at 101325 Pa, HAPropsSI.',
          ["temperature_C", "saturation_Pa", "latent_heat_J_kg", "half_humid_Pa"], rows)


def moving():
    """Times of moist layups by an independent model."""
    write("moving_vapour.csv", "scipy",
          "Moist layups by the method of lines, moving_vapour.py.",
          ["case", "rise_12_s", "rise_24_s"], moving_vapour.rows())


def gap():
    """Nusselt numbers of gaps from ht, and the ElSherbiny form in 40 digits.

    ht's horizontal function is the 1984 form for any Prandtl number; its text prints
    Ra^(1/5) where the code has Ra^(1/3). ht has no ElSherbiny; its vertical function is
    Thess's from the VDI Heat Atlas, meant for Ra above 1e4, which falls below Nu = 1
    when height and gap are left out. Both serve as other voices, not as the same formula.
    """
    aspect, prandtl = 40, 0.7
    rows = []
    for ra in [1000, 1708, 2000, 3000, 5830, 7000, 10000, 20000, 50000, 100000]:
        grashof = ra / prandtl
        horizontal = ht.Nu_Nusselt_Rayleigh_Hollands(Pr=prandtl, Gr=grashof)
        sized = ht.Nu_Nusselt_vertical_Thess(Pr=prandtl, Gr=grashof, H=aspect, L=1)
        unsized = ht.Nu_Nusselt_vertical_Thess(Pr=prandtl, Gr=grashof)
        x = mp.mpf(ra)
        rise = mp.mpf("0.104") * x ** mp.mpf("0.293") / (1 + (6310 / x) ** mp.mpf("1.36"))
        exact = max(mp.mpf("0.0605") * mp.cbrt(x), mp.cbrt(1 + rise**3),
                    mp.mpf("0.242") * (x / aspect) ** mp.mpf("0.272"))
        rows.append([ra, prandtl, aspect] +
                    [digits(v, 10) for v in (horizontal, exact, sized, unsized)])
    close(ht.Nu_Nusselt_Rayleigh_Hollands(Pr=5.54, Gr=3.21e8), 69.02668649510164, 1e-9,
          "docstring of Hollands")
    write("gap_ht.csv", "ht", "Horizontal: Hollands 1984; vertical: Thess, VDI Heat Atlas; "
          f"ElSherbiny 1982 by mpmath {importlib.metadata.version('mpmath')}.",
          ["rayleigh", "prandtl", "aspect", "nusselt_horizontal_hollands_1984",
           "nusselt_vertical_elsherbiny_1982", "nusselt_vertical_thess_sized",
           "nusselt_vertical_thess_unsized"], rows)


def layer(p, k, rho_cp, thickness):
    """Transfer matrix of a layer: rise and flux at its face from those at its back."""
    m = mp.sqrt(p * rho_cp / k)
    z = m * thickness
    return mp.matrix([[mp.cosh(z), mp.sinh(z) / (k * m)], [k * m * mp.sinh(z), mp.cosh(z)]])


def invert(transform, t):
    """Inverse Laplace transform by two methods, which must agree to ten digits."""
    talbot = mp.invertlaplace(transform, t, method="talbot", degree=40)
    stehfest = mp.invertlaplace(transform, t, method="stehfest", degree=40)
    close(talbot, stehfest, 1e-10 * max(1, abs(talbot)), f"inverse Laplace at {t} s")
    return talbot


def two_layers():
    """Two layers in perfect contact, constant flux at the face, insulated back."""
    k1, c1, l1 = mp.mpf("0.05"), mp.mpf("4e5"), mp.mpf("0.0005")
    k2, c2, l2 = mp.mpf("0.25"), mp.mpf("1.5e6"), mp.mpf("0.001")
    q = mp.mpf(10000)

    def at(place):
        def transform(p):
            first, second = layer(p, k1, c1, l1), layer(p, k2, c2, l2)
            both = first * second
            back = q / p / both[1, 0]
            return {"face": both[0, 0], "interface": second[0, 0], "back": 1}[place] * back
        return transform

    rows = []
    for t in ["0.05", "0.2", "0.5", "1", "2", "5", "10", "20"]:
        rises = [invert(at(place), mp.mpf(t)) for place in ("face", "interface", "back")]
        rows.append([t] + [digits(value, 10) for value in rises])
    # All heat that came in is stored once the profile no longer changes: mean slope q/C.
    slope = (invert(at("back"), mp.mpf(90)) - invert(at("back"), mp.mpf(80))) / 10
    close(slope, q / (c1 * l1 + c2 * l2), 1e-8, "late slope of two layers")
    write("two_layer_wall.csv", "mpmath", "Inverse Laplace transform, 40 digits. Layer 1 k = 0.05 "
          "W/(m K) rho c = 4e5 J/(m3 K) 0.5 mm; layer 2 k = 0.25 rho c = 1.5e6 1 mm; "
          "q = 10 kW/m2 at x = 0; back insulated.",
          ["time_s", "rise_face_K", "rise_interface_K", "rise_back_K"], rows)


def slab_disc():
    """A slab under constant flux with a lumped disc in contact behind it."""
    cases = [("slow", "1e4", "0.001"), ("fast", "2e4", "0.002")]
    k, c, disc = mp.mpf("0.06"), mp.mpf("3.5e5"), mp.mpf("5514.72")
    rows = []
    for name, q, thickness in cases:
        q, thickness = mp.mpf(q), mp.mpf(thickness)

        def at(place):
            def transform(p):
                whole = layer(p, k, c, thickness) * mp.matrix([[1, 0], [disc * p, 1]])
                return (whole[0, 0] if place == "face" else 1) * q / p / whole[1, 0]
            return transform

        times = {"slow": ["0.5", "1", "2", "5", "9.8011", "15", "16.8743", "30"],
                 "fast": ["0.5", "1", "3", "7", "11.6221", "16.6305", "20", "30"]}[name]
        for t in times:
            face, back = (invert(at(place), mp.mpf(t)) for place in ("face", "disc"))
            rows.append([name, digits(q, 6), digits(thickness, 6), t,
                         digits(face, 10), digits(back, 10)])
    write("slab_and_disc.csv", "mpmath", "Inverse Laplace transform, 40 digits. Slab k = 0.06 "
          "W/(m K), rho c = 3.5e5 J/(m3 K); disc 5514.72 J/(m2 K) in contact, no loss.",
          ["case", "flux_W_m2", "thickness_m", "time_s", "rise_face_K", "rise_disc_K"], rows)


def convection():
    """Semi-infinite solid heated or cooled by convection: closed form."""
    def rise(x, t, temp_start, temp_fluid, h, k, alpha):
        root = mp.sqrt(alpha * t)
        eta = x / (2 * root)
        share = mp.erfc(eta) - mp.exp(h * x / k + h**2 * alpha * t / k**2) * mp.erfc(
            eta + h * root / k)
        return temp_start + share * (temp_fluid - temp_start)

    close(rise(mp.mpf("0.003"), 100, 393, 355, 50, 10, mp.mpf("4.029e-6")), 389.54, 0.01,
          "worked example hs120")
    rows = []
    cases = [("help", "393", "355", "50", "10", "4.029e-6", ["0", "0.003", "0.01"]),
             ("flame", "298.15", "2073.15", "40", "0.05", "1.25e-7", ["0", "0.0005", "0.002"])]
    for name, *given, places in cases:
        numbers = [mp.mpf(v) for v in given]
        for x in places:
            for t in {"help": ["10", "100", "1000"], "flame": ["0.5", "2", "10"]}[name]:
                value = rise(mp.mpf(x), mp.mpf(t), *numbers)
                rows.append([name, *given, x, t, digits(value, 10)])
    write("semi_infinite_convection.csv", "mpmath", "Closed form, Carslaw and Jaeger, 2nd ed., "
          "section 2.7, in 40 digits.",
          ["case", "temperature_start_K", "temperature_fluid_K", "conductance_W_m2K",
           "conductivity_W_mK", "diffusivity_m2_s", "position_m", "time_s", "temperature_K"], rows)


def propane():
    """Propane burnt with dry air: equilibrium at constant enthalpy, and complete combustion."""
    rows = []
    for ratio in (1.0, 1.25, 1.5, 1.75, 2.0, 2.25):
        gas = cantera.Solution("gri30.yaml")
        gas.TPX = 298.15, cantera.one_atm, {"C3H8": 1, "O2": 5 * ratio, "N2": 18.8 * ratio}
        gas.equilibrate("HP")
        complete = 4 / (7 + 5 * (ratio - 1) + 18.8 * ratio)
        if ratio > 1.4:
            close(gas["H2O"].X[0], complete, 0.001, "vapour without dissociation")
        rows.append([ratio, digits(gas.T, 6), digits(gas["H2O"].X[0], 4), digits(complete, 4)])
    write("burnt_propane.csv", "cantera", "Propane burnt with dry air from 25 °C at 1 atm, adiabatic: "
          "gri30.yaml, equilibrium; vapour_complete is 4/(2 + 23.8 n) at air ratio n.",
          ["air_ratio", "temperature_K", "vapour_share", "vapour_complete"], rows)


if __name__ == "__main__":
    air()
    water()
    vapour()
    moving()
    gap()
    two_layers()
    slab_disc()
    convection()
    propane()
