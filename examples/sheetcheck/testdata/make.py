#!/usr/bin/python3
"""Makes the test workbooks beside this file, and what is known of them.

    /usr/bin/python3 make.py

It needs Debian's libreoffice-calc and python3-openpyxl; the tests do not, they use
the files as kept. openpyxl writes the cells and formulas, LibreOffice opens the
file, calculates it and writes it anew: so what the tests read has the values,
types and formulas that a spreadsheet program leaves. values.xlsx goes through
openpyxl once more and has values alone.

Every engine, size and limit here is invented for demonstration.

seeds.csv lists the cells that are wrong on purpose: file, sheet, cell or range,
severity and the name of the mistake, with "follows" for cells that only show
what follows from another.
"""
import csv
import itertools
import os
import re
import shutil
import subprocess
import tempfile
import zipfile

import openpyxl

HERE = os.path.dirname(os.path.abspath(__file__))

FIRST, LAST = 6, 12  # rows of the mains

# bore, upper wall, lower wall, journal, journal front, middle, rear, torque N·m,
# thread, bolt when new, bolt now. Main 4 (row 9) comes exactly to the upper limit,
# main 5 (row 10) to 0.0483, which three places show as the limit.
MAINS = [
    ("60.0130", "2.0060", "2.0020", "55.9710", "55.9720", "55.9710", "55.9680", "98.1", "M10", "85.12", "85.20"),
    ("60.0070", "2.0030", "2.0050", "55.9620", "55.9630", "55.9620", "55.9560", "101.4", "M12x1.25", "91.44", "91.61"),
    ("60.0160", "2.0050", "2.0010", "55.9740", "55.9770", "55.9740", "55.9730", "88.7", "M10x1.25", "78.33", "78.38"),
    ("60.0110", "2.0020", "2.0040", "55.9570", "55.9590", "55.9570", "55.9480", "92.9", "M8", "64.05", "64.29"),
    ("60.0085", "2.0040", "2.0060", "55.9502", "55.9510", "55.9502", "55.9455", "105.2", "M12", "99.71", "99.82"),
    ("60.0190", "2.0010", "2.0035", "55.9805", "55.9830", "55.9805", "55.9790", "84.6", "M9", "71.86", "72.18"),
    ("60.0045", "2.0055", "2.0025", "55.9660", "55.9680", "55.9660", "55.9600", "110.3", "M8x1", "103.27", "103.33"),
]
NOMINAL = ("60.0000", "2.0000", "2.0000", "55.9600")
HEADS = ["main", "bore", "upper wall", "lower wall", "journal", "clearance", "verdict", "clearance (in)",
         "journal front", "journal middle", "journal rear", "taper", "torque (N·m)", "torque (ft-lb)", "torque (in-lb)",
         "thread", "stress area (mm²)", "bolt new", "bolt now", "stretch"]

# Their stress areas as ISO 898-1 has them.
AREAS = ["58.0", "92.1", "61.2", "36.6", "84.3", "48.1", "39.2"]


def verdict(row, low="$B$2", high="$B$3", value="ROUND(F{r},6)"):
    v = value.format(r=row)
    return f'=IF({v}<{low},"low",IF({v}>{high},"high","OK"))'


def mains(ws):
    """A correct sheet."""
    ws["A1"] = "Main bearings, winch engine (invented)"
    ws["A2"], ws["B2"] = "clearance at least", 0.024
    ws["A3"], ws["B3"] = "clearance at most", 0.048
    ws["A4"] = "nominal"
    for column, size in zip("BCDE", NOMINAL):
        ws[f"{column}4"] = float(size)
    for i, head in enumerate(HEADS, 1):
        ws.cell(5, i, head)
    for i, m in enumerate(MAINS):
        r = FIRST + i
        ws[f"A{r}"] = f"main {i + 1}"
        for column, size in zip("BCDE", m[0:4]):
            ws[f"{column}{r}"] = float(size)
        ws[f"F{r}"] = f"=B{r}-C{r}-D{r}-E{r}"
        ws[f"G{r}"] = verdict(r)
        ws[f"H{r}"] = f"=F{r}/25.4"
        for column, size in zip("IJK", m[4:7]):
            ws[f"{column}{r}"] = float(size)
        ws[f"L{r}"] = f"=MAX(I{r}:K{r})-MIN(I{r}:K{r})"
        ws[f"M{r}"] = float(m[7])
        ws[f"N{r}"] = f"=M{r}/1.3558179483314004"
        ws[f"O{r}"] = f"=M{r}/1.3558179483314004*12"
        ws[f"P{r}"] = m[8]
        ws[f"Q{r}"] = float(AREAS[i])
        ws[f"R{r}"] = float(m[9])
        ws[f"S{r}"] = float(m[10])
        ws[f"T{r}"] = f"=S{r}-R{r}"
    for r in range(FIRST, LAST + 1):
        for column in "BCDEFLIJKRST":
            ws[f"{column}{r}"].number_format = "0.000"


