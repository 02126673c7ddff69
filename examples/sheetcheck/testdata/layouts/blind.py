#!/usr/bin/python3
"""Makes the workbooks of the folders blind, later, traps and fresh, each with its seeds.csv and
truth.csv. README.md says what they are.

    /usr/bin/python3 blind.py

They are laid out by other habits than those beside this file, and were written down with
their truth and their seeds before sheetcheck had read any of them. All of it is invented.
Where the vocabulary of truth.csv has more than one fair word for a cell, they stand with |
between them.
"""
import os
import re
from decimal import Decimal as D

from kit import HERE, Book, letter
from make import make_all

MM, INCH = "0.000", "0.0000"


def th(*numbers):
    return [D(n) / 1000 for n in numbers]


def tenth(*numbers):
    return [D(n) / 10000 for n in numbers]


def cards():
    """Inch cards, a label left of each value; two cards side by side, two below them."""
    b = Book("cards", "cards", "a card for each crankpin: label, value, unit")
    s = b.sheet("Rod journals")
    s.put("A1", "Little motor, big ends", bold=True)
    s.put("A2", "all readings with the 2 inch mike, engine cold")
    sizes = b.bearings(4, 1.8510, 0.0610, 0.0012, 0.0028, places=4, drift=3)
    s.widths = {"A": 20, "E": 20}
    for n, (left, top) in enumerate([(0, 4), (4, 4), (0, 16), (4, 16)]):
        a, v, u = (letter(left + k) for k in (1, 2, 3))
        t = f"Rod {n + 1}"
        s.put(f"{a}{top}", t, bold=True)
        labels = ["Big end bore", "Shell, rod side", "Shell, cap side", "Crankpin", "Oil clearance", "same in thou", "smallest allowed", "largest allowed", "Result"]
        for k, label in enumerate(labels):
            s.put(f"{a}{top + 1 + k}", label)
            if k < 8:
                s.put(f"{u}{top + 1 + k}", "thou" if k == 5 else "in")
        r = top + 1
        bore, rod, cap, pin = sizes[n]
        s.one(f"{v}{r}", bore, t, "bore", "in", INCH)
        s.one(f"{v}{r+1}", rod, t, "upper|wall|lower", "in", INCH)
        s.one(f"{v}{r+2}", cap, t, "lower|wall|upper", "in", INCH)
        s.one(f"{v}{r+3}", pin, t, "journal", "in", INCH)
        s.one(f"{v}{r+4}", f"={v}{r}-{v}{r+1}-{v}{r+2}-{v}{r+3}", t, "clearance", "in", INCH)
        s.one(f"{v}{r+5}", f"={v}{r+4}*1000", t, "conversion", "thou", "0.0")
        s.one(f"{v}{r+6}", D("0.0012"), t, "limit low", "in", INCH)
        s.one(f"{v}{r+7}", D("0.0028"), t, "limit high", "in", INCH)
        s.one(f"{v}{r+8}", f'=IF({v}{r+4}<{v}{r+6},"TIGHT",IF({v}{r+4}>{v}{r+7},"LOOSE","GOOD"))', t, "verdict", limits="0.0012..0.0028 in")
    b.seed("Rod journals", "F9", "one wall instead of two", "shows", write={"F9": "=F5-F6-F8"}, also="something left out")
    b.seed("Rod journals", "B10", "wrong or short factor", "shows", write={"B10": "=B9*100"}, also="decimal point moved|units mixed")
    b.seed("Rod journals", "B25", "one limit not compared", "latent", write={"B25": '=IF(B21<B23,"TIGHT","GOOD")'})
    b.seed("Rod journals", "F25", "the limit itself refused", "latent", write={"F25": '=IF(F21<=F23,"TIGHT",IF(F21>F24,"LOOSE","GOOD"))'})
    typed = sizes[3][0] - sizes[3][1] - sizes[3][2] - sizes[3][3]
    b.seed("Rod journals", "F22", "a number typed over a formula", "latent", write={"F22": typed * 1000})
    return b


def blatt_je_lager():
    """A sheet for each main bearing, pairs of readings averaged, and a survey. German, .ods."""
    b = Book("blatt-je-lager", "a sheet for each bearing", "mains, a form on each sheet, and a survey", stored="ods")
    top = b.sheet("Übersicht")
    names = [f"HL{i}" for i in range(1, 6)]
    clear = [38, 52, 45, 57, 41]
    for i, (name, c) in enumerate(zip(names, clear)):
        s = b.sheet(name)
        s.widths = {"A": 30}
        s.put("A1", f"Hauptlager {i + 1}", bold=True)
        s.put("A2", "Zapfen bei 20 °C gemessen")
        up, low = 1985 + (i * 3) % 7, 1987 + (i * 5) % 6
        b1, b2 = 58_010 + 3 * i, 58_014 + i
        j = (b1 + b2) / 2 - up - low - c
        j1, j2 = D(j) + 2, D(j) - 2
        for r, label in [(3, "Bohrung senkrecht"), (4, "Bohrung waagerecht"), (5, "Bohrung Mittel"), (6, "Zapfen größtes Maß"), (7, "Zapfen kleinstes Maß"), (8, "Zapfen Mittel"), (9, "Lagerschale oben"), (10, "Lagerschale unten"), (11, "Laufspiel"), (12, "Unrundheit Zapfen")]:
            s.put(f"A{r}", label).put(f"C{r}", "mm")
        s.one("B3", D(b1) / 1000, name, "bore|reading", "mm", MM)
        s.one("B4", D(b2) / 1000, name, "bore|reading", "mm", MM)
        s.one("B5", "=AVERAGE(B3:B4)", name, "bore|average", "mm", "0.0000")
        s.one("B6", j1 / 1000, name, "journal|reading", "mm", "0.0000")
        s.one("B7", j2 / 1000, name, "journal|reading", "mm", "0.0000")
        s.one("B8", "=(B6+B7)/2", name, "journal|average", "mm", "0.0000")
        s.one("B9", D(up) / 1000, name, "upper", "mm", MM)
        s.one("B10", D(low) / 1000, name, "lower", "mm", MM)
        s.one("B11", "=B5-B9-B10-B8", name, "clearance", "mm", MM)
        s.one("B12", "=B6-B7", name, "out-of-round|range|difference", "mm", MM)
    top.put("A1", "Grundlager, Übungsmotor der Werkstattschule", bold=True)
    top.heads("A3", ["Lager", "Laufspiel mm", "Kleinstspiel mm", "Größtspiel mm", "Befund"])
    t = "Übersicht"
    top.down("A", 4, names, t, "location")
    top.down("B", 4, lambda r: f"=HL{r - 3}!B11", t, "clearance", "mm", MM, last=8)
    top.down("C", 4, th(*[30] * 5), t, "limit low", "mm", MM)
    top.down("D", 4, th(*[62] * 5), t, "limit high", "mm", MM)
    top.down("E", 4, lambda r: f'=IF(AND(B{r}>=C{r},B{r}<=D{r}),"i.O.","n.i.O.")', t, "verdict", last=8, limits="C..D")
    top.put("A10", "Mittelwert").one("B10", "=AVERAGE(B4:B8)", t, "average", "mm", MM)
    top.put("A11", "größtes").one("B11", "=MAX(B4:B8)", t, "maximum", "mm", MM)
    top.put("A12", "nicht i.O.").one("B12", '=COUNTIF(E4:E8,"n.i.O.")', t, "count")
    b.seed("HL3", "B8", "neighbour's row or column", "shows", write={"B8": "=(B6+B6)/2"}, also="formula unlike its neighbours|nominal instead of measured|something left out")
    b.seed("HL4", "B11", "one wall instead of two", "shows", write={"B11": "=B5-B9-B8"}, also="something left out")
    b.seed("HL2", "B5", "a number typed over a formula", "latent", write={"B5": D(58_014) / 1000})
    b.seed("Übersicht", "E5", "one limit not compared", "latent", write={"E5": '=IF(B5>=C5,"i.O.","n.i.O.")'})
    b.seed("Übersicht", "B10", "range a row short or long", "shows", write={"B10": "=AVERAGE(B4:B7)"})
    b.seed("Übersicht", "B8", "neighbour's row or column", "shows", write={"B8": "=HL1!B11"}, also="formula unlike its neighbours")
    return b


def one_line():
    """Four tables of one line each, of different fits; limits beside. English, mm."""
    b = Book("one-line", "one-line tables", "four fits, each a table of one line")
    s = b.sheet("Bench")
    s.put("A1", "Odd fits, sawmill engine", bold=True)
    s.heads("A3", ["small end bush mm", "gudgeon pin mm", "running clearance mm", "at least mm", "at most mm", "fits?"])
    s.one("A4", D("22.017"), "pin", "bore", "mm", MM).one("B4", D("21.996"), "pin", "journal|pin|shaft", "mm", MM)
    s.one("C4", "=A4-B4", "pin", "clearance", "mm", MM).one("D4", D("0.012"), "pin", "limit low", "mm", MM).one("E4", D("0.030"), "pin", "limit high", "mm", MM)
    s.one("F4", '=IF(AND(C4>=D4,C4<=E4),"yes","no")', "pin", "verdict", limits="D..E")
    s.heads("A7", ["timing gear bore mm", "crank nose mm", "interference mm", "in µm", "min mm", "max mm", "press ok?"])
    s.one("A8", D("34.982"), "gear", "bore", "mm", MM).one("B8", D("35.011"), "gear", "journal|pin|shaft", "mm", MM)
    s.one("C8", "=B8-A8", "gear", "interference|clearance|difference", "mm", MM).one("D8", "=C8*1000", "gear", "conversion", "µm", "0")
    s.one("E8", D("0.015"), "gear", "limit low", "mm", MM).one("F8", D("0.040"), "gear", "limit high", "mm", MM)
    s.one("G8", '=IF(AND(C8>=E8,C8<=F8),"yes","no")', "gear", "verdict", limits="E..F")
    s.heads("A11", ["length of journal mm", "width over thrust shell mm", "end float mm", "min mm", "max mm", "float ok?"])
    s.one("A12", D("28.155"), "float", "journal length|length|reading", "mm", MM).one("B12", D("28.020"), "float", "housing width|width|reading", "mm", MM)
    s.one("C12", "=A12-B12", "float", "end play|clearance|difference", "mm", MM).one("D12", D("0.080"), "float", "limit low", "mm", MM).one("E12", D("0.220"), "float", "limit high", "mm", MM)
    s.one("F12", '=IF(AND(C12>=D12,C12<=E12),"yes","no")', "float", "verdict", limits="D..E")
    s.heads("A15", ["pump body depth mm", "rotor height mm", "rotor end clearance mm", "max mm", "pump ok?"])
    s.one("A16", D("18.046"), "pump", "bore|depth|reading", "mm", MM).one("B16", D("17.998"), "pump", "journal|height|reading", "mm", MM)
    s.one("C16", "=A16-B16", "pump", "clearance|difference|end play", "mm", MM).one("D16", D("0.090"), "pump", "limit high", "mm", MM)
    s.one("E16", '=IF(C16<=D16,"yes","no")', "pump", "verdict", limits="..D")
    b.seed("Bench", "C8", "the wrong way round", "shows", write={"C8": "=A8-B8"})
    b.seed("Bench", "F12", "one limit not compared", "latent", write={"F12": '=IF(C12>=D12,"yes","no")'})
    b.seed("Bench", "C16", "a number typed over a formula", "latent", write={"C16": D("0.048")})
    b.seed("Bench", "F4", "the limit itself refused", "latent", write={"F4": '=IF(AND(C4>D4,C4<=E4),"yes","no")'})
    b.seed("Bench", "D8", "wrong or short factor", "shows", write={"D8": "=C8*100"}, also="decimal point moved|units mixed")
    return b


