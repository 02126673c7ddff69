#!/usr/bin/python3
"""Workbooks of values alone, and of faults that a whole column has: units along formulas,
look-ups of neighbours, hidden lines. README.md says how they are made. All of it is invented.

    /usr/bin/python3 values.py
"""
import os
from decimal import Decimal as D

from kit import HERE, Book, letter
from make import make_all

MM = "0.000"


def clearances(rows):
    return [r[0] - r[1] - r[2] - r[3] for r in rows]


def values_side():
    """Mains and rods side by side, with their limits in columns; nothing is computed."""
    b = Book("values-side", "values, side by side", "mains and rods of a dredger's pump engine; no formulas")
    s = b.sheet("Engine")
    s.put("A1", "Pump engine 3, bottom end (invented)", bold=True)
    s.heads("A3", ["Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Least (mm)", "Most (mm)", "Verdict"])
    s.heads("K3", ["Rod", "Bore (mm)", "Wall (mm)", "Pin (mm)", "Clearance (µm)"])
    mains = b.bearings(6, 72.014, 2.506, 0.030, 0.066, outside={2: 7})
    s.down("A", 4, [i + 1 for i in range(6)], "Mains", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in mains], "Mains", role, "mm", MM)
    found = clearances(mains)
    s.down("F", 4, found, "Mains", "clearance", "mm", MM, kind="claim")
    s.down("G", 4, [D("0.030")] * 6, "Mains", "limit low", "mm", MM)
    s.down("H", 4, [D("0.066")] * 6, "Mains", "limit high", "mm", MM)
    s.down("I", 4, ["OK" if c <= D("0.066") else "loose" for c in found], "Mains", "verdict", kind="claim", limits="G..H")
    rods = b.bearings(4, 50.011, 1.496, 0.022, 0.050)
    s.down("K", 4, [f"rod {i + 1}" for i in range(4)], "Rods", "location")
    s.down("L", 4, [r[0] for r in rods], "Rods", "bore", "mm", MM)
    s.down("M", 4, [r[1] for r in rods], "Rods", "wall", "mm", MM)
    s.down("N", 4, [r[0] - 2 * r[1] - c for r, c in zip(rods, clearances(rods))], "Rods", "journal", "mm", MM)
    s.down("O", 4, [int(1000 * c) for c in clearances(rods)], "Rods", "clearance", "µm", "0", kind="claim")
    b.seed("Engine", "F5", "decimal point moved", "shows", write={"F5": found[1] * 10})
    b.seed("Engine", "F8", "one wall instead of two", "shows", write={"F8": found[4] + mains[4][2]})
    b.seed("Engine", "I6", "verdict against its limits", "shows", write={"I6": "OK"})
    b.seed("Engine", "I7", "no reading behind it", "shows", write={"E7": None, "F7": None}, severity="verdict wrong")
    b.seed("Engine", "O6", "decimal point moved", "shows", write={"O6": int(10000 * clearances(rods)[2])})
    return b


def values_across():
    """Locations as columns, in German, with the units in a column of their own."""
    b = Book("values-quer", "values, across", "Hauptlager eines Winzertraktors; ohne Formeln")
    s = b.sheet("Lager")
    s.put("A1", "Hauptlager, Schmalspurschlepper (erfunden)", bold=True)
    s.heads("A3", ["Lager", "", "1", "2", "3", "4", "5"])
    rows = b.bearings(5, 58.013, 1.994, 0.024, 0.060)
    for k, (word, role) in enumerate([("Bohrung", "bore"), ("Schale oben", "upper"), ("Schale unten", "lower"), ("Zapfen", "journal")]):
        s.put(f"A{4 + k}", word).put(f"B{4 + k}", "mm")
        s.across(4 + k, "C", [r[k] for r in rows], "Lager", role, "mm", MM)
    found = clearances(rows)
    s.put("A8", "Spiel").put("B8", "µm")
    s.across(8, "C", [int(1000 * c) for c in found], "Lager", "clearance", "µm", "0", kind="claim")
    b.seed("Lager", "E8", "decimal point moved", "shows", write={"E8": int(10000 * found[2])})
    b.seed("Lager", "F8", "one wall instead of two", "shows", write={"F8": int(1000 * (found[3] + rows[3][1]))})
    return b