def clearance(r):
    m = [float(x) for x in MAINS[r - FIRST][:4]]
    return m[0] - m[1] - m[2] - m[3]


def judged(value):
    value = round(value, 6)
    return "low" if value < 0.024 else "high" if value > 0.048 else "OK"


class Seed:
    """One mistake: cells to write for a row, and what must be found.

    row is None if any will do.
    """

    def __init__(self, name, mistake, write, cells, row=None, severity="value wrong", stale=None, follows=True):
        self.name, self.mistake, self.write, self.cells = name, mistake, write, cells
        self.row, self.severity, self.stale, self.follows = row, severity, stale, follows


def value_seed(name, mistake, formula, **rest):
    """A wrong clearance; its verdict follows if it changes."""
    return Seed(name, mistake, lambda ws, r: ws.__setitem__(f"F{r}", formula(r)), lambda r: [f"F{r}"], **rest)


def absolute(ws, _):
    for r in range(FIRST, LAST + 1):
        ws[f"F{r}"] = f"=B{r}-C{r}-D{r}-$E${FIRST}"


def as_text(ws, r):
    ws[f"D{r}"] = MAINS[r - FIRST][2]  # a string
    ws[f"F{r}"] = f"=B{r}-SUM(C{r}:E{r})"


def put(column, formula):
    return lambda ws, r: ws.__setitem__(f"{column}{r}", formula(r))


SEEDS = [
    value_seed("decimal", "decimal point moved", lambda r: round(clearance(r) * 10, 3)),
    value_seed("decimal left", "decimal point moved", lambda r: round(clearance(r) / 10, 4)),
    value_seed("inch value", "inch for millimetre", lambda r: f"=(B{r}-C{r}-D{r}-E{r})/25.4"),
    Seed("mm in inches", "inch for millimetre", put("H", lambda r: f"=F{r}"), lambda r: [f"H{r}"]),
    Seed("inch limits", "inch for millimetre", put("G", lambda r: verdict(r, "0.0009", "0.0019")), lambda r: [f"G{r}"], severity="verdict wrong"),
    value_seed("radius", "radius for diameter", lambda r: f"=(B{r}-C{r}-D{r}-E{r})/2"),
    value_seed("radii", "radius for diameter", lambda r: f"=B{r}/2-E{r}/2-C{r}-D{r}"),
    value_seed("one wall", "one wall instead of two", lambda r: f"=B{r}-C{r}-E{r}"),
    value_seed("walls added", "added instead of subtracted", lambda r: f"=B{r}+C{r}+D{r}-E{r}"),
    value_seed("next row", "neighbour's row or column", lambda r: f"=B{r}-C{r}-D{r}-E{r + 1}"),
    value_seed("next column", "one wall instead of two", lambda r: f"=B{r}-C{r}-C{r}-E{r}"),
    value_seed("nominal", "nominal instead of measured", lambda r: f"=B{r}-C{r}-D{r}-$E$4"),
    Seed("rounded first", "rounded before the comparison", put("G", lambda r: verdict(r, value="ROUND(F{r},3)")), lambda r: [f"G{r}"], row=10, severity="verdict wrong"),
    Seed("limits swapped", "limits swapped", put("G", lambda r: verdict(r, "$B$3", "$B$2")), lambda r: [f"G{r}"], severity="verdict wrong"),
    Seed("residue", "binary floating-point residue", put("G", lambda r: verdict(r, value="B{r}-C{r}-D{r}-E{r}")), lambda r: [f"G{r}"], row=9, severity="verdict wrong"),
    Seed("in-lb in ft-lb", "ft-lb for in-lb", put("N", lambda r: f"=M{r}/1.3558179483314004*12"), lambda r: [f"N{r}"]),
    Seed("ft-lb in in-lb", "ft-lb for in-lb", put("O", lambda r: f"=M{r}/1.3558179483314004"), lambda r: [f"O{r}"]),
    Seed("stale", "stale stored value", lambda ws, r: None, lambda r: [f"F{r}"], stale=lambda r: repr(round(clearance(r) - 0.017, 4))),
    Seed("as text", "text where a number belongs", as_text, lambda r: [f"F{r}"]),
    Seed("absolute", "absolute reference copied down", absolute, lambda r: [f"F{x}" for x in range(FIRST + 1, LAST + 1)], row=0),
    Seed("taper", "something left out", put("L", lambda r: f"=I{r}-J{r}"), lambda r: [f"L{r}"]),
    Seed("stretch", "the wrong way round", put("T", lambda r: f"=R{r}-S{r}"), lambda r: [f"T{r}"]),
    Seed("shank area", "another rule", put("Q", lambda r: SHANK[r]), lambda r: [f"Q{r}"]),
    Seed("digits", "two digits exchanged", put("M", lambda r: None), lambda r: [], row=-1),
]
SEEDS = [s for s in SEEDS if s.row != -1]