def columnas():
    """Bearings across, limits in a text of two numbers, hidden helpers. Spanish."""
    b = Book("columnas", "columns with a text limit", "mains in columns; the limits are read from a text; hidden rows")
    s = b.sheet("Bancada")
    s.widths = {"A": 26, "I": 16}
    s.put("A1", "Motor de la escuela, apoyos del cigüeñal", bold=True)
    s.heads_down("A3", ["Apoyo", "Alojamiento (mm)", "Semicojinete superior (mm)", "Semicojinete inferior (mm)", "Muñón, lectura A (mm)", "Muñón, lectura B (mm)", "Muñón medio (mm)", "Juego (mm)", "Juego (µm)", "Dictamen"])
    t = "Bancada"
    bores, ups, lows, clear = [54_008, 54_011, 54_015, 54_006, 54_013], [1492, 1495, 1493, 1497, 1494], [1496, 1491, 1498, 1494, 1492], [41, 36, 52, 47, 55]
    mids = [x - u - w - c for x, u, w, c in zip(bores, ups, lows, clear)]
    s.across(3, "B", [f"{i}" for i in range(1, 6)], t, "location")
    s.across(4, "B", th(*bores), t, "bore", "mm", MM)
    s.across(5, "B", th(*ups), t, "upper", "mm", MM)
    s.across(6, "B", th(*lows), t, "lower", "mm", MM)
    s.across(7, "B", th(*[m + 3 for m in mids]), t, "journal|reading", "mm", MM)
    s.across(8, "B", th(*[m - 3 for m in mids]), t, "journal|reading", "mm", MM)
    s.across(9, "B", lambda c: f"=AVERAGE({c}7:{c}8)", t, "journal|average", "mm", MM, last="F")
    s.across(10, "B", lambda c: f'=IFERROR({c}4-{c}5-{c}6-{c}9,"")', t, "clearance", "mm", MM, last="F")
    s.across(11, "B", lambda c: f"={c}10*1000", t, "conversion", "µm", "0", last="F")
    s.across(12, "B", lambda c: f'=IF({c}10="","",IF({c}10<$I$5,"justo",IF({c}10>$I$6,"holgado","conforme")))', t, "verdict", last="F", limits="0.030..0.060 mm")
    s.put("G3", "Media", bold=True).one("G10", "=AVERAGE(B10:F10)", t, "average", "mm", MM)
    s.put("H4", "Juego admisible").put("I4", "0.030-0.060").put("J4", "mm")
    s.put("H5", "mínimo").one("I5", "=VALUE(LEFT(I4,5))", t, "limit low", "mm", MM)
    s.put("H6", "máximo").one("I6", "=VALUE(RIGHT(I4,5))", t, "limit high", "mm", MM)
    s.hidden_rows = [9]
    b.seed(t, "D9", "range a row short or long", "shows", write={"D9": "=AVERAGE(D7:D7)"})
    b.seed(t, "E10", "a number typed over a formula", "latent", write={"E10": D("0.047")})
    b.seed(t, "C12", "the limit itself refused", "latent", write={"C12": '=IF(C10="","",IF(C10<=$I$5,"justo",IF(C10>$I$6,"holgado","conforme")))'})
    b.seed(t, "G10", "range a row short or long", "shows", write={"G10": "=AVERAGE(B10:E10)"})
    b.seed(t, "F11", "wrong or short factor", "shows", write={"F11": "=F10*100"}, also="decimal point moved|units mixed")
    return b


def pistons_fr():
    """Piston to wall; the smaller of two bore readings; limits typed in the IF. French."""
    b = Book("chemises", "limits typed in the IF", "cylinders: skirt clearance in µm by the smaller reading, taper")
    s = b.sheet("Cylindres")
    t = "Cylindres"
    s.put("A1", "Moteur de bateau, chemises et pistons", bold=True)
    s.heads("A3", ["N°", "Alésage haut [mm]", "Alésage bas [mm]", "Jupe [mm]", "Jeu [µm]", "Conicité [µm]", "Avis"])
    tops, bottoms, clear = [86_021, 86_018, 86_025, 86_019, 86_028, 86_022], [86_014, 86_020, 86_016, 86_012, 86_019, 86_024], [58, 63, 49, 66, 71, 53]
    s.down("A", 4, [1, 2, 3, 4, 5, 6], t, "location")
    s.down("B", 4, th(*tops), t, "bore|reading", "mm", MM)
    s.down("C", 4, th(*bottoms), t, "bore|reading", "mm", MM)
    s.down("D", 4, th(*[min(x, y) - c for x, y, c in zip(tops, bottoms, clear)]), t, "piston|journal", "mm", MM)
    s.down("E", 4, lambda r: f"=(MIN(B{r}:C{r})-D{r})*1000", t, "clearance", "µm", "0", last=9)
    s.down("F", 4, lambda r: f"=ABS(B{r}-C{r})*1000", t, "taper|difference|range", "µm", "0", last=9)
    s.down("G", 4, lambda r: f'=IF(AND(E{r}>=45,E{r}<=75,F{r}<=12),"bon","à revoir")', t, "verdict", last=9, limits="45..75 µm")
    s.put("A10", "Moyenne").one("E10", "=AVERAGE(E4:E9)", t, "average", "µm", "0.0").one("F10", "=AVERAGE(F4:F9)", t, "average", "µm", "0.0")
    s.put("A11", "Maxi").one("E11", "=MAX(E4:E9)", t, "maximum", "µm", "0").one("F11", "=MAX(F4:F9)", t, "maximum", "µm", "0")
    s.put("A12", "Bons").one("G12", '=COUNTIF(G4:G9,"bon")', t, "count")
    b.seed(t, "G6", "formula unlike its neighbours", "latent", write={"G6": '=IF(AND(E6>=40,E6<=75,F6<=12),"bon","à revoir")'}, also="wrong or short factor")
    b.seed(t, "E7", "neighbour's row or column", "shows", write={"E7": "=(MIN(B7:C7)-D8)*1000"}, also="formula unlike its neighbours")
    b.seed(t, "G8", "rounded before the comparison", "latent", write={"G8": '=IF(AND(ROUND(E8,-1)>=45,ROUND(E8,-1)<=75,F8<=12),"bon","à revoir")'})
    b.seed(t, "E10", "range a row short or long", "shows", write={"E10": "=AVERAGE(E4:E8)"})
    text = f"{s.cells['D9']:.3f}"
    b.seed(t, "D9", "text where a number belongs", "either", write={"D9": text})
    b.seed(t, "F5", "wrong or short factor", "shows", write={"F5": "=ABS(B5-C5)*100"}, also="decimal point moved|units mixed")
    return b


def shims():
    """End float by shims, several cranks in a list; shims come in steps. English, mm."""
    b = Book("shims", "shims", "end float brought in by shims that come in steps of 0.05")
    s = b.sheet("End float")
    t = "End float"
    s.put("A1", "Crank end float, shimmed at the flywheel end", bold=True)
    s.put("A2", "float from").one("B2", D("0.10"), t, "limit low", "mm", "0.00").put("C2", "to").one("D2", D("0.25"), t, "limit high", "mm", "0.00").put("E2", "mm")
    s.put("A3", "aim at").one("B3", D("0.17"), t, "target|limit low|limit high|nominal|reading", "mm", "0.00").put("E3", "mm")
    s.heads("A5", ["crank no.", "float found mm", "shim in mm", "shim for the aim mm", "shim to fit mm", "float then mm", "result"])
    found, old = [31, 42, 28, 36, 47, 33, 39], [205, 200, 210, 195, 200, 205, 190]
    s.down("A", 6, [f"K{i}" for i in range(11, 18)], t, "location")
    s.down("B", 6, [D(x) / 100 for x in found], t, "dial|end play|reading", "mm", "0.00")
    s.down("C", 6, [D(x) / 100 for x in old], t, "shim|washer|wall|reading", "mm", "0.00")
    s.down("D", 6, lambda r: f"=C{r}+B{r}-$B$3", t, "shim|needed|difference", "mm", "0.00", last=12)
    s.down("E", 6, lambda r: f"=ROUND(D{r}/0.05,0)*0.05", t, "shim|needed|rounded", "mm", "0.00", last=12)
    s.down("F", 6, lambda r: f"=B{r}+C{r}-E{r}", t, "end play|difference", "mm", "0.00", last=12)
    s.down("G", 6, lambda r: f'=IF(F{r}<$B$2,"tight",IF(F{r}>$D$2,"slack","ok"))', t, "verdict", last=12, limits="0.10..0.25 mm")
    b.seed(t, "D8", "added instead of subtracted", "shows", write={"D8": "=C8+B8+$B$3"})
    b.seed(t, "G9", "one limit not compared", "latent", write={"G9": '=IF(F9<$B$2,"tight","ok")'})
    b.seed(t, "D10", "moving reference that should be fixed", "latent", write={"D10": "=C10+B10-B3"}, also="formula unlike its neighbours")
    b.seed(t, "E11", "cut off instead of rounded", "either", write={"E11": "=ROUNDDOWN(D11/0.05,0)*0.05"}, also="formula unlike its neighbours|rounded the wrong way")
    s.protected = True
    s.free = {f"{c}{r}" for c in "ABC" for r in range(6, 13)} | {"B2", "B3", "D2"}
    b.seed(t, "F12", "protected cell overwritten", "latent", write={"F12": D("0.19")}, also="a number typed over a formula")
    return b


def kennzahlen():
    """Shells by the sum of two stamped codes, with packs and cost. German, three sheets."""
    b = Book("kennzahlen", "sum of codes", "shells by the sum of the codes of block and crank; packs and cost")
    w, k, o = b.sheet("Auswahl"), b.sheet("Schlüssel"), b.sheet("Einkauf")
    k.heads("A1", ["Kennzahl", "Farbe", "Schalendicke mm"])
    k.down("A", 2, [2, 3, 4, 5, 6], "Schlüssel", "code|grade")
    k.down("B", 2, ["rot", "gelb", "grün", "blau", "weiß"], "Schlüssel", "look-up|grade|colour")
    k.down("C", 2, th(2008, 2005, 2002, 1999, 1996), "Schlüssel", "wall", "mm", MM)
    w.put("A1", "Schalenwahl nach Schlagzahlen, Feldbahnmotor", bold=True)
    w.put("A2", "Sollspiel").one("B2", D("0.028"), "Auswahl", "limit low", "mm", MM).put("C2", "bis").one("D2", D("0.052"), "Auswahl", "limit high", "mm", MM).put("E2", "mm")
    w.heads("A4", ["Lager", "Zahl Block", "Zahl Welle", "Kennzahl", "Farbe", "Dicke mm", "Grundbohrung mm", "Zapfen mm", "Spiel mm", "Befund"])
    codes = [(1, 2), (3, 1), (2, 3), (1, 1), (3, 3), (2, 2)]
    walls = {2: 2008, 3: 2005, 4: 2002, 5: 1999, 6: 1996}
    clear, bores = [37, 44, 33, 41, 48, 39], [62_013, 62_006, 62_010, 62_015, 62_004, 62_011]
    t = "Auswahl"
    w.down("A", 5, [f"H{i}" for i in range(1, 7)], t, "location")
    w.down("B", 5, [c[0] for c in codes], t, "code|grade")
    w.down("C", 5, [c[1] for c in codes], t, "code|grade")
    w.down("D", 5, lambda r: f"=B{r}+C{r}", t, "code|grade|total", last=10)
    w.down("E", 5, lambda r: f"=VLOOKUP(D{r},Schlüssel!$A$2:$C$6,2,FALSE)", t, "look-up", last=10)
    w.down("F", 5, lambda r: f"=VLOOKUP(D{r},Schlüssel!$A$2:$C$6,3,FALSE)", t, "wall", "mm", MM, last=10)
    w.down("G", 5, th(*bores), t, "bore", "mm", MM)
    w.down("H", 5, th(*[x - 2 * walls[sum(c)] - g for x, c, g in zip(bores, codes, clear)]), t, "journal", "mm", MM)
    w.down("I", 5, lambda r: f"=G{r}-H{r}-2*F{r}", t, "clearance", "mm", MM, last=10)
    w.down("J", 5, lambda r: f'=IF(OR(I{r}<$B$2,I{r}>$D$2),"tauschen","passt")', t, "verdict", last=10, limits="0.028..0.052 mm")
    o.heads("A1", ["Farbe", "Bedarf Schalen", "Vorrat", "zu kaufen", "je Packung", "Packungen", "Preis je Packung", "Kosten"])
    o.down("A", 2, ["rot", "gelb", "grün", "blau", "weiß"], "Einkauf", "grade|location|look-up|colour")
    o.down("B", 2, lambda r: f"=2*COUNTIF(Auswahl!$E$5:$E$10,A{r})", "Einkauf", "needed|count", "", "0", last=6)
    o.down("C", 2, [0, 1, 0, 1, 0], "Einkauf", "stock", "", "0")
    o.down("D", 2, lambda r: f"=MAX(0,B{r}-C{r})", "Einkauf", "to buy", "", "0", last=6)
    o.down("E", 2, [2, 4, 4, 4, 4], "Einkauf", "pack size", "", "0")
    o.down("F", 2, lambda r: f"=ROUNDUP(D{r}/E{r},0)", "Einkauf", "packs", "", "0", last=6)
    o.down("G", 2, [D("14.20"), D("22.50"), D("22.50"), D("24.10"), D("19.90")], "Einkauf", "price", "", "0.00")
    o.down("H", 2, lambda r: f"=F{r}*G{r}", "Einkauf", "cost", "", "0.00", last=6)
    o.put("A7", "Summe").one("F7", "=SUM(F2:F6)", "Einkauf", "total", "", "0").one("H7", "=SUM(H2:H6)", "Einkauf", "total", "", "0.00")
    b.seed(t, "E7", "look-up takes a neighbour", "latent", write={"E7": "=VLOOKUP(D7,Schlüssel!$A$2:$C$6,2)"})
    b.seed(t, "F8", "range a row short or long", "latent", write={"F8": "=VLOOKUP(D8,Schlüssel!$A$2:$C$5,3,FALSE)"})
    b.seed(t, "I9", "one wall instead of two", "shows", write={"I9": "=G9-H9-F9"})
    b.seed("Einkauf", "F3", "rounded the wrong way", "shows", write={"F3": "=ROUNDDOWN(D3/E3,0)"}, also="cut off instead of rounded|formula unlike its neighbours")
    b.seed("Einkauf", "H7", "range a row short or long", "shows", write={"H7": "=SUM(H2:H5)"})
    b.seed("Einkauf", "B6", "range a row short or long", "shows", write={"B6": "=2*COUNTIF(Auswahl!$E$5:$E$8,A6)"})
    return b


