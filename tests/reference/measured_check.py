"""Recomputes ratios and bands from what `stillair verify --csv` writes, apart from the program.

    stillair verify --only measured --csv predictions.csv
    python3 measured_check.py predictions.csv

Standard library alone. Measured values are taken from measured_bench.csv beside this script, never
from the predictions' file; that one gives the predictions. Prints CSV: what, n, low, high, lower, upper.
"""

import csv
import math
import sys
from pathlib import Path

HERE = Path(__file__).parent
WIDENING = 1.25


def read(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def student_95(freedom):
    """The 95 % point of Student's t, by Simpson's rule and bisection."""
    scale = math.exp(math.lgamma((freedom + 1) / 2) - math.lgamma(freedom / 2))
    scale /= math.sqrt(freedom * math.pi)

    def beyond_zero(t, n=4000):
        density = [scale * (1 + (i * t / n) ** 2 / freedom) ** (-(freedom + 1) / 2) for i in range(n + 1)]
        inner = 4 * sum(density[1:-1:2]) + 2 * sum(density[2:-1:2])
        return (density[0] + inner + density[-1]) * t / n / 3

    low, high = 0.0, 20.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if beyond_zero(middle) < 0.45 else (low, middle)
    return (low + high) / 2


def band(ratios):
    if len(ratios) < 5:
        return min(ratios) / WIDENING, max(ratios) * WIDENING
    logs = [math.log(r) for r in ratios]
    n = len(logs)
    mean = sum(logs) / n
    deviation = math.sqrt(sum((x - mean) ** 2 for x in logs) / (n - 1))
    half = student_95(n - 1) * deviation * math.sqrt(1 + 1 / n)
    return math.exp(mean - half), math.exp(mean + half)


def measured_of(rows):
    """Measured figures by the names under which the program shows them."""
    found = {}
    for row in rows:
        for of in ("HTI", "RHTI"):
            t24, between = float(row[f"{of}24_s"]), float(row[f"{of}24_less_{of}12_s"])
            t12 = t24 - between
            name = row["specimen"]
            found[f"{name} {of}12"] = t12
            found[f"{name} {of}24"] = t24
            found[f"{name} {of}24 − {of}12"] = between
            found[f"{name} dead time, {of}"] = t12 - between
            found[f"{name} first/second, {of}"] = t12 / between
        found[f"{row['specimen']} RHTI24/HTI24"] = float(row["RHTI24_s"]) / float(row["HTI24_s"])
    return found


def main(path):
    predictions = read(path)
    measured = measured_of(read(HERE / "measured_bench.csv"))
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["what", "n", "low", "high", "lower", "upper"])
    groups = {}
    for row in predictions:
        middle = (float(row["measured_low"]) + float(row["measured_high"])) / 2
        value = measured.pop(row["case"], middle)
        # the program's middle of a quotient of rounded values lies off the quotient by their squares
        if abs(value - middle) > 1e-3 * abs(value):
            sys.exit(f"{row['case']}: {middle} in the predictions, {value} in the table")
        if row["predicted"] == "":
            continue
        ratio = middle / float(row["predicted"])
        if row["layers"] != "material":
            out.writerow([row["case"], 1, ratio, ratio, "", ""])
        of = {"HTI24": "flame", "RHTI24": "radiant", "second degree": "skin"}.get(row["figure"])
        if "−" in row["figure"]:
            of = "differences"
        counts = row["counted"] == "yes" and row["basis"] == "uncalibrated"
        if of and counts and not row["class"].startswith("band"):
            groups.setdefault((row["layers"], of), []).append(ratio)
    if any(name.split()[0].startswith("NW") for name in measured):
        sys.exit(f"not predicted: {sorted(measured)}")
    for (layers, of), ratios in groups.items():
        lower, upper = band(ratios)
        out.writerow([f"{layers}: {of}", len(ratios), min(ratios), max(ratios), lower, upper])
    suite = [r for name, r in measured_of(read(HERE / "measured_bench.csv")).items() if "/HTI24" in name]
    mean = sum(suite) / len(suite)
    deviation = math.sqrt(sum((r - mean) ** 2 for r in suite) / (len(suite) - 1))
    out.writerow(["RHTI24/HTI24 of the table", len(suite), min(suite), max(suite), mean, deviation])


main(sys.argv[1])