def values_cards():
    """Cards for single bearings below one another: words at the left, values at the right."""
    b = Book("values-cards", "values, forms", "cards of three main bearings of a saw engine; no formulas")
    s = b.sheet("Cards")
    rows = b.bearings(3, 44.012, 1.498, 0.020, 0.052)
    for i, (row, c) in enumerate(zip(rows, clearances(rows))):
        top = 1 + 11 * i
        card = f"Card {i + 1}"
        s.put(f"A{top}", f"Main {i + 1}, saw engine (invented)", bold=True)
        for k, (word, role, value, kind) in enumerate([("Bore", "bore", row[0], "input"), ("Upper shell", "upper", row[1], "input"), ("Lower shell", "lower", row[2], "input"),
                                                       ("Journal", "journal", row[3], "input"), ("Clearance", "clearance", c, "claim"), ("Lower limit", "limit low", D("0.020"), "input"),
                                                       ("Upper limit", "limit high", D("0.052"), "input")]):
            s.put(f"A{top + 1 + k}", word).one(f"B{top + 1 + k}", value, card, role, "mm", MM, kind=kind).put(f"C{top + 1 + k}", "mm")
        s.put(f"A{top + 8}", "Verdict").one(f"B{top + 8}", "OK", card, "verdict", kind="claim", limits="0.020..0.052 mm")
    b.seed("Cards", "B6", "decimal point moved", "shows", write={"B6": clearances(rows)[0] * 10})
    b.seed("Cards", "B20", "verdict against its limits", "shows", write={"B20": "loose"})
    return b


def values_export():
    """Ring gaps as an export: semicolons, decimal commas."""
    b = Book("values-ringe", "values, text", "Stossspiele; nur Werte", stored="csv", text={"separator": ";", "decimal": ",", "encoding": "utf-8"})
    s = b.sheet("Ringe")
    s.heads("A1", ["Zylinder", "Bohrung (mm)", "Mindestspalt (mm)", "Spalt (mm)", "Feilen (mm)"])
    bores = [D(x) for x in ("92.011", "92.008", "92.015", "95.004", "95.010")]
    gaps = [D(x) for x in ("0.31", "0.40", "0.36", "0.33", "0.37")]
    least = [(x * D("0.004")).quantize(D("0.001")) for x in bores]
    s.down("A", 2, [i + 1 for i in range(5)], "Ringe", "location")
    s.down("B", 2, bores, "Ringe", "bore", "mm", MM)
    s.down("C", 2, least, "Ringe", "least gap", "mm", MM, kind="claim")
    s.down("D", 2, gaps, "Ringe", "gap", "mm", "0.00")
    s.down("E", 2, [max(D(0), a - g) for a, g in zip(least, gaps)], "Ringe", "to file", "mm", MM, kind="claim")
    b.seed("Ringe", "C4", "decimal point moved", "shows", write={"C4": least[2] / 10})
    b.seed("Ringe", "E2", "decimal point moved", "shows", write={"E2": (least[0] - gaps[0]) * 10})
    return b


def units_mixed():
    """Formulas over numbers in several units, each converted; without the conversions, seeded."""
    b = Book("units", "units along formulas", "wear, torque and force of a press; every number in a unit of its own")
    s = b.sheet("Press")
    s.put("A1", "Press crank (invented)", bold=True)
    s.heads("A3", ["Bearing", "Bore (mm)", "Journal (mm)", "Wear (µm)", "Play now (mm)", "Torque (N·m)", "At most (lbf·ft)", "Good", "Force (N)", "Arm (mm)", "Moment (N·m)", "Oil (bar)", "Oil (psi)"])
    n = 5
    s.down("A", 4, [f"bearing {i + 1}" for i in range(n)], "Press", "location")
    bores = b.near(n, 80.030, 3, 9)
    s.down("B", 4, bores, "Press", "bore", "mm", MM)
    s.down("C", 4, [x - D("0.048") - D(i) / 1000 for i, x in enumerate(bores)], "Press", "journal", "mm", MM)
    s.down("D", 4, [D(x) for x in ("7", "12", "9", "4", "15")], "Press", "number|reading", "µm", "0")
    s.down("E", 4, lambda r: f"=B{r}-C{r}+D{r}/1000", "Press", "number|clearance|difference", "mm", MM, last=3 + n)
    s.down("F", 4, [D(x) for x in ("96", "104", "88", "99", "91")], "Press", "torque", "N·m", "0")
    s.down("G", 4, [D("78")] * n, "Press", "limit high", "lbf·ft", "0")
    s.down("H", 4, lambda r: f'=IF(F{r}<=G{r}*1.35582,"OK","no")', "Press", "verdict", last=3 + n, limits="..G")
    s.down("I", 4, [D(x) for x in ("410", "395", "402", "388", "417")], "Press", "number|reading", "N", "0")
    s.down("J", 4, [D("240")] * n, "Press", "number|reading", "mm", "0")
    s.down("K", 4, lambda r: f"=I{r}*J{r}/1000", "Press", "number|torque", "N·m", "0.0", last=3 + n)
    s.down("L", 4, [D(x) for x in ("4.1", "3.9", "4.4", "4.0", "4.2")], "Press", "number|reading", "bar", "0.0")
    s.down("M", 4, lambda r: f"=L{r}*14.5038", "Press", "conversion", "psi", "0.0", last=3 + n)
    b.seed("Press", "E4:E8", "units mixed", "whole", write={f"E{r}": f"=B{r}-C{r}+D{r}" for r in range(4, 9)})
    b.seed("Press", "H4:H8", "units mixed", "whole", write={f"H{r}": f'=IF(F{r}<=G{r},"OK","no")' for r in range(4, 9)})
    b.seed("Press", "K4:K8", "units mixed", "whole", write={f"K{r}": f"=I{r}*J{r}" for r in range(4, 9)})
    return b