def stages():
    """A torque chart with stages as shares of the final torque, and thread lengths. English."""
    b = Book("stages", "torque stages by share", "final torques in lb·ft, stages in N·m by share; a second small table in inches and mm")
    s = b.sheet("Torque chart")
    t = "Torque chart"
    s.put("A1", "Tightening chart, canal boat engine", bold=True)
    s.put("A2", "Oil threads and washers, the maker's book comes first")
    s.put("D3", "share of final")
    s.one("E3", D("0.30"), t, "share|ratio|reading|limit low|look-up|factor", "", "0%").one("F3", D("0.70"), t, "share|ratio|reading|look-up|factor", "", "0%")
    s.heads("A4", ["fastener", "how many", "final lb·ft", "final N·m", "1st stage N·m", "2nd stage N·m", "final lb·in"])
    what, many, final = ["main caps", "rod bolts", "head bolts", "flywheel", "crank nose", "oil pump", "cam caps"], [10, 8, 14, 6, 1, 4, 12], [74, 38, 61, 52, 145, 11, 9]
    s.down("A", 5, what, t, "location")
    s.down("B", 5, many, t, "count", "", "0")
    s.down("C", 5, final, t, "torque", "lbf·ft", "0")
    s.down("D", 5, lambda r: f"=C{r}*1.355818", t, "conversion|torque", "N·m", "0.0", last=11)
    s.down("E", 5, lambda r: f"=D{r}*E$3", t, "torque|stage", "N·m", "0.0", last=11)
    s.down("F", 5, lambda r: f"=D{r}*F$3", t, "torque|stage", "N·m", "0.0", last=11)
    s.down("G", 5, lambda r: f"=C{r}*12", t, "conversion|torque", "lbf·in", "0", last=11)
    s.put("A12", "bolts in all").one("B12", "=SUM(B5:B11)", t, "total", "", "0")
    s.heads("A15", ["bolt", "under head in", "under head mm", "engaged in", "engaged mm"])
    s.down("A", 16, ["main caps", "rod bolts", "head bolts"], "lengths", "location")
    s.down("B", 16, [D("3.250"), D("1.875"), D("4.125")], "lengths", "length|reading|length now", "in", MM)
    s.down("C", 16, lambda r: f'=CONVERT(B{r},"in","mm")', "lengths", "conversion", "mm", "0.00", last=18)
    s.down("D", 16, [D("0.875"), D("0.625"), D("0.750")], "lengths", "length|reading|length now", "in", MM)
    s.down("E", 16, lambda r: f'=CONVERT(D{r},"in","mm")', "lengths", "conversion", "mm", "0.00", last=18)
    b.seed(t, "D7", "wrong or short factor", "shows", write={"D7": "=C7*1.36"}, also="formula unlike its neighbours")
    b.seed(t, "E9", "neighbour's row or column", "shows", write={"E9": "=D9*F$3"}, also="formula unlike its neighbours")
    b.seed(t, "F8", "a number typed over a formula", "latent", write={"F8": D("52") * D("1.355818") * D("0.7")})
    b.seed(t, "G10", "wrong or short factor", "shows", write={"G10": "=C10*10"}, also="formula unlike its neighbours|another unit|decimal point moved")
    b.seed(t, "B12", "range a row short or long", "shows", write={"B12": "=SUM(B5:B10)"})
    b.seed(t, "E17", "units mixed", "shows", write={"E17": '=CONVERT(D17,"in","cm")'}, also="another unit|decimal point moved|wrong or short factor")
    return b


def bolts_ods():
    """Bolt stretch with names and SUMPRODUCT, a scrapped bolt hidden. English, inch, .ods."""
    b = Book("bolts", "names and SUMPRODUCT", "rod bolts by stretch; limits by name; counts by SUMPRODUCT", stored="ods")
    s = b.sheet("Rod bolts")
    t = "Rod bolts"
    s.put("A1", "Rod bolts, pulled by stretch", bold=True)
    s.put("A2", "stretch at least").one("C2", D("0.0050"), t, "limit low", "in", INCH)
    s.put("A3", "stretch at most").one("C3", D("0.0065"), t, "limit high", "in", INCH)
    b.name_cell("STRETCH_MIN", "'Rod bolts'!$C$2")
    b.name_cell("STRETCH_MAX", "'Rod bolts'!$C$3")
    s.heads("A5", ["bolt", "slack length in", "pulled length in", "stretch in", "stretch mm", "state"])
    slack, st = [24310, 24316, 24308, 24319, 24312, 24307, 24315, 24311], [56, 59, 53, 61, 57, 55, 62, 54]
    s.down("A", 6, ["1a", "1b", "2a", "2b", "3a", "3b", "4a", "4b"], t, "location")
    s.down("B", 6, tenth(*slack), t, "length new|length now|length used|reading", "in", INCH)
    s.down("C", 6, tenth(*[x + y for x, y in zip(slack, st)]), t, "length now|length new|length used|reading", "in", INCH)
    s.down("D", 6, lambda r: f"=C{r}-B{r}", t, "stretch", "in", INCH, last=13)
    s.down("E", 6, lambda r: f"=D{r}*25.4", t, "conversion", "mm", MM, last=13)
    s.down("F", 6, lambda r: f'=IF(D{r}<STRETCH_MIN,"pull more",IF(D{r}>STRETCH_MAX,"scrap","done"))', t, "verdict", last=13, limits="0.0050..0.0065 in")
    s.put("A15", "outside").one("D15", "=SUMPRODUCT((D6:D13<STRETCH_MIN)+(D6:D13>STRETCH_MAX))", t, "count", "", "0")
    s.put("A16", "mean").one("D16", "=AVERAGE(D6:D13)", t, "average", "in", "0.00000")
    s.put("A17", "spread").one("D17", "=MAX(D6:D13)-MIN(D6:D13)", t, "range", "in", INCH)
    b.seed(t, "D8", "the wrong way round", "shows", write={"D8": "=B8-C8"})
    b.seed(t, "F9", "the limit itself refused", "latent", write={"F9": '=IF(D9<STRETCH_MIN,"pull more",IF(D9>=STRETCH_MAX,"scrap","done"))'})
    b.seed(t, "E10", "wrong or short factor", "shows", write={"E10": "=D10*25"}, also="formula unlike its neighbours")
    b.seed(t, "F11", "one limit not compared", "latent", write={"F11": '=IF(D11<STRETCH_MIN,"pull more","done")'})
    b.seed(t, "E12", "a number typed over a formula", "latent", write={"E12": D("0.0062") * D("25.4")})
    b.seed(t, "D15", "range a row short or long", "latent", write={"D15": "=SUMPRODUCT((D6:D12<STRETCH_MIN)+(D6:D12>STRETCH_MAX))"})
    return b


def ringe():
    """Ring gaps by a rule of so much per millimetre of bore; values alone. German text."""
    b = Book("ringe", "values of a rule", "ring gaps, rule of 0.004 mm per mm of bore; no formulas", stored="csv",
             text={"separator": ";", "decimal": ",", "encoding": "cp1252"})
    s = b.sheet("ringe")
    t = "ringe"
    s.put("A1", "Stoßspiel der Kolbenringe, Stationärmotor")
    s.heads("A3", ["Zylinder", "Bohrung mm", "Mindestspalt 0,004 x Bohrung mm", "Spalt oberer Ring mm", "Spalt zweiter Ring mm", "oben", "zweiter"])
    s.down("A", 4, [1, 2, 3, 4, 5, 6], t, "location")
    s.down("B", 4, [D(x) / 100 for x in (9105, 9102, 9110, 9108, 9101, 9106)], t, "bore", "mm", "0.00")
    s.down("C", 4, lambda r: f"=ROUND(0.004*B{r},2)", t, "least gap", "mm", "0.00", last=9)
    s.down("D", 4, [D(x) / 100 for x in (40, 37, 45, 39, 33, 42)], t, "gap", "mm", "0.00")
    s.down("E", 4, [D(x) / 100 for x in (44, 41, 47, 46, 38, 35)], t, "gap", "mm", "0.00")
    s.down("F", 4, lambda r: f'=IF(D{r}>=C{r},"gut","feilen")', t, "verdict", last=9)
    s.down("G", 4, lambda r: f'=IF(E{r}>=C{r},"gut","feilen")', t, "verdict", last=9)
    b.seed(t, "C6", "decimal point moved", "shows", write={"C6": D("0.04")}, severity="value wrong", also="wrong or short factor")
    b.seed(t, "F8", "verdict against its limits", "shows", write={"F8": "gut"}, also="a text typed over a formula|no cause found|limits swapped|the wrong way round|")
    b.seed(t, "G9", "verdict against its limits", "shows", write={"G9": "gut"}, also="a text typed over a formula|no cause found|limits swapped|the wrong way round|")
    return b


