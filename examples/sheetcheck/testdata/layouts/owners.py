#!/usr/bin/python3
"""Makes the workbooks of the folder owners, with their seeds.csv and truth.csv. README.md says
what they are.

    /usr/bin/python3 owners.py

Four habits of owners in six sheets: two lines for each bearing, before and after; a cross in one
of several columns in place of a word; every part held against every other; the unit typed behind
each number. Written down with their truth and their seeds before sheetcheck had read any of
them. All of it is invented.
"""
import os
from decimal import Decimal as D

from kit import HERE, Book, letter
from make import make_all

MM, INCH = "0.000", "0.0000"
ODD = "formula unlike its neighbours"


def th(*numbers):
    return [D(n) / 1000 for n in numbers]


def comma(number, places, unit):
    return f"{number:.{places}f}".replace(".", ",") + unit


def vorher():
    """Two lines for each main bearing, as it came and after the work; the number only in the first. German."""
    b = Book("vorher", "two lines for each", "mains before and after grinding, number typed once for two lines, what was gained in every second line")
    s = b.sheet("Lagergasse")
    t = "Lagergasse"
    s.put("A1", "Boot, Vierzylinder - Hauptlager vorher und nachher", bold=True)
    s.put("A2", "Spiel soll von").one("B2", D("0.030"), t, "limit low", "mm", MM).put("C2", "bis").one("D2", D("0.065"), t, "limit high", "mm", MM).put("E2", "mm")
    s.heads("A4", ["HL", "wann", "Bohrung mm", "Schale ob. mm", "Schale unt. mm", "Zapfen mm", "Spiel mm", "Spiel µm", "gut?", "gewonnen µm"])
    bores = [57_412, 57_418, 57_409, 57_415, 57_421]
    old = [(1792, 1795, 88), (1794, 1791, 93), (1790, 1796, 104), (1793, 1792, 63), (1791, 1794, 97)]
    new = [(1921, 1918, 41), (1917, 1920, 47), (1919, 1922, 38), (1923, 1916, 44), (1920, 1919, 52)]
    for i, bore in enumerate(bores):
        for k, (up, low, clear) in enumerate((old[i], new[i])):
            r = 5 + 2 * i + k + (1 if i > 2 else 0)  # a line is left free behind the third
            if k == 0:
                s.one(f"A{r}", i + 1, t, "location")
            s.put(f"B{r}", ["vorher", "nachher"][k])
            s.put(f"C{r}", D(bore + k) / 1000, MM).put(f"D{r}", D(up) / 1000, MM).put(f"E{r}", D(low) / 1000, MM)
            s.put(f"F{r}", D(bore + k - up - low - clear) / 1000, MM)
            s.put(f"G{r}", f"=C{r}-D{r}-E{r}-F{r}", MM).put(f"H{r}", f"=G{r}*1000", "0")
            s.put(f"I{r}", f'=IF(AND(ROUND(G{r},3)>=$B$2,ROUND(G{r},3)<=$D$2),"gut","schlecht")')
            if k:
                s.one(f"J{r}", f"=(G{r-1}-G{r})*1000", t, "difference|conversion|range", "µm", "0")
    for first, last in (5, 10), (12, 15):
        for c, role, unit in ("C", "bore", "mm"), ("D", "upper|wall", "mm"), ("E", "lower|wall", "mm"), ("F", "journal", "mm"), ("G", "clearance", "mm"), ("H", "conversion", "µm"):
            s.means(f"{c}{first}:{c}{last}", t, role, unit, "claim" if c in "GH" else "input")
        s.means(f"I{first}:I{last}", t, "verdict", "", "claim", "0.030..0.065 mm")
    s.put("A17", "Mittel vorher").one("G17", "=AVERAGE(G5,G7,G9,G12,G14)", t, "average", "mm", MM)
    s.put("A18", "Mittel nachher").one("G18", "=AVERAGE(G6,G8,G10,G13,G15)", t, "average", "mm", MM)
    s.put("A20", "HL 3 Zapfen hatte Riefen, nochmal anschauen !!")
    b.seed(t, "G8", "one wall instead of two", "shows", write={"G8": "=C8-D8-F8"}, also="something left out|" + ODD)
    b.seed(t, "H9", "wrong or short factor", "shows", write={"H9": "=G9*100"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "J15", "neighbour's row or column", "shows", write={"J15": "=(G13-G15)*1000"}, also=ODD)
    b.seed(t, "I6", "one limit not compared", "latent", write={"I6": '=IF(ROUND(G6,3)<=$D$2,"gut","schlecht")'}, also=ODD)
    b.seed(t, "G13", "a number typed over a formula", "latent", write={"G13": D("0.044")})
    b.seed(t, "G18", "something left out", "shows", write={"G18": "=AVERAGE(G6,G8,G10,G13)"}, also="range a row short or long|formula unlike its neighbours|neighbour's row or column")
    return b


def croix():
    """Three columns, tight, good, loose; a cross stands in one of them by formula. French."""
    b = Book("croix", "a cross in a column", "skirt clearance; a cross for tight, good or loose; crosses counted below")
    s = b.sheet("Feuil1")
    t = "Feuil1"
    s.put("A1", "pistons tracteur 6 cyl")
    s.put("A2", "mini").one("B2", D("0.060"), t, "limit low", "mm", "0.00").put("C2", "maxi").one("D2", D("0.090"), t, "limit high", "mm", "0.00")
    s.heads("A4", ["cyl", "alesage", "piston", "jeu", "serré", "bon", "trop"])
    s.put("B5", "mm").put("C5", "mm").put("D5", "mm")
    bores, clear = [105_022, 105_031, 105_027, 105_019, 105_040, 105_025], [71, 58, 83, 66, 97, 74]
    s.down("A", 6, [1, 2, 3, 4, 5, 6], t, "location")
    s.down("B", 6, th(*bores), t, "bore", "mm", MM)
    s.down("C", 6, th(*[x - c for x, c in zip(bores, clear)]), t, "piston|journal", "mm", MM)
    s.down("D", 6, lambda r: f"=ROUND(B{r}-C{r},3)", t, "clearance", "mm", MM, last=11)
    s.down("E", 6, lambda r: f'=IF(D{r}<$B$2,"x","")', t, "verdict", last=11, limits="0.060.. mm")
    s.down("F", 6, lambda r: f'=IF(AND(D{r}>=$B$2,D{r}<=$D$2),"x","")', t, "verdict", last=11, limits="0.060..0.090 mm")
    s.down("G", 6, lambda r: f'=IF(D{r}>$D$2,"x","")', t, "verdict", last=11, limits="..0.090 mm")
    s.put("A12", "combien")
    for c in "EFG":
        s.one(f"{c}12", f'=COUNTIF({c}6:{c}11,"x")', t, "count")
    s.put("F14", "vérif").one("G14", "=E12+F12+G12", t, "total|count|number|sum")
    b.seed(t, "E7", "neighbour's row or column", "shows", write={"E7": '=IF(D8<$B$2,"x","")'}, also=ODD)
    b.seed(t, "F9", "the limit itself refused", "latent", write={"F9": '=IF(AND(D9>$B$2,D9<=$D$2),"x","")'}, also=ODD)
    b.seed(t, "G10", "limits swapped", "latent", write={"G10": '=IF(D10>$B$2,"x","")'}, also=ODD + "|neighbour's row or column|another rule")
    b.seed(t, "D11", "a number typed over a formula", "latent", write={"D11": D("0.074")})
    b.seed(t, "F12", "range a row short or long", "shows", write={"F12": '=COUNTIF(F7:F11,"x")'}, also=ODD)
    b.seed(t, "F8", "one limit not compared", "latent", write={"F8": '=IF(D8>=$B$2,"x","")'}, also=ODD)
    return b


def crosses():
    """Crosses typed into one of three columns; values alone. English, inch and thou, commas."""
    b = Book("crosses", "crosses typed in columns", "rods, values alone; a cross typed under tight, OK or loose", stored="csv",
             text={"separator": ",", "decimal": ".", "encoding": "utf-8", "newline": "\n"})
    s = b.sheet("crosses")
    t = "crosses"
    s.put("A1", "rods - old fire engine").put("A2", "want 1.5 to 2.8 thou")
    s.heads("A4", ["rod", "big end in", "shell top in", "shell btm in", "pin in", "clearance thou", "tight", "OK", "loose", "remarks"])
    rows = [(23_120, 605, 604, 19), (23_124, 603, 606, 23), (23_118, 604, 604, 31), (23_122, 606, 603, 13), (23_119, 605, 605, 26), (23_125, 602, 606, 17), (23_121, 604, 605, 22), (23_117, 603, 604, 34)]
    s.down("A", 5, [f"#{i}" for i in range(1, 9)], t, "location")
    s.down("B", 5, [D(x[0]) / 10000 for x in rows], t, "bore", "in", INCH)
    s.down("C", 5, [D(x[1]) / 10000 for x in rows], t, "upper|wall", "in", INCH)
    s.down("D", 5, [D(x[2]) / 10000 for x in rows], t, "lower|wall", "in", INCH)
    s.down("E", 5, [D(x[0] - x[1] - x[2] - x[3]) / 10000 for x in rows], t, "journal", "in", INCH)
    s.down("F", 5, [D(x[3]) / 10 for x in rows], t, "clearance", "thou", "0.0", kind="claim")
    for i, x in enumerate(rows):
        s.put(f"{'G' if x[3] < 15 else 'I' if x[3] > 28 else 'H'}{5 + i}", "x")
    s.means("G5:I12", t, "verdict", "", "claim", "1.5..2.8 thou")
    s.put("J7", "shell marked").put("J11", "check again")
    b.seed(t, "F6", "two digits exchanged", "shows", write={"F6": D("3.2")}, severity="value wrong", also="no cause found|")
    b.seed(t, "F9", "decimal point moved", "shows", write={"F9": 26}, also="another unit")
    b.seed(t, "H8,G8", "verdict against its limits", "shows", write={"H8": "x", "G8": ""})
    b.seed(t, "I11", "verdict against its limits", "shows", write={"I11": "x"})
    return b


def matrix():
    """Every piston held against every bore: a grid of clearances, a grid of words below. English, mm."""
    b = Book("matrix", "every part against every other", "five bores down, six pistons across; clearances, then yes or no, tightest, how many fit")
    s = b.sheet("which goes where")
    t = "grid"
    s.put("A1", "pistons on the bench vs holes in the block", bold=True)
    s.put("A2", "clearance min").one("C2", D("0.035"), t, "limit low", "mm", MM).put("D2", "max").one("E2", D("0.055"), t, "limit high", "mm", MM).put("F2", "mm")
    s.put("A4", "piston")
    s.across(4, "C", ["P1", "P2", "P3", "P4", "P5", "P6"], t, "location")
    s.put("A5", "skirt mm")
    s.across(5, "C", th(73_962, 73_968, 73_957, 73_971, 73_965, 73_974), t, "piston|journal", "mm", MM)
    s.put("A6", "hole", bold=True).put("B6", "bore mm", bold=True)
    s.down("A", 7, ["cyl 1", "cyl 2", "cyl 3", "cyl 4", "cyl 5"], t, "location")
    s.down("B", 7, th(74_011, 74_019, 74_006, 74_014, 74_022), t, "bore", "mm", MM)
    s.put("I6", "tightest mm", bold=True).put("J6", "loosest mm", bold=True)
    for r in range(7, 12):
        for c in "CDEFGH":
            s.put(f"{c}{r}", f"=$B{r}-{c}$5", MM)
    s.means("C7:H11", t, "clearance|difference", "mm", "claim")
    s.down("I", 7, lambda r: f"=MIN(C{r}:H{r})", t, "minimum", "mm", MM, last=11)
    s.down("J", 7, lambda r: f"=MAX(C{r}:H{r})", t, "maximum", "mm", MM, last=11)
    s.put("A13", "will it do?", bold=True)
    s.across(13, "C", ["P1", "P2", "P3", "P4", "P5", "P6"], t, "location")
    s.put("I13", "how many", bold=True)
    s.down("A", 14, ["cyl 1", "cyl 2", "cyl 3", "cyl 4", "cyl 5"], t, "location")
    for r in range(14, 19):
        for c in "CDEFGH":
            s.put(f"{c}{r}", f'=IF(AND(ROUND({c}{r-7},4)>=$C$2,ROUND({c}{r-7},4)<=$E$2),"yes","-")')
    s.means("C14:H18", t, "verdict", "", "claim", "0.035..0.055 mm")
    s.down("I", 14, lambda r: f'=COUNTIF(C{r}:H{r},"yes")', t, "count", last=18)
    n = "which goes where"
    b.seed(n, "D9", "neighbour's row or column", "shows", write={"D9": "=$B9-C$5"}, also=ODD)
    b.seed(n, "F7", "the wrong way round", "shows", write={"F7": "=F$5-$B7"}, also=ODD)
    b.seed(n, "G10", "a number typed over a formula", "latent", write={"G10": D("0.049")})
    b.seed(n, "I11", "range a row short or long", "latent", write={"I11": "=MIN(C11:G11)"}, also=ODD)
    b.seeds[-1].shows = "either"
    b.seed(n, "E16", "one limit not compared", "latent", write={"E16": '=IF(ROUND(E9,4)>=$C$2,"yes","-")'}, also=ODD)
    b.seed(n, "I15", "range a row short or long", "shows", write={"I15": '=COUNTIF(C15:F15,"yes")'}, also=ODD)
    b.seed(n, "C18", "neighbour's row or column", "either", write={"C18": '=IF(AND(ROUND(C10,4)>=$C$2,ROUND(C11,4)<=$E$2),"yes","-")'}, also=ODD + "|rounded before the comparison|one limit not compared")
    return b


def emparejar():
    """The same habit as values alone: pins across, rod bushes down. Spanish, semicolons."""
    b = Book("emparejar", "every part against every other, values", "small ends down, pins across, the play of each pair typed in", stored="csv",
             text={"separator": ";", "decimal": ",", "encoding": "cp1252"})
    s = b.sheet("emparejar")
    t = "emparejar"
    s.put("A1", "bulones y pies de biela - juego en mm")
    s.put("B3", "bulón").across(3, "C", ["a", "b", "c", "d", "e"], t, "location")
    s.put("A4", "biela").put("B4", "mm")
    pins, bushes = [24_994, 24_990, 24_997, 24_992, 24_995], [25_013, 25_008, 25_016, 25_010]
    s.across(4, "C", th(*pins), t, "pin|journal|shaft", "mm", MM)
    s.down("A", 5, [1, 2, 3, 4], t, "location")
    s.down("B", 5, th(*bushes), t, "bore|bush|reading", "mm", MM)
    for i, x in enumerate(bushes):
        for k, p in enumerate(pins):
            s.put(f"{letter(3 + k)}{5 + i}", D(x - p) / 1000, MM)
    s.means("C5:G8", t, "clearance|difference", "mm", "claim")
    b.seed(t, "D6", "two digits exchanged", "shows", write={"D6": D("0.081")}, severity="value wrong", also="no cause found||decimal point moved")
    b.seed(t, "F7", "neighbour's row or column", "shows", write={"F7": D("0.021")}, severity="value wrong", also="no cause found|")
    return b


def einheiten():
    """The unit stands behind each number, in its cell, with and without a space. German text."""
    b = Book("einheiten", "units typed behind numbers", "mains, values alone, every number with its unit in one text; limits in a line of text", stored="csv",
             text={"separator": ";", "decimal": ",", "encoding": "utf-8"})
    s = b.sheet("einheiten")
    t = "einheiten"
    s.put("A1", "Hauptlager Pumpenmotor").put("A2", "Sollspiel 25 bis 60 µm")
    s.heads("A4", ["Lager", "Bohrung", "Schale oben", "Schale unten", "Zapfen", "Spiel", "Befund"])
    rows = [(63_511, 2_241, 2_238, 37), (63_518, 2_239, 2_243, 52), (63_507, 2_244, 2_240, 29), (63_514, 2_242, 2_237, 64), (63_520, 2_240, 2_241, 46), (63_509, 2_238, 2_239, 33)]
    s.down("A", 5, [f"{i}. Lager" for i in range(1, 7)], t, "location")
    gaps = [" mm", "mm", " mm", " mm", " mm", "mm"]
    s.down("B", 5, [comma(D(x[0]) / 1000, 3, g) for x, g in zip(rows, gaps)], t, "bore", "mm")
    s.down("C", 5, [comma(D(x[1]) / 1000, 3, g) for x, g in zip(rows, gaps)], t, "upper|wall", "mm")
    s.down("D", 5, [comma(D(x[2]) / 1000, 3, g) for x, g in zip(rows, gaps)], t, "lower|wall", "mm")
    s.down("E", 5, [comma(D(x[0] - x[1] - x[2] - x[3]) / 1000, 3, g) for x, g in zip(rows, gaps)], t, "journal", "mm")
    s.down("F", 5, [f"{x[3]} µm" for x in rows], t, "clearance", "µm", kind="claim")
    s.down("G", 5, ["i.O." if x[3] <= 60 else "zu groß" for x in rows], t, "verdict", kind="claim", limits="25..60 µm")
    b.seed(t, "F7", "two digits exchanged", "shows", write={"F7": "92 µm"}, severity="value wrong", also="no cause found|")
    b.seed(t, "F9", "one wall instead of two", "shows", write={"F9": "2287 µm"}, severity="value wrong", also="something left out")
    b.seed(t, "G8", "verdict against its limits", "shows", write={"G8": "i.O."})
    return b


BOOKS = [vorher, croix, crosses, matrix, emparejar, einheiten]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "owners"))
