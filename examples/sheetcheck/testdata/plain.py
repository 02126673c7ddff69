#!/usr/bin/env python3
"""The sums of bench.toml done plainly in Python, to measure sheetcheck against.

    python3 plain.py FILE.csv

The same rows, the same exact decimals, the same three comparisons a row: clearance
to three places, verdict, clearance in inches to five places. It says how many
claims are wrong, and names no mistake.
"""
import csv
import sys
from decimal import Decimal


def main(name):
    low, high, inch = Decimal("0.024"), Decimal("0.048"), Decimal("25.4")
    half, half_inch = Decimal("0.0005"), Decimal("0.000005")
    rows = claims = wrong = 0
    with open(name, newline="", encoding="utf-8-sig") as f:
        reader = csv.reader(f)
        next(reader)
        for _, bore, upper, lower, journal, clearance, verdict, inches in reader:
            rows += 1
            value = Decimal(bore) - Decimal(upper) - Decimal(lower) - Decimal(journal)
            claimed = Decimal(clearance)
            if abs(value - claimed) > half:
                wrong += 1
            right = "low" if value < low else "high" if value > high else "OK"
            if verdict != right:
                wrong += 1
            if abs(claimed / inch - Decimal(inches)) > half_inch:
                wrong += 1
            claims += 3
    print(f"{rows} locations, {claims} claims compared, {wrong} wrong")


if __name__ == "__main__":
    main(sys.argv[1])