def big_ends_tsv():
    """Bearings across, sizes in inches, clearances in thou; values alone, tabs. English."""
    b = Book("big-ends", "values in columns", "big ends across; sizes in inches, clearance in thou and mm; no formulas", stored="csv",
             text={"separator": "\t", "decimal": ".", "encoding": "utf-8", "ending": "tsv", "newline": "\n"})
    s = b.sheet("big-ends")
    t = "big-ends"
    s.put("A1", "Big ends, fire pump").put("A2", "allowed 1.0 to 2.6 thou")
    s.heads_down("A4", ["rod", "bore, in", "top shell, in", "bottom shell, in", "crankpin, in", "clearance, thou", "clearance, mm", "pass?"])
    rows = b.bearings(6, 2.1250, 0.0590, 0.0010, 0.0026, places=4, drift=4, outside={3: 5})
    s.across(4, "B", ["1", "2", "3", "4", "5", "6"], t, "location")
    for i, role in enumerate(["bore", "upper", "lower", "journal"]):
        s.across(5 + i, "B", [r[i] for r in rows], t, role, "in", INCH)
    s.across(9, "B", lambda c: f"=({c}5-{c}6-{c}7-{c}8)*1000", t, "clearance", "thou", "0.0", last="G")
    s.across(10, "B", lambda c: f"=({c}5-{c}6-{c}7-{c}8)*25.4", t, "conversion|clearance", "mm", MM, last="G")
    s.across(11, "B", lambda c: f'=IF(AND({c}9>0.95,{c}9<2.65),"pass","FAIL")', t, "verdict", last="G", limits="1.0..2.6 thou")
    s.put("A12", "mean clearance, thou").one("B12", "=AVERAGE(B9:G9)", t, "average", "thou", "0.00")
    b.seed(t, "C9", "one wall instead of two", "shows", write={"C9": "=(C5-C6-C8)*1000"})
    b.seed(t, "E11", "verdict against its limits", "shows", write={"E11": "pass"}, also="a text typed over a formula|no cause found|one limit not compared|")
    b.seed(t, "F10", "decimal point moved", "shows", write={"F10": "=(F5-F6-F7-F8)*2.54"}, also="wrong or short factor|units mixed|another unit")
    b.seed(t, "B12", "range a row short or long", "shows", write={"B12": "=AVERAGE(B9:F9)"}, also="no cause found|")
    return b


def stackup():
    """A stack with signs, worst case and root of the sum of squares. English."""
    b = Book("stackup", "stack with signs", "piston above or below deck by a signed stack, worst case and RSS")
    s = b.sheet("Stack")
    t = "Stack"
    s.put("A1", "Piston to deck, stack-up, all in mm", bold=True)
    s.heads("A3", ["part", "sign", "nominal", "+/- tol", "signed", "tol squared"])
    part = ["block deck height", "crank throw", "rod centres", "piston crown height"]
    s.down("A", 4, part, t, "location")
    s.down("B", 4, [1, -1, -1, -1], t, "sign|ratio|count", "", "0")
    s.down("C", 4, [D("212.40"), D("41.00"), D("137.85"), D("33.20")], t, "nominal|deck|throw|rod length|crown|reading", "mm", "0.00")
    s.down("D", 4, [D("0.06"), D("0.04"), D("0.05"), D("0.03")], t, "tolerance", "mm", "0.00")
    s.down("E", 4, lambda r: f"=B{r}*C{r}", t, "signed|product|nominal|difference", "mm", "0.00", last=7)
    s.down("F", 4, lambda r: f"=D{r}^2", t, "squared|product", "mm²", "0.0000", last=7)
    s.put("A9", "gap, nominal").one("C9", "=SUMPRODUCT(B4:B7,C4:C7)", t, "deck clearance|total|clearance", "mm", "0.00")
    s.put("A10", "worst case +/-").one("C10", "=SUM(D4:D7)", t, "worst case|total", "mm", "0.00")
    s.put("A11", "root sum of squares +/-").one("C11", "=SQRT(SUM(F4:F7))", t, "root sum of squares", "mm", MM)
    s.put("A12", "least gap, worst case").one("C12", "=C9-C10", t, "minimum|difference|deck clearance", "mm", "0.00")
    s.put("A13", "least gap, RSS").one("C13", "=C9-C11", t, "minimum|difference|deck clearance", "mm", MM)
    s.put("A14", "gap must be at least").one("C14", D("0.15"), t, "limit low", "mm", "0.00")
    s.put("A15", "good on worst case?").one("C15", '=IF(C12>=C14,"yes","no")', t, "verdict", limits="0.15..")
    s.put("A16", "good on RSS?").one("C16", '=IF(C13>=C14,"yes","no")', t, "verdict", limits="0.15..")
    b.seed(t, "C10", "range a row short or long", "shows", write={"C10": "=SUM(D4:D6)"})
    b.seed(t, "C11", "something left out", "shows", write={"C11": "=SUM(F4:F7)"}, also="another rule|formula unlike its neighbours")
    b.seed(t, "E6", "a number typed over a formula", "latent", write={"E6": D("-137.85")})
    b.seed(t, "C16", "the limit itself refused", "latent", write={"C16": '=IF(C13>C14,"yes","no")'})
    b.seed(t, "F5", "neighbour's row or column", "shows", write={"F5": "=D4^2"}, also="formula unlike its neighbours")
    return b


def merged():
    """Merged groups, least and greatest clearance of a bearing, subtotals, a hidden spare. English."""
    b = Book("two-banks", "least and greatest clearance", "least and greatest clearance from least and greatest sizes; merged groups; two banks with subtotals")
    s = b.sheet("Mains")
    t = "Mains"
    s.put("A1", "Mains, vee engine of the snow plough", bold=True)
    s.put("B3", "housing, mm", bold=True).put("D3", "both shells, mm", bold=True).put("E3", "journal, mm", bold=True).put("G3", "clearance, mm", bold=True).put("I3", "judged", bold=True)
    s.merged = ["B3:C3", "E3:F3", "G3:H3"]
    s.heads("A4", ["no.", "min", "max", "sum", "min", "max", "least", "greatest", "verdict"])
    s.put("A5", "left bank").put("A11", "right bank")
    s.put("K3", "limits, mm", bold=True).put("K4", "from").one("L4", D("0.030"), t, "limit low", "mm", MM).put("K5", "to").one("L5", D("0.070"), t, "limit high", "mm", MM)
    for first, bank in [(6, 0), (12, 1)]:
        n = 4
        mins = [74_004 + 2 * i + bank for i in range(n)]
        walls = [4_986, 4_989, 4_984, 4_987]
        least = [[36, 42, 39, 47], [41, 33, 45, 38]][bank]
        s.down("A", first, [f"{'LR'[bank]}{i + 1}" for i in range(n)], t, "location")
        s.down("B", first, th(*mins), t, "bore", "mm", MM)
        s.down("C", first, th(*[m + 6 + i for i, m in enumerate(mins)]), t, "bore", "mm", MM)
        s.down("D", first, th(*walls), t, "wall|upper", "mm", MM)
        jmax = [m - w - c for m, w, c in zip(mins, walls, least)]
        s.down("E", first, th(*[j - 5 for j in jmax]), t, "journal", "mm", MM)
        s.down("F", first, th(*jmax), t, "journal", "mm", MM)
        s.down("G", first, lambda r: f"=B{r}-D{r}-F{r}", t, "clearance|minimum", "mm", MM, last=first + n - 1)
        s.down("H", first, lambda r: f"=C{r}-D{r}-E{r}", t, "clearance|maximum", "mm", MM, last=first + n - 1)
        s.down("I", first, lambda r: f'=IF(G{r}<$L$4,"too tight",IF(H{r}>$L$5,"too loose","good"))', t, "verdict", last=first + n - 1, limits="0.030..0.070 mm")
        r = first + n
        s.put(f"A{r}", "mean").one(f"G{r}", f"=AVERAGE(G{first}:G{r-1})", t, "average", "mm", MM).one(f"H{r}", f"=AVERAGE(H{first}:H{r-1})", t, "average", "mm", MM)
    s.put("A18", "good bearings").one("I18", '=COUNTIF(I6:I9,"good")+COUNTIF(I12:I15,"good")', t, "count")
    b.seed(t, "G8", "neighbour's row or column", "shows", write={"G8": "=B8-D8-E8"}, also="formula unlike its neighbours")
    b.seed(t, "H13", "a number typed over a formula", "latent", change=lambda book: book.of(t).put("H13", book.of(t).cells["C13"] - book.of(t).cells["D13"] - book.of(t).cells["E13"], MM))
    b.seed(t, "I9", "one limit not compared", "latent", write={"I9": '=IF(G9<$L$4,"too tight","good")'})
    b.seed(t, "G10,H10", "hidden row counts", "latent", change=lambda book: book.of(t).hidden_rows.append(7))
    b.seed(t, "I14", "moving reference that should be fixed", "either", write={"I14": '=IF(G14<L12,"too tight",IF(H14>$L$5,"too loose","good"))'}, also="formula unlike its neighbours|one limit not compared|no limit to judge by")
    b.seed(t, "G16", "range a row short or long", "shows", write={"G16": "=AVERAGE(G12:G14)"})
    b.seed(t, "I18", "range a row short or long", "shows", write={"I18": '=COUNTIF(I6:I9,"good")+COUNTIF(I12:I14,"good")'})
    return b


def komma():
    """Readings typed as texts with a comma, made numbers in hidden columns; limits by name. German."""
    b = Book("komma", "readings as text", "readings typed as texts with decimal commas; hidden columns make numbers of them")
    s = b.sheet("Messblatt")
    t = "Messblatt"
    s.put("A1", "Pleuellager, Bagger (Maße in mm, mit Komma getippt)", bold=True)
    s.put("A2", "Spiel min").one("B2", D("0.020"), t, "limit low", "mm", MM).put("C2", "Spiel max").one("D2", D("0.048"), t, "limit high", "mm", MM)
    b.name_cell("Spiel_min", "Messblatt!$B$2")
    b.name_cell("Spiel_max", "Messblatt!$D$2")
    s.heads("A4", ["Pleuel", "Bohrung", "Schalen zusammen", "Hubzapfen", "Bohrung Zahl", "Schalen Zahl", "Zapfen Zahl", "Spiel", "Ergebnis"])
    rows = [(51_012, 3_024, 47_951), (51_017, 3_021, 47_962), (51_009, 3_027, 47_946), (51_014, 3_023, 47_949), (51_011, 3_025, 47_957)]
    txt = lambda n: f"{D(n) / 1000:.3f}".replace(".", ",")
    s.down("A", 5, [1, 2, 3, 4, 5], t, "location")
    for i, (c, role) in enumerate([("B", "bore"), ("C", "wall|upper"), ("D", "journal")]):
        s.down(c, 5, [txt(r[i]) for r in rows], t, role, "mm")
    for c, of, role in [("E", "B", "bore"), ("F", "C", "wall|upper"), ("G", "D", "journal")]:
        s.down(c, 5, lambda r: f'=VALUE(SUBSTITUTE({of}{r},",","."))', t, role + "|conversion", "mm", MM, last=9)
    s.down("H", 5, lambda r: f"=E{r}-F{r}-G{r}", t, "clearance", "mm", MM, last=9)
    s.down("I", 5, lambda r: f'=IF(AND(H{r}>=Spiel_min,H{r}<=Spiel_max),"frei","sperren")', t, "verdict", last=9, limits="0.020..0.048 mm")
    s.put("A10", "Mittel").one("H10", "=AVERAGE(H5:H9)", t, "average", "mm", MM)
    s.hidden_columns = ["E", "F", "G"]
    b.seed(t, "E7", "neighbour's row or column", "shows", write={"E7": '=VALUE(SUBSTITUTE(B6,",","."))'}, also="formula unlike its neighbours")
    b.seed(t, "H8", "added instead of subtracted", "shows", write={"H8": "=E8-F8+G8"})
    b.seed(t, "I6", "one limit not compared", "latent", write={"I6": '=IF(H6>=Spiel_min,"frei","sperren")'})
    b.seed(t, "G9", "a number typed over a formula", "latent", write={"G9": D("47.957")})
    b.seed(t, "H10", "range a row short or long", "shows", write={"H10": "=AVERAGE(H5:H8)"})
    return b