SHANK = {6: 78.5, 7: 113.1, 8: 78.5, 9: 50.3, 10: 113.1, 11: 63.6, 12: 50.3}  # π/4 d²


def found(seed, row, values):
    """Rows of seeds.csv for a seed, by what the calculated sheet shows."""
    out = []
    for cell in seed.cells(row):
        r = int(cell[1:])
        if cell[0] == "F" and abs(values[cell] - clearance(r)) < 0.00005:
            continue  # the mistake changes nothing here
        out.append((cell, seed.severity, "follows from a wrong value" if seed.name == "as text" else seed.mistake))
        if cell[0] == "F" and values[f"G{r}"] != judged(clearance(r)):
            out.append((f"G{r}", "verdict wrong", "follows from a wrong value"))
        if cell[0] == "F" and abs(round(values[f"H{r}"], 5) - clearance(r) / 25.4) > 0.000005:
            out.append((f"H{r}", "value wrong", "follows from a wrong value"))
    if seed.name == "as text":
        out.append((f"D{row}", "value wrong", "text where a number belongs"))
    return out


def through_libreoffice(book, name):
    with tempfile.TemporaryDirectory() as scratch:
        source = os.path.join(scratch, name)
        book.save(source)
        out = os.path.join(scratch, "out")
        subprocess.run(["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{scratch}/profile",
                        "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", out, source], check=True, capture_output=True)
        shutil.copy(os.path.join(out, name), os.path.join(HERE, name))


def patch(name, stale):
    """Changes stored values of formula cells, and nothing else: {(sheet index, cell): value}."""
    path = os.path.join(HERE, name)
    with zipfile.ZipFile(path) as z:
        parts = [(i, z.read(i)) for i in z.infolist()]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as z:
        for info, data in parts:
            for (index, cell), value in stale.items():
                if info.filename == f"xl/worksheets/sheet{index + 1}.xml":
                    pattern = rf'(<c r="{cell}"[^>]*>(?:<f[^>]*>[^<]*</f>)?<v>)[^<]*(</v>)'
                    data, n = re.subn(pattern.encode(), lambda m: m.group(1) + str(value).encode() + m.group(2), data)
                    assert n == 1, (name, index, cell)
            z.writestr(info, data, zipfile.ZIP_DEFLATED, 9)


def values_of(name):
    book = openpyxl.load_workbook(os.path.join(HERE, name), data_only=True)
    return {ws.title: {c.coordinate: c.value for row in ws.iter_rows() for c in row} for ws in book}


