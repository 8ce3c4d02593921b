"""The demo's two bench curves: the disc behind `demo-truth.toml`, every 0.25 s, with noise.

Invented for the demo: no bench was run. From the project's folder, with the program built:

    stillair expose materials/curves/demo-truth.toml --behind disc --until 20 --error 0.05 \
        --curves truth.csv
    python3 materials/curves/make.py truth.csv
"""
import csv
import random
import sys

rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8")))
times = [float(row["time_s"]) for row in rows]
rises = [float(row["disc_rise_C"]) for row in rows]


def rise(t):
    i = max(1, next(i for i, known in enumerate(times) if known >= t))
    share = (t - times[i - 1]) / (times[i] - times[i - 1])
    return rises[i - 1] + share * (rises[i] - rises[i - 1])


for specimen in (1, 2):
    noise = random.Random(specimen)
    name = f"materials/curves/demo-specimen-{specimen}.csv"
    with open(name, "w", encoding="utf-8") as out:
        out.write("# Invented for the demo: computed by make.py, with noise of 0.08 K; no bench was run.\n")
        out.write("time_s,temperature_rise_C\n")
        for i in range(81):
            t = 0.25 * i
            out.write(f"{t:.2f},{(rise(t) if t else 0.0) + noise.gauss(0, 0.08):.2f}\n")