def classes():
    """Limits by class with LET and XLOOKUP, stored without values. English."""
    b = Book("classes", "LET and XLOOKUP", "cam bearings, limits by the class of engine; LET; not calculated when stored", stored="library")
    s, c = b.sheet("Cam"), b.sheet("Limits by class")
    c.heads("A1", ["class", "least mm", "most mm"])
    c.down("A", 2, ["light", "road", "stationary"], "classes", "code|grade|location")
    c.down("B", 2, th(25, 30, 40), "classes", "limit low", "mm", MM)
    c.down("C", 2, th(60, 75, 95), "classes", "limit high", "mm", MM)
    t = "Cam"
    s.put("A1", "Camshaft bearings, several engines", bold=True)
    s.heads("A3", ["engine", "class", "bush bore mm", "cam journal mm", "clearance mm", "verdict"])
    s.down("A", 4, ["E7", "E9", "E12", "E13", "E15", "E16"], t, "location")
    s.down("B", 4, ["light", "road", "stationary", "road", "light", "stationary"], t, "code|grade")
    bores, clear = [40_021, 44_018, 50_026, 44_022, 40_017, 50_019], [41, 52, 77, 63, 37, 58]
    s.down("C", 4, th(*bores), t, "bore", "mm", MM)
    s.down("D", 4, th(*[x - y for x, y in zip(bores, clear)]), t, "journal", "mm", MM)
    s.down("E", 4, lambda r: f"=C{r}-D{r}", t, "clearance", "mm", MM, last=9)

    def judge(r, least="gap<lo", exact="0"):
        return (f"=_xlfn.LET(_xlpm.gap,E{r},_xlpm.lo,_xlfn.XLOOKUP(B{r},'Limits by class'!$A$2:$A$4,'Limits by class'!$B$2:$B$4,0,{exact}),"
                f"_xlpm.hi,_xlfn.XLOOKUP(B{r},'Limits by class'!$A$2:$A$4,'Limits by class'!$C$2:$C$4,0,{exact}),"
                f'IF(_xlpm.{least.replace("lo", "_xlpm.lo")},"tight",IF(_xlpm.gap>_xlpm.hi,"worn","fit")))')
    s.down("F", 4, judge, t, "verdict", last=9)
    b.seed(t, "E6", "added instead of subtracted", "shows", write={"E6": "=C6+D6"})
    b.seed(t, "F7", "the limit itself refused", "latent", write={"F7": judge(7, "gap<=lo")})
    b.seed(t, "F8", "look-up takes a neighbour", "latent", write={"F8": judge(8, exact="-1")})
    b.seed(t, "E9", "a number typed over a formula", "latent", write={"E9": D("0.058")})
    return b


def without_let(formula):
    """The verdict of classes by functions that every office program has."""
    m = re.match(r"=_xlfn\.LET\(_xlpm\.gap,E(\d+).*_xlpm\.gap(<=?)", formula)
    if not m:
        return formula
    r, less = m.groups()
    of = lambda c: f"INDEX('Limits by class'!${c}$2:${c}$4,MATCH(B{r},'Limits by class'!$A$2:$A$4,0))"
    return f'=IF(E{r}{less}{of("B")},"tight",IF(E{r}>{of("C")},"worn","fit"))'

# The workbooks of the folder later: written after those above had been read, and read once
# before anything was changed for them.


def guides():
    """Valve stems in their guides; the limit depends on the kind of valve. English, inch."""
    b = Book("guides", "limit by kind within the IF", "valve stems in guides, inlet and exhaust in one list")
    s = b.sheet("Guides")
    t = "Guides"
    s.put("A1", "Valve guides, pump engine, inches", bold=True)
    s.put("G2", "wear limit inlet").one("H2", D("0.0025"), t, "limit high", "in", INCH)
    s.put("G3", "wear limit exhaust").one("H3", D("0.0035"), t, "limit high", "in", INCH)
    s.heads("A4", ["valve", "kind", "guide bore in", "stem in", "clearance in", "verdict"])
    kinds = ["IN", "EX"] * 4
    clear = [18, 27, 21, 31, 16, 29, 23, 24]
    stems = [3415, 3409, 3416, 3408, 3414, 3410, 3415, 3409]
    s.down("A", 5, [1, 2, 3, 4, 5, 6, 7, 8], t, "location")
    s.down("B", 5, kinds, t, "grade|code|kind|location|look-up")
    s.down("C", 5, tenth(*[x + c for x, c in zip(stems, clear)]), t, "bore", "in", INCH)
    s.down("D", 5, tenth(*stems), t, "journal|stem|reading", "in", INCH)
    s.down("E", 5, lambda r: f"=C{r}-D{r}", t, "clearance", "in", INCH, last=12)
    s.down("F", 5, lambda r: f'=IF(E{r}<=IF(B{r}="IN",$H$2,$H$3),"keep","renew")', t, "verdict", last=12)
    s.put("A13", "worst").one("E13", "=MAX(E5:E12)", t, "maximum", "in", INCH)
    b.seed(t, "F7", "the limit itself refused", "latent", write={"F7": '=IF(E7<IF(B7="IN",$H$2,$H$3),"keep","renew")'})
    b.seed(t, "F9", "formula unlike its neighbours", "latent", write={"F9": '=IF(E9<=IF(B9="IN",$H$2,0.004),"keep","renew")'}, also="a number typed over a formula")
    b.seed(t, "E10", "the wrong way round", "shows", write={"E10": "=D10-C10"})
    b.seed(t, "E13", "range a row short or long", "shows", write={"E13": "=MAX(E5:E7)"})
    b.seed(t, "E12", "a number typed over a formula", "latent", write={"E12": D("0.0024")})
    return b


def protokoll():
    """One line for each kind of measurement: least, most, found, verdict. German, .ods."""
    b = Book("protokoll", "a line for each quantity", "a protocol: least, most, found and verdict of unlike quantities", stored="ods")
    s = b.sheet("Protokoll")
    t = "Protokoll"
    s.widths = {"A": 30}
    s.put("A1", "Prüfprotokoll Kurbeltrieb, Lehrmotor", bold=True)
    s.heads("A3", ["Prüfmaß", "Einheit", "min", "max", "gemessen", "Abstand zur Mitte", "Urteil"])
    what = ["Axialspiel Kurbelwelle", "Seitenspiel Pleuel", "Kolbenspiel", "Stoßspiel oben", "Schlag Schwungrad", "Zahnflankenspiel"]
    low, high, found = [80, 150, 30, 250, 0, 50], [230, 350, 60, 500, 100, 160], [140, 210, 42, 310, 35, 95]
    s.down("A", 4, what, t, "location")
    s.down("B", 4, ["mm"] * 6, t, "location|unit|grade|number|look-up|")
    s.down("C", 4, th(*low), t, "limit low", "mm", MM)
    s.down("D", 4, th(*high), t, "limit high", "mm", MM)
    s.down("E", 4, th(*found), t, "reading|number|clearance", "mm", MM)
    s.down("F", 4, lambda r: f"=E{r}-(C{r}+D{r})/2", t, "difference|clearance|number", "mm", MM, last=9)
    s.down("G", 4, lambda r: f'=IF(AND(E{r}>=C{r},E{r}<=D{r}),"i.O.","Nacharbeit")', t, "verdict", last=9)
    s.put("A11", "Anzahl i.O.").one("G11", '=COUNTIF(G4:G9,"i.O.")', t, "count")
    b.seed(t, "F6", "something left out", "shows", write={"F6": "=E6-(C6+D6)"}, also="formula unlike its neighbours|wrong or short factor|radius for diameter|added instead of subtracted")
    b.seed(t, "G7", "one limit not compared", "latent", write={"G7": '=IF(E7>=C7,"i.O.","Nacharbeit")'})
    b.seed(t, "G11", "range a row short or long", "shows", write={"G11": '=COUNTIF(G4:G8,"i.O.")'})
    b.seed(t, "F9", "a number typed over a formula", "latent", write={"F9": D("-0.010")})
    return b


def cojinetes():
    """Values alone, one shell thickness for both halves. Spanish text, semicolons."""
    b = Book("cojinetes", "values, one wall", "rods with one shell thickness; no formulas", stored="csv", text={"separator": ";", "decimal": ",", "encoding": "utf-8"})
    s = b.sheet("cojinetes")
    t = "cojinetes"
    s.put("A1", "Cojinetes de biela, motor de riego")
    s.heads("A2", ["biela", "alojamiento mm", "espesor casquillo mm", "muñequilla mm", "holgura mm", "mínimo mm", "máximo mm", "estado"])
    rows = [(48_512, 1_488, 38), (48_516, 1_491, 44), (48_509, 1_487, 31), (48_514, 1_490, 52), (48_511, 1_489, 66)]
    s.down("A", 3, [1, 2, 3, 4, 5], t, "location")
    s.down("B", 3, th(*[r[0] for r in rows]), t, "bore", "mm", MM)
    s.down("C", 3, th(*[r[1] for r in rows]), t, "wall", "mm", MM)
    s.down("D", 3, th(*[r[0] - 2 * r[1] - r[2] for r in rows]), t, "journal", "mm", MM)
    s.down("E", 3, lambda r: f"=B{r}-2*C{r}-D{r}", t, "clearance", "mm", MM, last=7)
    s.down("F", 3, th(*[25] * 5), t, "limit low", "mm", MM)
    s.down("G", 3, th(*[60] * 5), t, "limit high", "mm", MM)
    s.down("H", 3, lambda r: f'=IF(AND(E{r}>=F{r},E{r}<=G{r}),"apto","no apto")', t, "verdict", last=7)
    b.seed(t, "E4", "one wall instead of two", "shows", write={"E4": "=B4-C4-D4"})
    b.seed(t, "H7", "verdict against its limits", "shows", write={"H7": "apto"}, also="|")
    b.seed(t, "E6", "two digits exchanged", "shows", write={"E6": D("0.025")}, also="|no cause found")
    return b


def grinding():
    """Undersizes by the least of three readings; nested IF; cost by SUMPRODUCT. English, inch."""
    b = Book("grinding", "undersizes", "crankpins: least of three readings, wear, undersize, cost of grinding")
    s = b.sheet("Pins")
    t = "Pins"
    s.put("A1", "Which undersize to grind to", bold=True)
    s.put("A2", "standard size").one("B2", D("1.9990"), t, "nominal|journal|number|reading|bore", "in", INCH)
    s.heads("A4", ["pin", "front in", "middle in", "rear in", "smallest in", "wear thou", "taper thou", "grind to", "price"])
    pins = [(19985, 19983, 19986), (19962, 19958, 19961), (19979, 19977, 19980), (19911, 19908, 19915)]
    s.down("A", 5, ["1", "2", "3", "4"], t, "location")
    for i, c in enumerate("BCD"):
        s.down(c, 5, tenth(*[p[i] for p in pins]), t, "journal|reading", "in", INCH)
    s.down("E", 5, lambda r: f"=MIN(B{r}:D{r})", t, "minimum|journal", "in", INCH, last=8)
    s.down("F", 5, lambda r: f"=($B$2-E{r})*1000", t, "difference|wear", "thou", "0.0", last=8)
    s.down("G", 5, lambda r: f"=(MAX(B{r}:D{r})-E{r})*1000", t, "taper|range|difference", "thou", "0.0", last=8)
    s.down("H", 5, lambda r: f'=IF(F{r}<=1,"standard",IF(F{r}<=5,"0.010 under","0.020 under"))', t, "verdict", last=8)
    s.down("I", 5, lambda r: f'=IF(H{r}="standard",0,38)', t, "price|cost|verdict|number", "", "0.00", last=8)
    s.put("A9", "to pay").one("I9", "=SUM(I5:I8)", t, "total", "", "0.00")
    b.seed(t, "E6", "range a row short or long", "shows", write={"E6": "=MIN(B6:B6)"}, also="something left out|formula unlike its neighbours")
    b.seed(t, "F7", "moving reference that should be fixed", "latent", write={"F7": "=(B2-E7)*1000"}, also="formula unlike its neighbours")
    b.seed(t, "H8", "formula unlike its neighbours", "latent", write={"H8": '=IF(F8<=1,"standard",IF(F8<=6,"0.010 under","0.020 under"))'})
    b.seed(t, "I9", "range a row short or long", "shows", write={"I9": "=SUM(I5:I7)"})
    b.seed(t, "G5", "wrong or short factor", "shows", write={"G5": "=(MAX(B5:D5)-E5)*100"}, also="decimal point moved|units mixed|formula unlike its neighbours")
    return b