def grades_near():
    """Walls by grade, exactly; a price by a scale of numbers, from the step below."""
    b = Book("grades-near", "look-ups of a whole column", "shells by grade, and what so many of them cost")
    s, t = b.sheet("Select"), b.sheet("Grades")
    t.heads("A1", ["grade", "wall mm"])
    for r, grade, wall in [(2, "P", "1.994"), (3, "Q", "1.998"), (4, "R", "2.002"), (5, "S", "2.006")]:
        t.put(f"A{r}", grade).one(f"B{r}", D(wall), "Grades", "wall", "mm", MM)
    t.heads("D1", ["from", "price"])
    for r, (count, price) in enumerate([(1, "6.40"), (10, "5.90"), (25, "5.20"), (100, "4.80")], 2):
        t.put(f"D{r}", count).put(f"E{r}", D(price), "0.00")
    s.put("A1", "Shells, tunnel engine (invented)", bold=True)
    s.heads("A3", ["main", "grade", "wall mm", "needed", "price of one"])
    s.down("A", 4, [f"main {i + 1}" for i in range(5)], "Select", "location")
    s.down("B", 4, list("QRPSQ"), "Select", "grade")
    s.down("C", 4, lambda r: f"=VLOOKUP(B{r},Grades!$A$2:$B$5,2,FALSE)", "Select", "wall", "mm", MM, last=8)
    s.down("D", 4, [4, 12, 30, 8, 110], "Select", "needed|grade", "", "0")
    s.down("E", 4, lambda r: f"=VLOOKUP(D{r},Grades!$D$2:$E$5,2,TRUE)", "Select", "look-up|price", "", "0.00", last=8)
    b.seed("Select", "C4:C8", "look-up takes a neighbour", "latent", write={f"C{r}": f"=VLOOKUP(B{r},Grades!$A$2:$B$5,2)" for r in range(4, 9)})
    return b


def hidden_lines():
    """Averages that leave hidden lines out, over rows; and one that does not."""
    b = Book("hidden", "hidden rows", "mains of a test engine; a bearing that was measured wrongly is hidden")
    s = b.sheet("Mains")
    s.put("A1", "Mains, test engine (invented)", bold=True)
    s.heads("A3", ["Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)"])
    rows = b.bearings(7, 66.018, 2.012, 0.026, 0.058)
    s.down("A", 4, [i + 1 for i in range(7)], "Mains", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Mains", role, "mm", MM)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Mains", "clearance", "mm", MM, last=10)
    s.put("A11", "average").one("F11", "=SUBTOTAL(101,F4:F10)", "Mains", "average", "mm", "0.0000")
    s.put("A12", "greatest").one("F12", "=SUBTOTAL(104,F4:F10)", "Mains", "maximum", "mm", MM)
    s.hidden_rows.append(7)
    b.seed("Mains", "F12", "hidden row counts", "latent", write={"F12": "=SUBTOTAL(4,F4:F10)"})
    b.seed("Mains", "F11", "range a row short or long", "either", write={"F11": "=SUBTOTAL(101,F4:F9)"})
    return b


BOOKS = [values_side, values_across, values_cards, values_export, units_mixed, grades_near, hidden_lines]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "values"))
