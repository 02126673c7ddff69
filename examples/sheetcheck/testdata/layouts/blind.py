#!/usr/bin/python3
"""Makes the workbooks of the folder blind, with its seeds.csv and truth.csv.

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


BOOKS = [cards, blatt_je_lager, one_line, columnas, pistons_fr, shims, kennzahlen, stages, bolts_ods, ringe, big_ends_tsv, stackup, merged, komma, classes]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "blind"), without_let)