def alesages():
    """Bores at three heights in two directions, ovality and taper, piston clearance. French, .ods."""
    b = Book("alesages", "six readings of a bore", "cylinders at three heights in two directions; merged headings", stored="ods")
    s = b.sheet("Mesures")
    t = "Mesures"
    s.put("A1", "Cylindres du groupe électrogène, cotes en mm", bold=True)
    s.put("B3", "haut", bold=True).put("D3", "milieu", bold=True).put("F3", "bas", bold=True)
    s.merged = ["B3:C3", "D3:E3", "F3:G3"]
    s.heads("A4", ["cyl.", "X", "Y", "X", "Y", "X", "Y", "piston", "jeu mini", "ovalisation", "usure", "décision"])
    base = [72_010, 72_014, 72_008, 72_017]
    offs = [(4, 9, 2, 5, 0, 3), (6, 12, 3, 7, 1, 4), (2, 5, 1, 3, 0, 2), (8, 14, 5, 9, 2, 5)]
    s.down("A", 5, [1, 2, 3, 4], t, "location")
    for i, c in enumerate("BCDEFG"):
        s.down(c, 5, th(*[x + o[i] for x, o in zip(base, offs)]), t, "bore|reading", "mm", MM)
    s.down("H", 5, th(*[x - c for x, c in zip(base, (42, 48, 39, 51))]), t, "piston", "mm", MM)
    s.down("I", 5, lambda r: f"=MIN(B{r}:G{r})-H{r}", t, "clearance|limit low|minimum", "mm", MM, last=8)
    s.down("J", 5, lambda r: f"=MAX(ABS(B{r}-C{r}),ABS(D{r}-E{r}),ABS(F{r}-G{r}))", t, "out-of-round|maximum", "mm", MM, last=8)
    s.down("K", 5, lambda r: f"=MAX(B{r}:G{r})-MIN(B{r}:G{r})", t, "range|wear|taper", "mm", MM, last=8)
    s.down("L", 5, lambda r: f'=IF(OR(I{r}>0.09,J{r}>0.02,K{r}>0.05),"réaléser","garder")', t, "verdict", last=8)
    s.put("A9", "pire").one("K9", "=MAX(K5:K8)", t, "maximum", "mm", MM)
    b.seed(t, "I6", "range a row short or long", "shows", write={"I6": "=MIN(B6:E6)-H6"})
    b.seed(t, "K7", "a number typed over a formula", "latent", write={"K7": D("0.005")})
    b.seed(t, "L8", "one limit not compared", "latent", write={"L8": '=IF(OR(I8>0.09,K8>0.05),"réaléser","garder")'})
    b.seed(t, "J5", "something left out", "shows", write={"J5": "=MAX(ABS(D5-E5),ABS(F5-G5))"}, also="formula unlike its neighbours|range a row short or long")
    return b


def wrenches():
    """Torque wrenches against a reference, error in per cent. English, N·m and lb·ft."""
    b = Book("wrenches", "calibration", "two torque wrenches on two sheets against the tester")
    for name, unit, points, reads in [("Wrench A", "N·m", [20, 50, 80, 110, 140], ["20.5", "50.9", "80.6", "111.2", "142.1"]), ("Wrench B", "lb·ft", [15, 40, 60, 90], ["14.8", "40.7", "61.1", "91.4"])]:
        s = b.sheet(name)
        u = "N·m" if unit == "N·m" else "lbf·ft"
        s.put("A1", f"Wrench against the tester, {unit}", bold=True)
        s.put("A2", "allowed error %").one("B2", 4, name, "limit high|tolerance|number", "%|", "0")
        s.heads("A4", ["point", f"set {unit}", f"tester {unit}", f"error {unit}", "error %", "in tolerance?"])
        n = len(points)
        s.down("A", 5, [i + 1 for i in range(n)], name, "location")
        s.down("B", 5, points, name, "torque", u, "0")
        s.down("C", 5, [D(x) for x in reads], name, "torque|reading", u, "0.0")
        s.down("D", 5, lambda r: f"=C{r}-B{r}", name, "difference|torque|error|number|clearance", u, "0.0", last=4 + n)
        s.down("E", 5, lambda r: f"=D{r}/B{r}*100", name, "ratio|number|error|product|conversion|tolerance", "%|", "0.0", last=4 + n)
        s.down("F", 5, lambda r: f'=IF(ABS(E{r})<=$B$2,"yes","no")', name, "verdict", last=4 + n)
        s.put(f"A{5+n}", "mean error").one(f"E{5+n}", f"=AVERAGE(E5:E{4+n})", name, "average", "%|", "0.0")
    b.seed("Wrench A", "E7", "neighbour's row or column", "shows", write={"E7": "=D7/B8*100"}, also="formula unlike its neighbours")
    b.seed("Wrench A", "F8", "moving reference that should be fixed", "either", write={"F8": '=IF(ABS(E8)<=B5,"yes","no")'}, also="formula unlike its neighbours|neighbour's row or column")
    b.seed("Wrench B", "F6", "formula unlike its neighbours", "latent", write={"F6": '=IF(E6<=$B$2,"yes","no")'}, also="something left out|one limit not compared")
    b.seed("Wrench B", "D7", "the wrong way round", "shows", write={"D7": "=B7-C7"})
    b.seed("Wrench B", "E9", "range a row short or long", "shows", write={"E9": "=AVERAGE(E5:E7)"})
    return b


def gaskets():
    """Gasket by how far the pistons stand out: a scale with steps, looked up on purpose. English."""
    b = Book("gaskets", "scale with steps", "head gasket by the greatest protrusion, from a scale with steps")
    s = b.sheet("Head gasket")
    t = "Head gasket"
    s.put("A1", "Piston protrusion and gasket, tractor", bold=True)
    s.heads("A3", ["piston", "front mm", "rear mm", "mean mm"])
    front, rear = [61, 66, 59, 63], [65, 68, 63, 69]
    s.down("A", 4, [1, 2, 3, 4], t, "location")
    s.down("B", 4, [D(x) / 100 for x in front], t, "reading", "mm", "0.00")
    s.down("C", 4, [D(x) / 100 for x in rear], t, "reading", "mm", "0.00")
    s.down("D", 4, lambda r: f"=AVERAGE(B{r}:C{r})", t, "average", "mm", MM, last=7)
    s.put("A9", "highest piston").one("D9", "=MAX(D4:D7)", t, "maximum", "mm", MM)
    s.put("A10", "gasket thickness").one("D10", "=VLOOKUP(D9,$G$4:$H$6,2,TRUE)", t, "look-up|wall", "mm", "0.00")
    s.put("A11", "piston to head").one("D11", "=D10-D9", t, "clearance|difference|deck clearance", "mm", MM)
    s.put("A12", "least allowed").one("D12", D("0.60"), t, "limit low", "mm", "0.00")
    s.put("A13", "verdict").one("D13", '=IF(D11>=D12,"good","too near")', t, "verdict")
    s.heads("G3", ["from mm", "gasket mm"])
    s.down("G", 4, [D("0.50"), D("0.60"), D("0.70")], t, "grade|limit low|look-up|reading", "mm|", "0.00")
    s.down("H", 4, [D("1.25"), D("1.35"), D("1.45")], t, "look-up|wall", "mm|", "0.00")
    b.seed(t, "D5", "neighbour's row or column", "shows", write={"D5": "=AVERAGE(B6:C6)"}, also="formula unlike its neighbours")
    b.seed(t, "D9", "range a row short or long", "either", write={"D9": "=MAX(D4:D6)"})
    b.seed(t, "D13", "the limit itself refused", "latent", write={"D13": '=IF(D11>D12,"good","too near")'})
    b.seed(t, "D7", "a number typed over a formula", "latent", write={"D7": D("0.66")})
    return b


def verdichtung():
    """Compression ratios with PI, powers and cm³; a target with ± beside it. German."""
    b = Book("verdichtung", "volumes", "compression of four cylinders from bore, stroke and measured volumes")
    s = b.sheet("Verdichtung")
    t = "Verdichtung"
    s.put("A1", "Verdichtung auslitern", bold=True)
    s.put("A2", "Soll").one("B2", D("9.5"), t, "target|nominal|limit low", "", "0.0").put("C2", "±").one("D2", D("0.3"), t, "tolerance", "", "0.0")
    s.heads("A4", ["Zylinder", "Bohrung mm", "Hub mm", "Hubraum cm³", "Brennraum cm³", "Verdichtung", "Befund"])
    s.down("A", 5, [1, 2, 3, 4], t, "location")
    s.down("B", 5, [D("84.02"), D("84.01"), D("84.03"), D("84.02")], t, "bore", "mm", "0.00")
    s.down("C", 5, [D("77.50")] * 4, t, "throw|stroke|reading", "mm", "0.00")
    s.down("D", 5, lambda r: f"=PI()/4*B{r}^2*C{r}/1000", t, "volume|product|number", "cm³", "0.0", last=8)
    s.down("E", 5, [D("50.3"), D("50.9"), D("49.8"), D("51.2")], t, "volume|reading|number", "cm³", "0.0")
    s.down("F", 5, lambda r: f"=(D{r}+E{r})/E{r}", t, "ratio|number|product|factor", "", "0.00", last=8)
    s.down("G", 5, lambda r: f'=IF(ABS(F{r}-$B$2)<=$D$2,"passt","ausgleichen")', t, "verdict", last=8)
    s.put("A9", "Mittel").one("F9", "=AVERAGE(F5:F8)", t, "average", "", "0.00")
    b.seed(t, "D6", "wrong or short factor", "shows", write={"D6": "=3.14/4*B6^2*C6/1000"}, also="formula unlike its neighbours")
    b.seed(t, "F7", "something left out", "shows", write={"F7": "=D7/E7"}, also="formula unlike its neighbours")
    b.seed(t, "G8", "moving reference that should be fixed", "latent", write={"G8": '=IF(ABS(F8-B2)<=D2,"passt","ausgleichen")'}, also="formula unlike its neighbours")
    b.seed(t, "F9", "range a row short or long", "shows", write={"F9": "=AVERAGE(F5:F7)"})
    return b


LATER = [guides, protokoll, cojinetes, grinding, alesages, wrenches, gaskets, verdichtung]

# The workbooks of the folder traps: right ones that look wrong to who takes every difference
# for a mistake. Written after those of later had been read.


def two_kinds():
    """Mains and rods in one list, each kind with its own limits typed in the IF. English, mm."""
    b = Book("two-kinds", "limits by block of lines", "mains and rods in one list, limits of each typed in its IF")
    s = b.sheet("All")
    t = "All"
    s.put("A1", "Mains then rods, compressor", bold=True)
    s.heads("A3", ["where", "bore mm", "shells mm", "journal mm", "gap mm", "say"])
    rows = [("M1", 65_012, 3_990, 41), ("M2", 65_009, 3_994, 52), ("M3", 65_014, 3_991, 37), ("M4", 65_011, 3_993, 46), ("M5", 65_010, 3_992, 55),
            ("R1", 53_008, 2_990, 28), ("R2", 53_011, 2_992, 33), ("R3", 53_006, 2_989, 41), ("R4", 53_009, 2_991, 25)]
    s.down("A", 4, [r[0] for r in rows], t, "location")
    s.down("B", 4, th(*[r[1] for r in rows]), t, "bore", "mm", MM)
    s.down("C", 4, th(*[r[2] for r in rows]), t, "wall|upper", "mm", MM)
    s.down("D", 4, th(*[r[1] - r[2] - r[3] for r in rows]), t, "journal", "mm", MM)
    s.down("E", 4, lambda r: f"=B{r}-C{r}-D{r}", t, "clearance", "mm", MM, last=12)
    s.down("F", 4, lambda r: f'=IF(AND(E{r}>=0.03,E{r}<=0.06),"ok","bad")' if r < 9 else f'=IF(AND(E{r}>=0.02,E{r}<=0.045),"ok","bad")', t, "verdict", last=12)
    s.put("A14", "nominal").put("B14", D("65.010"), MM).put("C14", D("3.992"), MM).put("D14", D("60.970"), MM).put("E14", D("0.048"), MM)
    b.seed(t, "E6", "something left out", "shows", write={"E6": "=B6-D6"}, also="one wall instead of two")
    b.seed(t, "E11", "a number typed over a formula", "latent", write={"E11": D("0.041")})
    return b