def seeded():
    known = []

    # Each mistake alone.
    book = openpyxl.Workbook()
    book.remove(book.active)
    stale, at = {}, {}
    for i, s in enumerate(SEEDS):
        ws = book.create_sheet(s.name)
        mains(ws)
        row = s.row or 7
        s.write(ws, row)
        at[s.name] = row
        if s.stale:
            stale[(i, f"F{row}")] = s.stale(row)
            stale[(i, f"G{row}")] = judged(float(s.stale(row)))
    through_libreoffice(book, "singles.xlsx")
    patch("singles.xlsx", {k: v for k, v in stale.items() if k[1][0] == "F"})
    values = values_of("singles.xlsx")
    for s in SEEDS:
        known += [("singles.xlsx", s.name) + x for x in found(s, at[s.name], values[s.name])]

    # The same as values alone, without formulas.
    plain = openpyxl.load_workbook(os.path.join(HERE, "singles.xlsx"), data_only=True)
    bare = openpyxl.Workbook()
    bare.remove(bare.active)
    for s in SEEDS:
        if s.stale:
            continue
        ws = bare.create_sheet(s.name)
        for row in plain[s.name].iter_rows():
            for c in row:
                ws[c.coordinate] = c.value
        known += [("values.xlsx", s.name) + x for x in found(s, at[s.name], values[s.name])]
    bare.save(os.path.join(HERE, "values.xlsx"))

    # Every two together, in different rows.
    book = openpyxl.Workbook()
    book.remove(book.active)
    stale, pairs = {}, []
    for a, b in itertools.combinations(SEEDS, 2):
        if "absolute" in (a.name, b.name) and any("F" in c for s in (a, b) for c in s.cells(7) if s.name != "absolute"):
            continue  # both write the clearances
        title = f"{a.name} + {b.name}"[:31]
        ws = book.create_sheet(title)
        mains(ws)
        row_a, row_b = a.row or 7, b.row or 11
        for s, row in sorted(((a, row_a), (b, row_b)), key=lambda x: x[0].name != "absolute"):
            s.write(ws, row)
            if s.stale:
                stale[(len(pairs), f"F{row}")] = s.stale(row)
        pairs.append((title, (a, row_a), (b, row_b)))
    through_libreoffice(book, "pairs.xlsx")
    patch("pairs.xlsx", stale)
    values = values_of("pairs.xlsx")
    for title, *both in pairs:
        for s, row in both:
            known += [("pairs.xlsx", title) + x for x in found(s, row, values[title])]

    # A cell that is wrong in itself and also follows from another is wrong in itself.
    by_cell = {}
    for k in known:
        if k[:3] not in by_cell or by_cell[k[:3]][4].startswith("follows"):
            by_cell[k[:3]] = k
    with open(os.path.join(HERE, "seeds.csv"), "w", newline="") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(["file", "sheet", "cell", "severity", "mistake"])
        w.writerows(by_cell.values())


def metric():
    """A correct workbook, with every kind of check on some sheet."""
    book = openpyxl.Workbook()
    ws = book.active
    ws.title = "Mains"
    mains(ws)

    ws = book.create_sheet("Play")
    ws.append(["End play by washers: journal length, wall width, front and rear washer"])
    ws.append(["place", "journal", "housing", "front", "rear", "end play", "verdict", "dial from", "dial to", "travel"])
    for i, x in enumerate([(31.162, 26.004, 2.51, 2.495, -0.043, 0.112), (30.987, 25.871, 2.485, 2.5, 0.018, 0.151), (31.204, 26.1, 2.505, 2.515, -0.12, -0.036)], 3):
        ws.append([f"engine {i - 2}", *x[:4], f"=B{i}-C{i}-D{i}-E{i}", f'=IF(AND(ROUND(F{i},6)>=0.07,ROUND(F{i},6)<=0.25),"pass","fail")', x[4], x[5], f"=ABS(I{i}-H{i})"])

    ws = book.create_sheet("Rings")
    ws.append(["cylinder", "bore", "least gap", "gap", "to file"])
    for i, x in enumerate([(88.512, 0.31), (88.497, 0.42), (88.53, 0.275)], 2):
        ws.append([i - 1, x[0], f"=B{i}*0.004", x[1], f"=MAX(0,C{i}-D{i})"])

    ws = book.create_sheet("Shells")
    ws.append(["main", "block code", "crank code", "shells"])
    for x in [(1, "A", "1", "red"), (2, "B", "1", "red/blue"), (3, "A", "2", "red/blue"), (4, "B", "2", "blue"), (5, "B", "1", "red + blue")]:
        ws.append(x)

    ws = book.create_sheet("Order")
    ws.append(["shell", "needed", "in stock", "in a pack", "packs"])
    for i, x in enumerate([("red", 5, 0, 2), ("blue", 5, 1, 4), ("green", 0, 3, 2)], 2):
        ws.append([*x, f"=ROUNDUP(MAX(0,B{i}-C{i})/D{i},0)"])

    ws = book.create_sheet("Stack")
    ws.append(["engine", "deck", "throw", "rod", "crown", "height", "t deck", "t throw", "t rod", "t crown", "worst case", "root-sum-square"])
    for i, x in enumerate([(231.05, 44.5, 144.02, 42.1, 0.05, 0.02, 0.03, 0.08), (230.94, 44.47, 143.98, 42.13, 0.04, 0.025, 0.05, 0.06)], 2):
        ws.append([i - 1, *x[:4], f"=B{i}-C{i}-D{i}-E{i}", *x[4:], f"=SUM(G{i}:J{i})", f"=SQRT(SUMSQ(G{i}:J{i}))"])
    through_libreoffice(book, "metric.xlsx")