def ledger():
    """Running stock of shells, a balance in each line, dates. German."""
    b = Book("bestand", "running balance", "shells in and out with a running balance")
    s = b.sheet("Schalenlager")
    t = "Schalenlager"
    s.put("A1", "Lagerliste Schalen, Werkstatt", bold=True)
    s.heads("A3", ["Datum", "Text", "Zugang Stück", "Abgang Stück", "Bestand Stück", "Wert"])
    s.put("F2", "Preis je Stück").one("G2", D("7.35"), t, "price", "", "0.00")
    moves = [("3.1.", "Anfang", 40, 0), ("7.1.", "Motor 12", 0, 10), ("9.1.", "Motor 14", 0, 10), ("14.1.", "Lieferung", 24, 0), ("20.1.", "Motor 15", 0, 8), ("22.1.", "Ausschuss", 0, 1)]
    s.down("A", 4, [m[0] for m in moves], t, "location")
    s.down("B", 4, [m[1] for m in moves], t, "location|grade||text")
    s.down("C", 4, [m[2] for m in moves], t, "count|number", "", "0")
    s.down("D", 4, [m[3] for m in moves], t, "count|number", "", "0")
    s.one("E4", "=C4-D4", t, "stock|difference|number|left over|count")
    s.down("E", 5, lambda r: f"=E{r-1}+C{r}-D{r}", t, "stock|difference|number|left over|count", last=9)
    s.down("F", 4, lambda r: f"=E{r}*$G$2", t, "cost|conversion|price|product|number", "", "0.00", last=9)
    b.seed(t, "E8", "wrong or short factor", "shows", write={"E8": "=E7+C8+D8"}, also="added instead of subtracted|formula unlike its neighbours")
    b.seed(t, "F6", "moving reference that should be fixed", "latent", write={"F6": "=E6*G2"}, also="formula unlike its neighbours")
    return b


def switched():
    """A switch between inches and millimetres, and rounding to show. English."""
    b = Book("switched", "unit switch", "crankpins with a switch for the unit that is shown; three bearings of which one is unlike")
    s = b.sheet("Pins")
    t = "Pins"
    s.put("A1", "Crankpin clearance", bold=True)
    s.put("A2", "show in").put("B2", "mm")
    s.put("A3", "factor").one("B3", '=IF(B2="mm",25.4,1)', t, "factor|conversion|verdict|number", "", "0.0")
    s.put("D2", "limits, in").one("E2", D("0.0010"), t, "limit low", "in", INCH).one("F2", D("0.0029"), t, "limit high", "in", INCH)
    s.heads("A5", ["pin", "rod bore in", "shell in", "pin in", "clearance in", "shown", "state"])
    rows = [(21245, 601, 21), (21248, 603, 26), (21243, 602, 17), (21246, 600, 23)]
    s.down("A", 6, [1, 2, 3, 4], t, "location")
    s.down("B", 6, tenth(*[r[0] for r in rows]), t, "bore", "in", INCH)
    s.down("C", 6, tenth(*[r[1] for r in rows]), t, "wall", "in", INCH)
    s.down("D", 6, tenth(*[r[0] - 2 * r[1] - r[2] for r in rows]), t, "journal", "in", INCH)
    s.down("E", 6, lambda r: f"=B{r}-2*C{r}-D{r}", t, "clearance", "in", INCH, last=9)
    s.down("F", 6, lambda r: f"=ROUND(E{r}*$B$3,3)", t, "conversion|product|number|clearance", "mm|in|", MM, last=9)
    s.down("G", 6, lambda r: f'=IF(E{r}<$E$2,"tight",IF(E{r}>$F$2,"slack","fine"))', t, "verdict", last=9)
    b.seed(t, "E8", "one wall instead of two", "shows", write={"E8": "=B8-C8-D8"})
    b.seed(t, "G9", "one limit not compared", "latent", write={"G9": '=IF(E9<$E$2,"tight","fine")'})
    return b


def cards_unlike():
    """Three cards for thrust and plain bearings that are not alike. German."""
    b = Book("karten", "cards that are not alike", "cards for bearings, the thrust bearing's has more lines; words that are used twice")
    s = b.sheet("Karten")
    s.put("A1", "Lagerkarten Kompressor, Maße in mm", bold=True)
    for n, left in enumerate([0, 4, 8]):
        a, v = letter(left + 1), letter(left + 2)
        t = ["Lager 1", "Lager 2", "Paßlager"][n]
        s.put(f"{a}3", t, bold=True)
        bore, shell, gap = [(45_012, 1_988, 33), (45_009, 1_991, 41), (45_011, 1_990, 38)][n]
        for r, label in enumerate(["Bohrung", "Schale", "Zapfen", "Spiel"], 4):
            s.put(f"{a}{r}", label)
        s.one(f"{v}4", D(bore) / 1000, t, "bore", "mm", MM)
        s.one(f"{v}5", D(shell) / 1000, t, "wall", "mm", MM)
        s.one(f"{v}6", D(bore - 2 * shell - gap) / 1000, t, "journal", "mm", MM)
        s.one(f"{v}7", f"={v}4-2*{v}5-{v}6", t, "clearance", "mm", MM)
        if n < 2:
            s.put(f"{a}8", "Urteil").one(f"{v}8", f'=IF(AND({v}7>=0.025,{v}7<=0.055),"gut","schlecht")', t, "verdict")
        else:
            for r, label in enumerate(["Zapfenlänge", "Lagerbreite", "Axialspiel", "Urteil"], 8):
                s.put(f"{a}{r}", label)
            s.one(f"{v}8", D("24.180"), t, "journal length", "mm", MM)
            s.one(f"{v}9", D("24.030"), t, "housing width", "mm", MM)
            s.one(f"{v}10", f"={v}8-{v}9", t, "end play", "mm", MM)
            s.one(f"{v}11", f'=IF(AND({v}7>=0.025,{v}7<=0.055,{v}10>=0.1,{v}10<=0.2),"gut","schlecht")', t, "verdict")
    b.seed("Karten", "F7", "one wall instead of two", "shows", write={"F7": "=F4-F5-F6"}, also="wrong or short factor")
    return b


def by_hand():
    """Two methods side by side: a strip read for some, sizes for all; blanks; notes. English, inch."""
    b = Book("strips", "two methods", "clearance by sizes and by strip, the smaller is judged; empty lines; remarks")
    s = b.sheet("Mains")
    t = "Mains"
    s.put("A1", "Mains by micrometer and by strip (in)", bold=True)
    s.heads("A3", ["main", "clearance by sizes in", "by strip in", "smaller in", "difference in", "judged", "remark"])
    sizes, strips = [19, 22, 25, 21, 24], [20, None, 25, 20, None]
    s.down("A", 4, [1, 2, 3, 4, 5], t, "location")
    s.down("B", 4, tenth(*sizes), t, "clearance", "in", INCH)
    for r, x in enumerate(strips, 4):
        if x is not None:
            s.put(f"C{r}", D(x) / 10000, INCH)
    s.means("C4:C8", t, "clearance|reading", "in", "input")
    s.down("D", 4, lambda r: f'=IF(C{r}="",B{r},MIN(B{r},C{r}))', t, "clearance|minimum|limit low|number", "in", INCH, last=8)
    s.down("E", 4, lambda r: f'=IF(C{r}="","",B{r}-C{r})', t, "difference|clearance", "in", INCH, last=8)
    s.down("F", 4, lambda r: f'=IF(AND(D{r}>=0.0015,D{r}<=0.0028),"good","no good")', t, "verdict", last=8)
    s.put("G6", "strip narrow at one end").put("G8", "no strip left")
    b.seed(t, "F7", "one limit not compared", "latent", write={"F7": '=IF(D7<=0.0028,"good","no good")'})
    b.seed(t, "E4", "the wrong way round", "shows", write={"E4": '=IF(C4="","",C4-B4)'})
    return b


def tarifs():
    """An estimate: hours, parts, discount, tax; subtotals. French."""
    b = Book("devis", "estimate", "hours and parts with a discount, subtotals, tax")
    s = b.sheet("Devis")
    t = "Devis"
    s.put("A1", "Devis réfection bas moteur", bold=True)
    s.put("E2", "TVA").one("F2", D("0.20"), t, "factor|number|ratio", "", "0%")
    s.put("E3", "remise pièces").one("F3", D("0.05"), t, "factor|number|ratio", "", "0%")
    s.heads("A4", ["poste", "quantité", "prix unitaire", "total"])
    s.put("A5", "Pièces", bold=True)
    parts = [("coussinets", 5, "38.00"), ("segments", 4, "27.50"), ("joints", 1, "64.00"), ("vis de bielle", 8, "4.20")]
    hours = [("démontage", 6, "55.00"), ("mesure", 3, "55.00"), ("montage", 9, "55.00")]
    for first, lines in [(6, parts), (12, hours)]:
        last = first + len(lines) - 1
        s.down("A", first, [x[0] for x in lines], t, "location|grade")
        s.down("B", first, [x[1] for x in lines], t, "count|number|needed", "", "0")
        s.down("C", first, [D(x[2]) for x in lines], t, "price", "", "0.00")
        s.down("D", first, lambda r: f"=B{r}*C{r}*(1-$F$3)" if first == 6 else f"=B{r}*C{r}", t, "total|cost|price|product", "", "0.00", last=last)
        s.put(f"A{last+1}", "sous-total").one(f"D{last+1}", f"=SUM(D{first}:D{last})", t, "total", "", "0.00")
    s.put("A11", "Main d'œuvre", bold=True)
    s.put("A17", "hors taxes").one("D17", "=D10+D15", t, "total|cost|number", "", "0.00")
    s.put("A18", "taxes").one("D18", "=D17*F2", t, "cost|number|product|conversion|price", "", "0.00")
    s.put("A19", "à payer").one("D19", "=D17+D18", t, "total|cost|number", "", "0.00")
    b.seed(t, "D15", "range a row short or long", "shows", write={"D15": "=SUM(D12:D13)"})
    b.seed(t, "D8", "formula unlike its neighbours", "shows", write={"D8": "=B8*C8"}, also="something left out|wrong or short factor")
    return b


TRAPS = [two_kinds, ledger, switched, cards_unlike, by_hand, tarifs]

# The workbooks of the folder fresh: everyday ones, written after those of traps had been read.


def plus_minus():
    """Limits as nominal and plus or minus; words with the number in them. English, mm."""
    b = Book("plus-minus", "nominal and tolerance", "clearance against an aim, plus or minus; the verdict writes the number")
    s = b.sheet("Mains")
    t = "Mains"
    s.put("A1", "Main bearings, generator set", bold=True)
    s.put("A3", "aim").one("B3", D("0.045"), t, "target|nominal|limit low|number", "mm", MM).put("C3", "mm")
    s.put("A4", "plus or minus").one("B4", D("0.015"), t, "tolerance|limit high|number", "mm", MM).put("C4", "mm")
    s.heads("A6", ["Main", "Tunnel", "Top shell", "Bottom shell", "Journal", "Clearance", "Off aim", "Verdict"])
    s.heads("A7", ["no.", "mm", "mm", "mm", "mm", "mm", "µm", None])
    rows = b.bearings(6, 70.500, 2.490, 0.030, 0.060)
    s.down("A", 8, [1, 2, 3, 4, 5, 6], t, "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 8, [r[k] for r in rows], t, role, "mm", MM)
    s.down("F", 8, lambda r: f"=B{r}-SUM(C{r}:E{r})", t, "clearance", "mm", MM, last=13)
    s.down("G", 8, lambda r: f"=(F{r}-B$3)*1000", t, "difference|conversion", "µm", "0", last=13)
    s.down("H", 8, lambda r: f'=IF(ABS(F{r}-$B$3)<=$B$4+0.0000001,"good","out by "&TEXT(ABS(F{r}-$B$3)-$B$4,"0.000"))', t, "verdict", last=13)
    b.seed(t, "F10", "one wall instead of two", "shows", write={"F10": "=B10-SUM(D10:E10)"}, also="range a row short or long|something left out|formula unlike its neighbours")
    b.seed(t, "G12", "moving reference that should be fixed", "latent", write={"G12": "=(F12-B3)*1000"}, also="formula unlike its neighbours")
    b.seed(t, "F9", "a number typed over a formula", "latent", change=lambda book: book.of(t).put("F9", rows[1][0] - rows[1][1] - rows[1][2] - rows[1][3], MM))
    b.seed(t, "G13", "wrong or short factor", "shows", write={"G13": "=(F13-B$3)*100"}, also="decimal point moved|units mixed|formula unlike its neighbours")
    return b


def kolben():
    """Pistons matched to bores; CHOOSE by class; weights and their spread. German."""
    b = Book("kolben", "matching", "pistons to bores with play, weights with the spread of the set")
    s = b.sheet("Kolben")
    t = "Kolben"
    s.put("A1", "Kolben zu Zylindern, Rasentraktor", bold=True)
    s.put("A2", "Einbauspiel von").one("C2", D("0.035"), t, "limit low", "mm", MM).put("A3", "bis").one("C3", D("0.060"), t, "limit high", "mm", MM)
    s.put("A4", "Gewichtsunterschied höchstens (g)").one("C4", 4, t, "limit high", "g|", "0")
    s.heads("A6", ["Zyl.", "Zylinderbohrung (mm)", "Kolbendurchmesser (mm)", "Einbauspiel (mm)", "Einbauspiel (in)", "Gewicht (g)", "Spiel i.O.?"])
    bores, clear, grams = [79_512, 79_508, 79_515], [44, 51, 47], [421, 423, 420]
    s.down("A", 7, [1, 2, 3], t, "location")
    s.down("B", 7, th(*bores), t, "bore", "mm", MM)
    s.down("C", 7, th(*[x - y for x, y in zip(bores, clear)]), t, "piston", "mm", MM)
    s.down("D", 7, lambda r: f"=B{r}-C{r}", t, "clearance", "mm", MM, last=9)
    s.down("E", 7, lambda r: f"=D{r}/25.4", t, "conversion", "in", INCH, last=9)
    s.down("F", 7, grams, t, "number|reading|weight|mass", "g|", "0")
    s.down("G", 7, lambda r: f'=IF(AND(D{r}>=$C$2,D{r}<=$C$3),"ja","nein")', t, "verdict", last=9)
    s.put("A11", "Unterschied").one("F11", "=MAX(F7:F9)-MIN(F7:F9)", t, "range", "g|", "0")
    s.put("A12", "Satz passt").one("F12", '=IF(F11<=C4,"ja","nein")', t, "verdict")
    b.seed(t, "D8", "neighbour's row or column", "shows", write={"D8": "=B8-C9"}, also="formula unlike its neighbours")
    b.seed(t, "E9", "wrong or short factor", "shows", write={"E9": "=D9/25"}, also="formula unlike its neighbours")
    b.seed(t, "F11", "range a row short or long", "latent", write={"F11": "=MAX(F7:F9)-MIN(F8:F9)"})
    b.seeds[-1].shows = "either"
    b.seed(t, "G7", "one limit not compared", "latent", write={"G7": '=IF(D7>=$C$2,"ja","nein")'})
    return b


def journaux():
    """Two sheets of sizes and a third that joins them by number. French, .ods."""
    b = Book("journal", "sheets joined by number", "housings on one sheet, journals on another, clearances on a third by INDEX and MATCH", stored="ods")
    s, bl, v = b.sheet("Jeux"), b.sheet("Bloc"), b.sheet("Vilebrequin")
    bl.heads("A1", ["palier", "alésage [mm]", "coussinet [mm]"])
    v.heads("A1", ["palier", "tourillon [mm]"])
    bores, walls, clear = [55_011, 55_008, 55_014, 55_010, 55_012], [1_990, 1_992, 1_989, 1_991, 1_990], [36, 42, 33, 47, 39]
    bl.down("A", 2, [1, 2, 3, 4, 5], "Bloc", "location|grade|code")
    bl.down("B", 2, th(*bores), "Bloc", "bore|look-up", "mm|", MM)
    bl.down("C", 2, th(*walls), "Bloc", "wall|look-up", "mm|", MM)
    v.down("A", 2, [5, 4, 3, 2, 1], "Vilebrequin", "location|grade|code")
    v.down("B", 2, th(*[x - 2 * w - c for x, w, c in reversed(list(zip(bores, walls, clear)))]), "Vilebrequin", "journal|look-up", "mm|", MM)
    t = "Jeux"
    s.put("A1", "Jeux des paliers, bateau", bold=True)
    s.heads("A2", ["palier", "alésage [mm]", "tourillon [mm]", "coussinet [mm]", "jeu [mm]", "mini", "maxi", "avis"])
    s.down("A", 3, [1, 2, 3, 4, 5], t, "location|grade|code")
    s.down("B", 3, lambda r: f"=VLOOKUP(A{r},Bloc!$A$2:$C$6,2,FALSE)", t, "bore|look-up", "mm", MM, last=7)
    s.down("C", 3, lambda r: f"=INDEX(Vilebrequin!$B$2:$B$6,MATCH(A{r},Vilebrequin!$A$2:$A$6,0))", t, "journal|look-up", "mm", MM, last=7)
    s.down("D", 3, lambda r: f"=VLOOKUP(A{r},Bloc!$A$2:$C$6,3,FALSE)", t, "wall|look-up", "mm", MM, last=7)
    s.down("E", 3, lambda r: f"=B{r}-C{r}-2*D{r}", t, "clearance", "mm", MM, last=7)
    s.down("F", 3, th(*[28] * 5), t, "limit low", "mm", MM)
    s.down("G", 3, th(*[50] * 5), t, "limit high", "mm", MM)
    s.down("H", 3, lambda r: f'=IF(OR(E{r}<F{r},E{r}>G{r}),"mauvais","bon")', t, "verdict", last=7)
    b.seed(t, "C4", "look-up takes a neighbour", "shows", write={"C4": "=INDEX(Vilebrequin!$B$2:$B$6,MATCH(A4,Vilebrequin!$A$2:$A$6,1))"})
    b.seeds[-1].shows = "either"
    b.seed(t, "D5", "neighbour's row or column", "shows", write={"D5": "=VLOOKUP(A6,Bloc!$A$2:$C$6,3,FALSE)"}, also="formula unlike its neighbours")
    b.seed(t, "E6", "one wall instead of two", "shows", write={"E6": "=B6-C6-D6"})
    b.seed(t, "H7", "one limit not compared", "latent", write={"H7": '=IF(E7<F7,"mauvais","bon")'})
    b.seed(t, "B7", "range a row short or long", "shows", write={"B7": "=VLOOKUP(A7,Bloc!$A$2:$C$5,2,FALSE)"})
    return b


def rods_across():
    """Rods across with a column of limits before them, inch; average behind. English."""
    b = Book("rods-across", "limits before the columns", "rods across, limits in the columns before them, inch and thou")
    s = b.sheet("Big ends")
    t = "Big ends"
    s.put("A1", "Big ends, press", bold=True)
    s.heads("A3", [None, "min", "max", "rod 1", "rod 2", "rod 3", "rod 4", "average"])
    s.heads_down("A4", ["rod bore (in)", "shell (in)", "crankpin (in)", "oil clearance (in)", "oil clearance (thou)", "rod width (in)", "clearance ok", "turns free"])
    rows = [(22005, 615, 18), (22008, 617, 22), (22003, 616, 15), (22006, 614, 25)]
    s.across(4, "D", tenth(*[r[0] for r in rows]), t, "bore", "in", INCH)
    s.across(5, "D", tenth(*[r[1] for r in rows]), t, "wall", "in", INCH)
    s.across(6, "D", tenth(*[r[0] - 2 * r[1] - r[2] for r in rows]), t, "journal", "in", INCH)
    s.across(7, "D", lambda c: f"={c}4-2*{c}5-{c}6", t, "clearance", "in", INCH, last="G")
    s.across(8, "D", lambda c: f"={c}7*1000", t, "conversion", "thou", "0.0", last="G")
    s.across(9, "D", tenth(8750, 8755, 8748, 8752), t, "rod width", "in", INCH)
    s.one("B7", D("0.0010"), t, "limit low", "in", INCH).one("C7", D("0.0027"), t, "limit high", "in", INCH)
    s.across(10, "D", lambda c: f'=IF({c}7<$B$7,"tight",IF({c}7>$C$7,"loose","ok"))', t, "verdict", last="G")
    s.one("H7", "=AVERAGE(D7:G7)", t, "average", "in", "0.00000").one("H8", "=AVERAGE(D8:G8)", t, "average", "thou", "0.00")
    s.across(11, "D", ["yes", "yes", "yes", "yes"], t, "verdict|location|grade||", "", kind="input")
    b.truth.pop()
    b.seed(t, "E7", "one wall instead of two", "shows", write={"E7": "=E4-E5-E6"})
    b.seed(t, "F10", "moving reference that should be fixed", "latent", write={"F10": '=IF(F7<B7,"tight",IF(F7>$C$7,"loose","ok"))'}, also="formula unlike its neighbours")
    b.seed(t, "G8", "a number typed over a formula", "latent", write={"G8": D("2.5")})
    b.seed(t, "H7", "range a row short or long", "shows", write={"H7": "=AVERAGE(D7:F7)"})
    b.seed(t, "D8", "wrong or short factor", "shows", write={"D8": "=D7*100"}, also="decimal point moved|units mixed|formula unlike its neighbours")
    return b


def apriete():
    """Stages of torque and angle, final torque as a sum, turns; kgf·m and N·m. Spanish, .ods."""
    b = Book("apriete", "torque and angle", "tightening in stages, torque in kgf·m and N·m, angles as turns", stored="ods")
    s = b.sheet("Apriete")
    t = "Apriete"
    s.put("A1", "Tabla de apriete, motor agrícola", bold=True)
    s.put("A2", "1 kgf·m en N·m").one("C2", D("9.80665"), t, "factor|conversion|number|torque", "|N·m", "0.00000")
    s.heads("A4", ["tornillo", "cantidad", "par previo kgf·m", "par previo N·m", "ángulo °", "vueltas", "vueltas en total"])
    s.down("A", 5, ["bancada", "biela", "culata", "volante", "polea"], t, "location")
    s.down("B", 5, [10, 8, 18, 6, 1], t, "count", "", "0")
    s.down("C", 5, [D("6.0"), D("3.5"), D("4.0"), D("5.5"), D("9.0")], t, "torque", "kgf·m", "0.0")
    s.down("D", 5, lambda r: f"=C{r}*$C$2", t, "conversion|torque|product", "N·m", "0.0", last=9)
    s.down("E", 5, [90, 60, 180, 45, 90], t, "angle", "°", "0")
    s.down("F", 5, lambda r: f"=E{r}/360", t, "conversion", "turn|", "0.000", last=9)
    s.down("G", 5, lambda r: f"=B{r}*F{r}", t, "product|number|total", "turn|", "0.00", last=9)
    s.put("A10", "total").one("B10", "=SUM(B5:B9)", t, "total", "", "0").one("G10", "=SUM(G5:G9)", t, "total", "turn|", "0.00")
    b.seed(t, "D7", "moving reference that should be fixed", "latent", write={"D7": "=C7*C2"}, also="formula unlike its neighbours")
    b.seed(t, "D8", "a number typed over a formula", "latent", write={"D8": D("5.5") * D("9.80665")})
    b.seed(t, "F6", "wrong or short factor", "shows", write={"F6": "=E6/180"}, also="formula unlike its neighbours|another unit")
    b.seed(t, "G10", "range a row short or long", "shows", write={"G10": "=SUM(G5:G8)"})
    return b


FRESH = [plus_minus, kolben, journaux, rods_across, apriete]

BOOKS = [cards, blatt_je_lager, one_line, columnas, pistons_fr, shims, kennzahlen, stages, bolts_ods, ringe, big_ends_tsv, stackup, merged, komma, classes]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "blind"), without_let)
    make_all(LATER, os.path.join(HERE, "later"), without_let)
    make_all(TRAPS, os.path.join(HERE, "traps"), without_let)
    make_all(FRESH, os.path.join(HERE, "fresh"), without_let)