def inch():
    book = openpyxl.Workbook()
    ws = book.active
    ws.title = "Rods"
    ws.append(["Rod bearings, pump engine (invented)"])
    ws.append(["rod", "bore (in)", "wall (in)", "pin (in)", "clearance (thou)", "verdict", "clearance (mm)", "torque (ft-lb)", "torque (N·m)", "side: pin width", "side: rod width", "side play"])
    for i, x in enumerate([(2.2247, 0.0612, 2.1004, 42, 1.0035, 0.9941), (2.2251, 0.0613, 2.1001, 43.5, 1.0042, 0.9938), (2.2245, 0.0611, 2.1008, 41, 1.0029, 0.9944), (2.2249, 0.0614, 2.0996, 42.5, 1.0051, 0.9937)], 3):
        ws.append([f"rod {i - 2}", *x[:3], f"=(B{i}-2*C{i}-D{i})*1000", f'=IF(AND(ROUND(E{i},3)>=1,ROUND(E{i},3)<=2.5),"OK","reject")', f"=E{i}*0.0254", x[3], f"=H{i}*1.3558179483314004", x[4], x[5], f"=J{i}-K{i}"])
    through_libreoffice(book, "inch.xlsx")


def twelve():
    """Twelve engines side by side, three mains below one another."""
    book = openpyxl.Workbook()
    ws = book.active
    ws.title = "Fleet"
    ws["A1"] = "Fleet of twelve (invented)"
    for e in range(12):
        ws.cell(2, 3 + e, f"engine {e + 1:02d}")
    for m in range(3):
        top = 4 + 7 * m
        for k, head in enumerate(["bore", "upper wall", "lower wall", "journal", "clearance", "verdict"]):
            ws.cell(top + k, 1, f"main {m + 1}")
            ws.cell(top + k, 2, head)
        for e in range(12):
            c = openpyxl.utils.get_column_letter(3 + e)
            drift = ((e * 7 + m * 5) % 11 - 5) / 1000
            ws[f"{c}{top}"] = round(54.012 + drift, 4)
            ws[f"{c}{top + 1}"] = round(1.988 + ((e + m) % 4) / 1000, 4)
            ws[f"{c}{top + 2}"] = round(1.990 + ((e * 3 + m) % 3) / 1000, 4)
            ws[f"{c}{top + 3}"] = round(49.995 + ((e * 5 + m * 3) % 7) / 1000, 4)
            ws[f"{c}{top + 4}"] = f"={c}{top}-{c}{top + 1}-{c}{top + 2}-{c}{top + 3}"
            ws[f"{c}{top + 5}"] = f'=IF(ROUND({c}{top + 4},6)<0.02,"tight",IF(ROUND({c}{top + 4},6)>0.045,"loose","good"))'
    through_libreoffice(book, "twelve.xlsx")


def text_files():
    with open(os.path.join(HERE, "commas.csv"), "wb") as f:
        f.write("\ufeff".encode())
        f.write("Lager;Bohrung;Schale oben;Schale unten;Zapfen;Spiel;Urteil\r\n".encode())
        for i, m in enumerate(MAINS):
            n = lambda x: x.replace(".", ",")
            v = clearance(FIRST + i)
            f.write(f"{i + 1};{n(m[0])};{n(m[1])};{n(m[2])};{n(m[3])};{n('%.3f' % v)};{'gut' if judged(v) == 'OK' else 'Ausschuss'}\r\n".encode())


if __name__ == "__main__":
    metric()
    inch()
    twelve()
    text_files()
    seeded()
