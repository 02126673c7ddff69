#!/usr/bin/python3
"""Makes the workbooks of the folder strangers, with its seeds.csv and truth.csv. README.md
says what they are.

    /usr/bin/python3 strangers.py

They were laid out by somebody who had not read how sheetcheck understands a sheet, and were
written down with their truth and their seeds before it had read any of them. All of it is
invented. Where the vocabulary of truth.csv has more than one fair word for a cell, they stand
with | between them.
"""
import os
from decimal import Decimal as D

from kit import HERE, Book, letter
from make import make_all

MM, INCH = "0.000", "0.0000"
ODD = "formula unlike its neighbours"


def th(*numbers):
    return [D(n) / 1000 for n in numbers]


def tenth(*numbers):
    return [D(n) / 10000 for n in numbers]


def inspection():
    """A machine shop's form: one line for each feature with its own limits, four readings, least and most."""
    b = Book("inspection", "inspection form", "features of unlike kinds, limits before the readings, least and most after them")
    s = b.sheet("Job card")
    t = "Job card"
    s.put("A1", "INSPECTION REPORT", bold=True).put("F1", "Job").put("G1", "0417")
    s.put("A2", "Engine").put("B2", "stationary, four cylinders").put("F2", "Temp.").put("G2", "68 °F")
    s.put("A3", "Checked by").put("B3", "bench 2").put("F3", "all sizes in inches")
    s.heads("A5", ["Feature", "Min", "Max", "#1", "#2", "#3", "#4", "Low", "High", "Spread", "P/F"])
    feats = [("Main bearing housing", 24380, 24390, [24384, 24383, 24386, 24385]),
             ("Main journal", 22480, 22490, [22484, 22486, 22485, 22483]),
             ("Crankpin", 19980, 19990, [19985, 19984, 19987, 19983]),
             ("Rod big end", 21380, 21388, [21383, 21386, 21384, 21385]),
             ("Cylinder bore", 34996, 35012, [35001, 35004, 34999, 35003]),
             ("Piston skirt", 34970, 34986, [34975, 34978, 34977, 34974]),
             ("Wrist pin", 8748, 8752, [8750, 8749, 8751, 8750])]
    s.down("A", 6, [f[0] for f in feats], t, "location")
    s.down("B", 6, tenth(*[f[1] for f in feats]), t, "limit low", "in", INCH)
    s.down("C", 6, tenth(*[f[2] for f in feats]), t, "limit high", "in", INCH)
    for k, c in enumerate("DEFG"):
        s.down(c, 6, tenth(*[f[3][k] for f in feats]), t, "reading|number", "in", INCH)
    s.down("H", 6, lambda r: f"=MIN(D{r}:G{r})", t, "minimum", "in", INCH, last=12)
    s.down("I", 6, lambda r: f"=MAX(D{r}:G{r})", t, "maximum", "in", INCH, last=12)
    s.down("J", 6, lambda r: f"=I{r}-H{r}", t, "range|difference|out-of-round|taper", "in", INCH, last=12)
    s.down("K", 6, lambda r: f'=IF(AND(H{r}>=B{r},I{r}<=C{r}),"PASS","FAIL")', t, "verdict", last=12)
    s.put("A14", "Failed features").one("K14", '=COUNTIF(K6:K12,"FAIL")', t, "count", "", "0")
    s.put("A15", "Largest spread").one("J15", "=MAX(J6:J12)", t, "maximum", "in", INCH)
    s.put("A16", "Released").one("K16", '=IF(K14=0,"YES","NO")', t, "verdict")
    s.put("A18", "P/F: P for every reading within Min and Max, both included")
    b.seed(t, "H9", "range a row short or long", "latent", write={"H9": "=MIN(D9:F9)"}, also=ODD)
    b.seed(t, "K8", "one limit not compared", "latent", write={"K8": '=IF(H8>=B8,"PASS","FAIL")'})
    b.seed(t, "K11", "neighbour's row or column", "shows", write={"K11": '=IF(AND(H11>=B10,I11<=C11),"PASS","FAIL")'}, also=ODD)
    b.seed(t, "I10", "range a row short or long", "shows", write={"I10": "=MAX(F10:G10)"}, also=ODD + "|something left out")
    b.seed(t, "J7", "a number typed over a formula", "latent", write={"J7": D("0.0003")})
    b.seed(t, "K14", "range a row short or long", "latent", write={"K14": '=COUNTIF(K6:K10,"FAIL")'})
    b.seeds[-1].shows = "either"
    return b


def ejercicio():
    """A school's exercise: data with symbols, the pupil's answers beside the worked ones, points."""
    b = Book("ejercicio", "exercise with answers", "symbols and data above, questions with the pupil's answer, the solution and the points")
    s = b.sheet("Ejercicio 4")
    t = "Ejercicio 4"
    s.put("A1", "Ejercicio 4: holguras del cigüeñal", bold=True)
    s.put("A2", "Alumno n.º").put("B2", 17)
    s.heads("A4", ["Dato", "Símbolo", "Valor", "Unidad"])
    data = [("Diámetro del alojamiento", "D", D("64.018"), "bore"), ("Espesor del semicojinete superior", "t1", D("1.995"), "upper"),
            ("Espesor del semicojinete inferior", "t2", D("1.997"), "lower"), ("Diámetro de la muñequilla", "d", D("59.985"), "journal"),
            ("Holgura mínima", "Cmin", D("0.025"), "limit low"), ("Holgura máxima", "Cmax", D("0.058"), "limit high")]
    for k, (label, symbol, value, role) in enumerate(data):
        s.put(f"A{5+k}", label).put(f"B{5+k}", symbol).one(f"C{5+k}", value, t, role, "mm", MM).put(f"D{5+k}", "mm")
    s.put("A11", "Tolerancia de la respuesta, en su unidad").one("C11", D("0.0005"), t, "tolerance|limit high|number|target", "|mm", "0.0000")
    s.heads("A13", ["Pregunta", "Respuesta", "Solución", "Unidad", "Error", "Puntos"])
    qs = [("Holgura", D("0.031"), "=C5-C6-C7-C8", "clearance", "mm", MM),
          ("Holgura en µm", D("31"), "=C14*1000", "conversion", "µm", "0.0"),
          ("Margen hasta la mínima", D("0.006"), "=C14-C9", "difference|clearance|minimum", "mm", MM),
          ("Margen hasta la máxima", D("0.025"), "=C10-C14", "difference|clearance|maximum", "mm", MM),
          ("Holgura en pulgadas", D("0.0012"), "=C14/25.4", "conversion", "in", INCH)]
    for k, (q, answer, formula, role, unit, fmt) in enumerate(qs):
        r = 14 + k
        s.put(f"A{r}", q).one(f"B{r}", answer, t, "reading|number|difference|conversion|clearance", unit, fmt).one(f"C{r}", formula, t, role, unit, fmt).put(f"D{r}", unit)
        s.one(f"E{r}", f"=ABS(B{r}-C{r})", t, "difference", unit, "0.0000")
        s.one(f"F{r}", f"=IF(E{r}<=$C$11,2,0)", t, "verdict|count|number|look-up", "", "0")
    s.put("A19", "Nota").one("F19", "=SUM(F14:F18)", t, "total", "", "0")
    s.put("A20", "¿Se acepta el cojinete?").one("C20", '=IF(AND(C14>=C9,C14<=C10),"sí","no")', t, "verdict")
    b.seed(t, "C17", "the wrong way round", "shows", write={"C17": "=C14-C10"})
    b.seed(t, "C15", "wrong or short factor", "shows", write={"C15": "=C14*100"}, also="decimal point moved|units mixed|another unit")
    b.seed(t, "F16", "moving reference that should be fixed", "latent", write={"F16": "=IF(E16<=C11,2,0)"}, also=ODD)
    b.seed(t, "F19", "range a row short or long", "latent", write={"F19": "=SUM(F14:F17)"})
    b.seeds[-1].shows = "either"
    b.seed(t, "C20", "one limit not compared", "latent", write={"C20": '=IF(C14>=C9,"sí","no")'})
    return b


def verein():
    """A club's workbook: a sheet for each engine, bearings across, two readings each; a summary of links."""
    b = Book("verein", "sheet per engine with links", "bearings across with two readings of each size, and a first sheet that links to the results")
    ov = b.sheet("Übersicht")
    names = ["Motor A", "Motor B", "Motor C"]
    sheets = [b.sheet(n) for n in names]
    limits = [(28, 62), (35, 75), (30, 66)]
    for n, (name, s, (lo, hi)) in enumerate(zip(names, sheets, limits)):
        t, top = name, 4 + n  # each owner began in another line
        s.put("A1", f"{name}, Hauptlager", bold=True).put("A2", "alle Maße in mm, Spiel in µm")
        k = 3 + n
        last = letter(1 + k)
        s.heads(f"A{top}", ["Lager"] + [f"{i + 1}" for i in range(k)])
        s.heads_down(f"A{top+1}", ["Gehäuse senkrecht", "Gehäuse waagrecht", "Gehäuse Mittel", "Zapfen 1. Messung", "Zapfen 2. Messung", "Zapfen Mittel", "Schale (eine)", "Spiel", "Spiel mind.", "Spiel höchst.", "Urteil"])
        r = top + 1
        house, pin = 58_000 + 7_000 * n, 54_000 + 7_000 * n
        wall = 1_975
        spread_ = [40, 47, 51, 44, 55][:k] if n else [41, 48, 36]
        a = [house + 4 + 2 * i for i in range(k)]
        z = [house + 5 + 2 * i - 2 * wall - c for i, c in zip(range(k), spread_)]
        s.across(r, "B", th(*a), t, "bore|reading", "mm", MM)
        s.across(r + 1, "B", th(*[x + 2 for x in a]), t, "bore|reading", "mm", MM)
        s.across(r + 2, "B", lambda c: f"=AVERAGE({c}{r}:{c}{r+1})", t, "bore|average", "mm", "0.0000", last=last)
        s.across(r + 3, "B", th(*[x - 1 for x in z]), t, "journal|reading", "mm", MM)
        s.across(r + 4, "B", th(*[x + 1 for x in z]), t, "journal|reading", "mm", MM)
        s.across(r + 5, "B", lambda c: f"=AVERAGE({c}{r+3}:{c}{r+4})", t, "journal|average", "mm", "0.0000", last=last)
        s.across(r + 6, "B", th(*[wall] * k), t, "wall", "mm", MM)
        s.across(r + 7, "B", lambda c: f"=({c}{r+2}-2*{c}{r+6}-{c}{r+5})*1000", t, "clearance|conversion", "µm", "0.0", last=last)
        s.across(r + 8, "B", [lo] * k, t, "limit low", "µm", "0")
        s.across(r + 9, "B", [hi] * k, t, "limit high", "µm", "0")
        s.across(r + 10, "B", lambda c: f'=IF({c}{r+7}<{c}{r+8},"zu eng",IF({c}{r+7}>{c}{r+9},"zu weit","passt"))', t, "verdict", last=last)
    t = "Übersicht"
    ov.put("A1", "Motoren des Vereins", bold=True)
    ov.heads("A3", ["Motor", "Lager", "kleinstes Spiel (µm)", "größtes Spiel (µm)", "Mittel (µm)", "alle passen?"])
    ov.down("A", 4, names, t, "location")
    for n, name in enumerate(names):
        r, last, k = 5 + n, letter(4 + n), 3 + n
        q = f"'{name}'!"
        row = 4 + n
        ov.one(f"B{row}", f"=COUNT({q}B{r+7}:{last}{r+7})", t, "count", "", "0")
        ov.one(f"C{row}", f"=MIN({q}B{r+7}:{last}{r+7})", t, "minimum", "µm", "0.0")
        ov.one(f"D{row}", f"=MAX({q}B{r+7}:{last}{r+7})", t, "maximum", "µm", "0.0")
        ov.one(f"E{row}", f"=AVERAGE({q}B{r+7}:{last}{r+7})", t, "average", "µm", "0.0")
        ov.one(f"F{row}", f'=IF(COUNTIF({q}B{r+10}:{last}{r+10},"passt")=B{row},"ja","nein")', t, "verdict")
    ov.put("A7", "zusammen").one("B7", "=SUM(B4:B6)", t, "total", "", "0").one("C7", "=MIN(C4:C6)", t, "minimum", "µm", "0.0").one("D7", "=MAX(D4:D6)", t, "maximum", "µm", "0.0")
    b.seed("Motor B", "C13", "one wall instead of two", "shows", write={"C13": "=(C8-C12-C11)*1000"}, also=ODD)
    b.seed("Motor C", "D9", "range a row short or long", "shows", write={"D9": "=AVERAGE(D7:D7)"}, also=ODD + "|something left out")
    b.seed("Motor A", "D15", "one limit not compared", "latent", write={"D15": '=IF(D12<D13,"zu eng","passt")'})
    b.seed(t, "D6", "range a row short or long", "shows", write={"D6": "=MAX('Motor C'!B14:E14)"})
    b.seeds[-1].shows = "either"
    b.seed("Motor C", "C14", "a number typed over a formula", "latent", change=lambda book: book.of("Motor C").put("C14", 47, "0.0"))
    b.seed(t, "C5", "neighbour's row or column", "shows", write={"C5": "=MIN('Motor A'!B12:D12)"}, also="range a row short or long|" + ODD)
    return b


def machine():
    """What a measuring machine exports: element, nominal, tolerances, measured, deviation, out by. French, CSV."""
    b = Book("machine", "export of a measuring machine", "nominal, plus, minus, measured, deviation, beyond, state; values alone", stored="csv",
             text={"separator": ";", "decimal": ",", "encoding": "utf-8", "ending": "csv"})
    s = b.sheet("machine")
    t = "machine"
    s.put("A1", "Programme").put("B1", "bloc_06").put("D1", "Unités").put("E1", "mm")
    s.put("A2", "Pièce").put("B2", "bloc n° 12").put("D2", "Température").put("E2", "20,1 °C")
    s.heads("A4", ["Élément", "Caractéristique", "Nominal", "Tol. sup.", "Tol. inf.", "Mesuré", "Écart", "Hors tol.", "État"])
    parts = [("CYL1", "Diamètre", 83_000, 20, -5, 12), ("CYL2", "Diamètre", 83_000, 20, -5, 24), ("CYL3", "Diamètre", 83_000, 20, -5, 9), ("CYL4", "Diamètre", 83_000, 20, -5, 15),
             ("PAL1", "Diamètre", 59_020, 10, -10, -4), ("PAL2", "Diamètre", 59_020, 10, -10, 6), ("PAL3", "Diamètre", 59_020, 10, -10, -13), ("PAL4", "Diamètre", 59_020, 10, -10, 3), ("PAL5", "Diamètre", 59_020, 10, -10, 8),
             ("PLAN", "Hauteur", 207_500, 50, -50, 22), ("AXE", "Entraxe", 91_000, 30, -30, -11), ("BUT", "Largeur", 26_000, 25, 0, 17)]
    out = [max(0, e - p) or min(0, e - m) for _, _, _, p, m, e in parts]
    s.down("A", 5, [p[0] for p in parts], t, "location")
    s.down("B", 5, [p[1] for p in parts], t, "role|location|grade|code|kind|unit||text", "", kind="input")
    b.truth.pop()
    s.down("C", 5, th(*[p[2] for p in parts]), t, "nominal|target", "mm", MM)
    s.down("D", 5, th(*[p[3] for p in parts]), t, "tolerance|limit high", "mm", MM)
    s.down("E", 5, th(*[p[4] for p in parts]), t, "tolerance|limit low", "mm", MM)
    s.down("F", 5, th(*[p[2] + p[5] for p in parts]), t, "reading|number", "mm", MM)
    s.down("G", 5, th(*[p[5] for p in parts]), t, "difference", "mm", MM, kind="claim")
    s.down("H", 5, th(*out), t, "difference|interference|number|excess|beyond", "mm", MM, kind="claim")
    s.down("I", 5, ["HORS" if o else "BON" for o in out], t, "verdict", kind="claim")
    b.seed(t, "G8", "two digits exchanged", "shows", write={"G8": D("0.051")}, also="another unit")
    b.seed(t, "G10", "decimal point moved", "shows", write={"G10": D("0.060")})
    b.seed(t, "G15", "the wrong way round", "shows", write={"G15": D("0.011")}, also="added instead of subtracted")
    b.seed(t, "I6", "verdict against its limits", "shows", write={"I6": "BON"})
    b.seed(t, "H11", "something else", "shows", write={"H11": D("-0.013")}, also="no cause found||nominal instead of measured|one limit not compared|something left out")
    return b


def deviations():
    """Deviations from nominal in µm for each place; sizes and clearances from them. English, mm and µm."""
    b = Book("deviations", "deviations from nominal", "nominals at the head, deviations in µm at three places, the least clearance from the extremes")
    s = b.sheet("CMM")
    t = "CMM"
    s.put("A1", "Crankcase 3 and crankshaft 3", bold=True)
    s.put("B2", "housing").put("C2", "journal").put("D2", "shell")
    s.put("A3", "Nominal (mm)").one("B3", D("52.000"), t, "nominal|bore|target", "mm", MM).one("C3", D("48.000"), t, "nominal|journal|target", "mm", MM).one("D3", D("1.980"), t, "nominal|wall|upper|lower|target", "mm", MM)
    s.merged = ["B5:D5", "E5:G5"]
    s.put("B5", "housing, deviation (µm)", bold=True).put("E5", "journal, deviation (µm)", bold=True)
    s.heads("A6", ["bearing", "front", "middle", "rear", "front", "middle", "rear", "mean housing (mm)", "mean journal (mm)", "clearance (µm)", "taper of journal (µm)", "clearance ok", "taper ok"])
    s.down("A", 7, ["I", "II", "III", "IV"], t, "location")
    hs = [(6, 8, 7), (9, 11, 7), (4, 6, 5), (10, 8, 9)]
    js = [(-2, -4, -3), (1, -1, -3), (-5, -4, -3), (0, -2, -1)]
    for k, c in enumerate("BCD"):
        s.down(c, 7, [h[k] for h in hs], t, "bore|reading|difference|number", "µm", "0")
    for k, c in enumerate("EFG"):
        s.down(c, 7, [j[k] for j in js], t, "journal|reading|difference|number", "µm", "0")
    s.down("H", 7, lambda r: f"=$B$3+AVERAGE(B{r}:D{r})/1000", t, "bore|average", "mm", "0.0000", last=10)
    s.down("I", 7, lambda r: f"=$C$3+AVERAGE(E{r}:G{r})/1000", t, "journal|average", "mm", "0.0000", last=10)
    s.down("J", 7, lambda r: f"=(H{r}-I{r}-2*$D$3)*1000", t, "clearance|conversion", "µm", "0.0", last=10)
    s.down("K", 7, lambda r: f"=MAX(E{r}:G{r})-MIN(E{r}:G{r})", t, "taper|range", "µm", "0", last=10)
    s.put("I12", "least").put("I13", "most").put("I14", "taper at most")
    s.one("J12", 35, t, "limit low", "µm", "0").one("J13", 60, t, "limit high", "µm", "0").one("J14", 5, t, "limit high", "µm", "0")
    s.down("L", 7, lambda r: f'=IF(J{r}<J$12,"no",IF(J{r}>J$13,"no","yes"))', t, "verdict", last=10)
    s.down("M", 7, lambda r: f'=IF(K{r}<=J$14,"yes","no")', t, "verdict", last=10)
    b.seed(t, "H8", "wrong or short factor", "shows", write={"H8": "=$B$3+AVERAGE(B8:D8)/100"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "I9", "moving reference that should be fixed", "latent", write={"I9": "=C3+AVERAGE(E9:G9)/1000"}, also=ODD)
    b.seed(t, "J10", "one wall instead of two", "shows", write={"J10": "=(H10-I10-$D$3)*1000"}, also=ODD)
    b.seed(t, "K8", "range a row short or long", "shows", write={"K8": "=MAX(E8:G8)-MIN(E8:F8)"}, also=ODD)
    b.seed(t, "L9", "one limit not compared", "latent", write={"L9": '=IF(J9<J$12,"no","yes")'})
    b.seed(t, "M7", "the limit itself refused", "latent", write={"M7": '=IF(K7<J$14,"yes","no")'}, also=ODD)
    return b


def deck_sides():
    """The deck height as a stack, one column for each corner, limits in the lines below. English, inch."""
    b = Book("deck-sides", "stack in columns", "deck clearance of four cylinders in columns, tolerances in a column before them, limits below")
    s = b.sheet("Deck")
    t = "Deck"
    s.put("A1", "Deck height, flat twin pair", bold=True)
    s.heads("A3", ["Dimension", "+/-", "Cyl 1", "Cyl 2", "Cyl 3", "Cyl 4"])
    s.heads_down("A4", ["Block, crank line to deck", "Half the stroke", "Rod, centre to centre", "Piston, pin to crown", "Piston height at top", "Below the deck", "Gasket, crushed", "Piston to head", "Worst case, least", "Root sum of squares, least"])
    rows = [("deck", 72050, 20, [0, 3, -4, 2]), ("throw", 14375, 5, [0, 0, 0, 0]), ("rod length", 44100, 10, [2, -1, 0, 3]), ("crown", 13450, 10, [1, 0, -2, 2])]
    for k, (role, size, tol, off) in enumerate(rows):
        r = 4 + k
        s.one(f"B{r}", D(tol) / 10000, t, "tolerance", "in", INCH)
        s.across(r, "C", tenth(*[size + o for o in off]), t, role + "|reading|number", "in", INCH)
    s.across(8, "C", lambda c: f"=SUM({c}5:{c}7)", t, "total|product|number", "in", INCH, last="F")
    s.across(9, "C", lambda c: f"={c}4-{c}8", t, "deck clearance|difference|clearance", "in", INCH, last="F")
    s.one("B10", D("0.0020"), t, "tolerance", "in", INCH)
    s.across(10, "C", tenth(390, 390, 390, 390), t, "reading|number|gasket|nominal|wall", "in", INCH)
    s.across(11, "C", lambda c: f"={c}9+{c}10", t, "total|clearance|difference|deck clearance", "in", INCH, last="F")
    s.across(12, "C", lambda c: f"={c}11-(SUM($B$4:$B$7)+$B$10)", t, "worst case|minimum|difference|clearance|deck clearance", "in", INCH, last="F")
    s.across(13, "C", lambda c: f"={c}11-SQRT(SUMSQ($B$4:$B$7)+$B$10^2)", t, "root sum of squares|minimum|difference|clearance|deck clearance", "in", INCH, last="F")
    s.put("A15", "Piston to head, at least").one("C15", D("0.0400"), t, "limit low", "in", INCH)
    s.put("A16", "Piston to head, at most").one("C16", D("0.0600"), t, "limit high", "in", INCH)
    s.put("A18", "Squish")
    s.across(18, "C", lambda c: f'=IF(OR({c}11<$C$15,{c}11>$C$16),"cut or shim","fine")', t, "verdict", last="F")
    s.put("A19", "Even at worst")
    s.across(19, "C", lambda c: f'=IF({c}12>=$C$15,"yes","no")', t, "verdict", last="F")
    b.seed(t, "D8", "range a row short or long", "shows", write={"D8": "=SUM(D5:D6)"}, also="something left out|" + ODD)
    b.seed(t, "E9", "the wrong way round", "shows", write={"E9": "=E8-E4"}, also=ODD)
    b.seed(t, "F11", "added instead of subtracted", "shows", write={"F11": "=F10-F9"}, also=ODD + "|the wrong way round")
    b.seed(t, "D18", "one limit not compared", "latent", write={"D18": '=IF(D11<$C$15,"cut or shim","fine")'})
    b.seeds[-1].shows = "either"
    b.seed(t, "E13", "moving reference that should be fixed", "latent", write={"E13": "=E11-SQRT(SUMSQ($B$4:$B$7)+B10^2)"}, also=ODD)
    b.seed(t, "C12", "something left out", "shows", write={"C12": "=C11-SUM($B$4:$B$7)"}, also=ODD)
    return b


def serrage():
    """Order of bolts, passes by shares of the last torque, N·m and lbf·ft, the torque found. French."""
    b = Book("serrage", "torque and order", "head bolts in their order, passes by shares, angle, the torque found again within a share")
    s = b.sheet("Culasse")
    t = "Culasse"
    s.put("A1", "Serrage de la culasse, moteur de bateau", bold=True)
    s.put("A2", "Couple final").one("B2", 85, t, "torque|target|nominal|number", "N·m", "0").put("C2", "N·m")
    s.put("A3", "Part de la passe 1").one("B3", D("0.4"), t, "ratio|share|factor|number", "|%", "0%")
    s.put("A4", "Écart admis").one("B4", D("0.05"), t, "tolerance|limit high|ratio|number", "|%", "0%")
    s.heads("A6", ["ordre", "boulon", "passe 1 (N·m)", "passe 1 (lbf·ft)", "passe 2 (N·m)", "passe 2 (lbf·ft)", "angle (°)", "couple relevé (N·m)", "écart (%)", "avis"])
    n = 8
    last = 6 + n
    s.down("A", 7, list(range(1, n + 1)), t, "location|order|count|number|code", "", "0")
    s.down("B", 7, ["D", "E", "C", "F", "B", "G", "A", "H"], t, "location|grade|code")
    s.down("C", 7, lambda r: "=$B$2*$B$3", t, "torque|stage|product", "N·m", "0.0", last=last)
    s.down("D", 7, lambda r: f"=C{r}/1.355818", t, "conversion|torque", "lbf·ft", "0.0", last=last)
    s.down("E", 7, lambda r: "=$B$2", t, "torque|stage|target|nominal|link", "N·m", "0", last=last)
    s.down("F", 7, lambda r: f"=E{r}/1.355818", t, "conversion|torque", "lbf·ft", "0.0", last=last)
    s.down("G", 7, [90] * n, t, "angle", "°", "0")
    s.down("H", 7, [D(x) / 10 for x in (852, 861, 838, 849, 870, 846, 855, 863)], t, "torque|reading", "N·m", "0.0")
    s.down("I", 7, lambda r: f"=(H{r}-E{r})/E{r}*100", t, "ratio|difference|number|error|conversion", "%", "0.0", last=last)
    s.down("J", 7, lambda r: f'=IF(ABS(I{r})<=$B$4*100,"bon","à reprendre")', t, "verdict", last=last)
    s.put("A16", "contrôle de l'ordre").one("B16", '=IF(SUM(A7:A14)=36,"complet","manque")', t, "verdict")
    s.put("A17", "plus grand écart").one("I17", "=MAX(I7:I14)", t, "maximum", "%", "0.0")
    s.put("A18", "bons").one("J18", '=COUNTIF(J7:J14,"bon")', t, "count", "", "0")
    b.seed(t, "C9", "moving reference that should be fixed", "latent", write={"C9": "=B2*$B$3"}, also=ODD)
    b.seed(t, "D11", "wrong or short factor", "shows", write={"D11": "=C11/1.3"}, also=ODD)
    b.seed(t, "F8", "the wrong way round", "shows", write={"F8": "=E8*1.355818"}, also="wrong or short factor|another unit|" + ODD)
    b.seed(t, "I10", "neighbour's row or column", "shows", write={"I10": "=(H11-E10)/E10*100"}, also=ODD)
    b.seed(t, "J13", "one limit not compared", "latent", write={"J13": '=IF(I13<=$B$4*100,"bon","à reprendre")'}, also=ODD)
    b.seed(t, "E12", "a number typed over a formula", "latent", write={"E12": 85})
    b.seed(t, "J18", "range a row short or long", "shows", write={"J18": '=COUNTIF(J7:J13,"bon")'})
    return b


def gaps_across():
    """Ring gaps: cylinders across, a factor for each ring before them; inch, thou. English, .ods."""
    b = Book("gaps-across", "rings across", "a factor for each ring before the cylinders; needed, found, to file", stored="ods")
    s = b.sheet("Ring gaps")
    t = "Ring gaps"
    s.put("A1", "Ring end gaps, six cylinders", bold=True).put("A2", "gap needed = factor x bore; in inches; file to fit, never less")
    s.heads("A4", ["", "per inch of bore", "1", "2", "3", "4", "5", "6", "least left"])
    s.heads_down("A5", ["Bore (in)", "Top ring, needed (in)", "Top ring, found (in)", "Top ring, to file (thou)", "Top ring", "2nd ring, needed (in)", "2nd ring, found (in)", "2nd ring, to file (thou)", "2nd ring", "Oil rail, found (in)", "Oil rail"])
    bores = tenth(38752, 38755, 38749, 38751, 38758, 38753)
    s.across(5, "C", bores, t, "bore", "in", INCH)
    s.one("B6", D("0.0040"), t, "factor|ratio|number|rule", "|in|in/in", INCH).one("B10", D("0.0045"), t, "factor|ratio|number|rule", "|in|in/in", INCH)
    s.across(6, "C", lambda c: f"={c}$5*$B$6", t, "least gap", "in", INCH, last="H")
    s.across(7, "C", tenth(160, 149, 171, 162, 157, 166), t, "gap", "in", INCH)
    s.across(8, "C", lambda c: f"=MAX(0,{c}6-{c}7)*1000", t, "to file|conversion|difference", "thou", "0.0", last="H")
    s.across(9, "C", lambda c: f'=IF({c}7>={c}6,"leave","file")', t, "verdict", last="H")
    s.across(10, "C", lambda c: f"={c}$5*$B$10", t, "least gap", "in", INCH, last="H")
    s.across(11, "C", tenth(180, 182, 172, 176, 185, 168), t, "gap", "in", INCH)
    s.across(12, "C", lambda c: f"=MAX(0,{c}10-{c}11)*1000", t, "to file|conversion|difference", "thou", "0.0", last="H")
    s.across(13, "C", lambda c: f'=IF({c}11>={c}10,"leave","file")', t, "verdict", last="H")
    s.one("B14", D("0.0150"), t, "limit low", "in", INCH)
    s.across(14, "C", tenth(220, 190, 240, 205, 215, 200), t, "gap", "in", INCH)
    s.across(15, "C", lambda c: f'=IF({c}14>=$B$14,"leave","file")', t, "verdict", last="H")
    s.put("A17", "rings to file").one("C17", '=COUNTIF(C9:H9,"file")+COUNTIF(C13:H13,"file")', t, "count|total|needed", "", "0")
    s.one("I7", "=MIN(C7:H7)", t, "minimum", "in", INCH).one("I11", "=MIN(C11:H11)", t, "minimum", "in", INCH)
    b.seed(t, "E6", "moving reference that should be fixed", "latent", write={"E6": "=E$5*B6"}, also=ODD)
    b.seed(t, "F10", "neighbour's row or column", "shows", write={"F10": "=F$5*$B$6"}, also=ODD + "|another rule|absolute reference copied down")
    b.seed(t, "D8", "wrong or short factor", "shows", write={"D8": "=MAX(0,D6-D7)*100"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "G9", "the limit itself refused", "latent", write={"G9": '=IF(G7>G6,"leave","file")'}, also=ODD)
    b.seed(t, "H12", "a number typed over a formula", "latent", change=lambda book: book.of(t).put("H12", (bores[5] * D("0.0045") - D("0.0168")) * 1000))
    b.seed(t, "I11", "range a row short or long", "shows", write={"I11": "=MIN(C11:G11)"})
    b.seeds[-1].shows = "either"
    return b


def clases():
    """Bores sorted into classes by size, pistons by class, the play of each pair. Spanish."""
    b = Book("clases", "sorting by classes", "the class from the bore by nested IF, the piston's class from a list, the play, counts by class")
    s, g = b.sheet("Cilindros"), b.sheet("Clases")
    g.put("A1", "Clases de cilindros y pistones (mm)", bold=True)
    g.heads("A2", ["clase", "cilindro desde", "cilindro hasta", "pistón"])
    g.down("A", 3, ["A", "B", "C"], "Clases", "code|grade|location")
    g.down("B", 3, th(75_000, 75_010, 75_020), "Clases", "limit low|bore|look-up", "mm", MM)
    g.down("C", 3, th(75_010, 75_020, 75_030), "Clases", "limit high|bore|look-up", "mm", MM)
    g.down("D", 3, th(74_960, 74_970, 74_980), "Clases", "piston|look-up", "mm", MM)
    t = "Cilindros"
    s.put("A1", "Selección de pistones", bold=True)
    s.put("H1", "juego mín.").one("I1", D("0.038"), t, "limit low", "mm", MM).put("H2", "juego máx.").one("I2", D("0.052"), t, "limit high", "mm", MM)
    s.heads("A4", ["cil.", "diámetro 1 (mm)", "diámetro 2 (mm)", "medio (mm)", "clase", "pistón (mm)", "juego (mm)", "juego (µm)", "resultado"])
    d1 = [75_004, 75_013, 75_023, 75_017, 75_007, 75_012]
    d2 = [75_006, 75_015, 75_025, 75_015, 75_005, 75_012]
    s.down("A", 5, [1, 2, 3, 4, 5, 6], t, "location")
    s.down("B", 5, th(*d1), t, "bore|reading", "mm", MM)
    s.down("C", 5, th(*d2), t, "bore|reading", "mm", MM)
    s.down("D", 5, lambda r: f"=AVERAGE(B{r}:C{r})", t, "bore|average", "mm", "0.0000", last=10)
    s.down("E", 5, lambda r: f'=IF(D{r}<Clases!$B$4,"A",IF(D{r}<Clases!$B$5,"B","C"))', t, "verdict|grade|code|look-up", last=10)
    s.down("F", 5, lambda r: f"=VLOOKUP(E{r},Clases!$A$3:$D$5,4,FALSE)", t, "piston|look-up", "mm", MM, last=10)
    s.down("G", 5, lambda r: f"=D{r}-F{r}", t, "clearance", "mm", "0.0000", last=10)
    s.down("H", 5, lambda r: f"=G{r}*1000", t, "conversion", "µm", "0.0", last=10)
    s.down("I", 5, lambda r: f'=IF(AND(G{r}>=$I$1,G{r}<=$I$2),"bien","mal")', t, "verdict", last=10)
    s.heads("A12", ["clase", "pistones"])
    s.down("A", 13, ["A", "B", "C"], t, "grade|code|location")
    s.down("B", 13, lambda r: f"=COUNTIF($E$5:$E$10,A{r})", t, "count|needed", "", "0", last=15)
    s.put("A16", "total").one("B16", "=SUM(B13:B15)", t, "total", "", "0")
    b.seed(t, "F7", "look-up takes a neighbour", "latent", write={"F7": "=VLOOKUP(E7,Clases!$A$3:$D$5,4,TRUE)"}, also=ODD)
    b.seed(t, "F6", "neighbour's row or column", "shows", write={"F6": "=VLOOKUP(E6,Clases!$A$3:$D$5,3,FALSE)"}, also=ODD)
    b.seed(t, "D8", "range a row short or long", "shows", write={"D8": "=AVERAGE(B8:B8)"}, also=ODD + "|something left out")
    b.seed(t, "I9", "one limit not compared", "latent", write={"I9": '=IF(G9>=$I$1,"bien","mal")'})
    b.seed(t, "B14", "range a row short or long", "latent", write={"B14": "=COUNTIF($E$5:$E$9,A14)"}, also=ODD)
    b.seeds[-1].shows = "either"
    b.seed(t, "H10", "wrong or short factor", "shows", write={"H10": "=G10*100"}, also="decimal point moved|units mixed|" + ODD)
    return b


def bestellung():
    """Shells to order: counted from a list of colours, packs of two sizes, rebate, tax, postage. German."""
    b = Book("bestellung", "order with packs and costs", "halves counted by colour, packs of four, rebate from ten packs, tax and postage")
    s, q = b.sheet("Bestellung"), b.sheet("Zuordnung")
    q.heads("A1", ["Lager", "oben", "unten"])
    up = ["rot", "blau", "rot", "grün", "gelb", "blau", "rot"]
    down = ["blau", "blau", "rot", "gelb", "rot", "grün", "rot"]
    q.down("A", 2, [f"H{i}" for i in range(1, 8)], "Zuordnung", "location")
    q.down("B", 2, up, "Zuordnung", "grade|code")
    q.down("C", 2, down, "Zuordnung", "grade|code")
    t = "Bestellung"
    s.put("A1", "Lagerschalen, Bestellung", bold=True)
    s.put("A2", "Rabatt ab 4 Packungen").one("C2", D("0.1"), t, "ratio|factor|share|number|tolerance", "|%", "0%")
    s.put("A3", "Mehrwertsteuer").one("C3", D("0.2"), t, "ratio|factor|share|number", "|%", "0%")
    s.heads("A5", ["Farbe", "gebraucht", "vorhanden", "zu kaufen", "Packung zu", "Packungen", "bleibt übrig", "Preis/Packung (€)", "Betrag (€)", "mit Rabatt (€)"])
    s.down("A", 6, ["rot", "blau", "grün", "gelb"], t, "grade|code|location")
    s.down("B", 6, lambda r: f"=COUNTIF(Zuordnung!$B$2:$C$8,A{r})", t, "needed|count", "", "0", last=9)
    s.down("C", 6, [1, 0, 2, 0], t, "stock", "", "0")
    s.down("D", 6, lambda r: f"=MAX(0,B{r}-C{r})", t, "to buy|needed", "", "0", last=9)
    s.down("E", 6, [2, 2, 4, 4], t, "pack size", "", "0")
    s.down("F", 6, lambda r: f"=ROUNDUP(D{r}/E{r},0)", t, "packs", "", "0", last=9)
    s.down("G", 6, lambda r: f"=C{r}+F{r}*E{r}-B{r}", t, "left over", "", "0", last=9)
    s.down("H", 6, [D("18.40"), D("18.40"), D("31.90"), D("31.90")], t, "price", "|€", "0.00")
    s.down("I", 6, lambda r: f"=F{r}*H{r}", t, "cost|product", "|€", "0.00", last=9)
    s.down("J", 6, lambda r: f"=IF(F{r}>=4,I{r}*(1-$C$2),I{r})", t, "cost|product|price|number|verdict", "|€", "0.00", last=9)
    s.put("A10", "Summe").one("F10", "=SUM(F6:F9)", t, "total", "", "0").one("J10", "=SUM(J6:J9)", t, "total", "|€", "0.00")
    s.put("A11", "Versand").one("J11", D("6.90"), t, "price|cost|number", "|€", "0.00")
    s.put("A12", "Mehrwertsteuer").one("J12", "=ROUND((J10+J11)*C3,2)", t, "cost|product|price|number|rounded|total", "|€", "0.00")
    s.put("A13", "Gesamt").one("J13", "=SUM(J10:J12)", t, "total", "|€", "0.00")
    b.seed(t, "B7", "range a row short or long", "shows", write={"B7": "=COUNTIF(Zuordnung!$B$2:$C$6,A7)"}, also=ODD)
    b.seed(t, "F8", "rounded the wrong way", "latent", write={"F8": "=ROUND(D8/E8,0)"}, also=ODD)
    b.seed(t, "G6", "something left out", "shows", write={"G6": "=F6*E6-B6"}, also=ODD)
    b.seed(t, "J9", "moving reference that should be fixed", "latent", write={"J9": "=IF(F9>=4,I9*(1-C2),I9)"}, also=ODD)
    b.seed(t, "J13", "range a row short or long", "shows", write={"J13": "=SUM(J10:J11)"})
    b.seed(t, "I7", "a number typed over a formula", "latent", change=lambda book: book.of(t).put("I7", D("36.80"), "0.00"))
    b.seeds[-1].shows = "either"
    return b


def dehnung():
    """Bolt lengths twice before and twice after, stretch, what remains, what is allowed. German, .ods."""
    b = Book("dehnung", "before and after", "two readings before and two after, a column of what is allowed, what remained after loosening", stored="ods")
    s = b.sheet("Pleuelschrauben")
    t = "Pleuelschrauben"
    s.put("A1", "Pleuelschrauben, Längen in mm", bold=True)
    s.put("B3", "vor dem Anziehen", bold=True).put("E3", "angezogen", bold=True).put("I3", "gelöst", bold=True)
    s.merged = ["B3:D3", "E3:H3", "I3:L3"]
    s.heads("A4", ["Schraube", "1. Messung", "2. Messung", "Mittel", "Länge", "Dehnung", "Dehnung (µm)", "Dehnung i.O.", "Länge", "bleibend", "zulässig", "weiter verwenden"])
    before = [(46_512, 46_514), (46_498, 46_500), (46_505, 46_507), (46_520, 46_522), (46_509, 46_511), (46_501, 46_501)]
    tight, rest = [142, 151, 138, 147, 155, 149], [6, 3, 9, 4, 7, 5]
    mean = [(x + y) // 2 for x, y in before]
    s.down("A", 5, [1, 2, 3, 4, 5, 6], t, "location")
    s.down("B", 5, th(*[x for x, _ in before]), t, "length new|length|reading|length now", "mm", MM)
    s.down("C", 5, th(*[y for _, y in before]), t, "length new|length|reading|length now", "mm", MM)
    s.down("D", 5, lambda r: f"=(B{r}+C{r})/2", t, "average|length new|length", "mm", "0.0000", last=10)
    s.down("E", 5, th(*[m + x for m, x in zip(mean, tight)]), t, "length now|length|reading", "mm", MM)
    s.down("F", 5, lambda r: f"=E{r}-D{r}", t, "stretch|difference", "mm", MM, last=10)
    s.down("G", 5, lambda r: f"=F{r}*1000", t, "conversion", "µm", "0", last=10)
    s.down("H", 5, lambda r: f'=IF(AND(F{r}>=0.13,F{r}<=0.16),"ja","nein")', t, "verdict", last=10)
    s.down("I", 5, th(*[m + x for m, x in zip(mean, rest)]), t, "length used|length now|length|reading", "mm", MM)
    s.down("J", 5, lambda r: f"=I{r}-D{r}", t, "stretch|difference|permanent", "mm", MM, last=10)
    s.down("K", 5, th(*[10] * 6), t, "limit high", "mm", MM)
    s.down("L", 5, lambda r: f'=IF(J{r}>K{r},"Schrott","ja")', t, "verdict", last=10)
    s.put("A11", "Mittel").one("F11", "=AVERAGE(F5:F10)", t, "average", "mm", "0.0000").one("J11", "=AVERAGE(J5:J10)", t, "average", "mm", "0.0000")
    s.put("A12", "größte").one("F12", "=MAX(F5:F10)", t, "maximum", "mm", MM).one("J12", "=MAX(J5:J10)", t, "maximum", "mm", MM)
    b.seed(t, "D7", "something left out", "shows", write={"D7": "=B7+C7/2"}, also=ODD)
    b.seed(t, "J6", "neighbour's row or column", "shows", write={"J6": "=I6-D5"}, also=ODD)
    b.seed(t, "H9", "one limit not compared", "latent", write={"H9": '=IF(F9<=0.16,"ja","nein")'}, also=ODD)
    b.seed(t, "L8", "the wrong way round", "shows", write={"L8": '=IF(J8<K8,"Schrott","ja")'}, also=ODD)
    b.seed(t, "F11", "range a row short or long", "shows", write={"F11": "=AVERAGE(F5:F9)"})
    b.seed(t, "G10", "a number typed over a formula", "latent", change=lambda book: book.of(t).put("G10", 149, "0"))
    return b


def shim_choice():
    """The shim that gives the end play: the play found, the thickest in stock that is not too thick. English."""
    b = Book("shim-choice", "choice by stock", "shaft end play; the thickest shim of a list that leaves the least play, by a sorted look-up")
    s = b.sheet("End play")
    t = "End play"
    s.put("A1", "End play of the layshafts", bold=True)
    s.put("A2", "Play wanted, least").one("C2", D("0.10"), t, "limit low", "mm", "0.00").put("D2", "mm")
    s.put("A3", "Play wanted, most").one("C3", D("0.16"), t, "limit high", "mm", "0.00").put("D3", "mm")
    s.heads("J5", ["code", "shim (mm)", "in the drawer"])
    s.down("J", 6, ["a", "b", "c", "d", "e", "f", "g", "h"], t, "code|grade|location")
    s.down("K", 6, [D(x) / 100 for x in (50, 55, 60, 65, 70, 75, 80, 85)], t, "shim|washer|wall|look-up|reading", "mm", "0.00")
    s.down("L", 6, [2, 4, 1, 3, 2, 0, 5, 1], t, "stock|count", "", "0")
    s.heads("A5", ["shaft", "play without shim (mm)", "thickest that fits (mm)", "shim chosen (mm)", "code", "play left (mm)", "play left (thou)", "ok?"])
    s.down("A", 6, ["1", "2", "3", "4", "5"], t, "location")
    s.down("B", 6, [D(x) / 100 for x in (78, 83, 69, 92, 74)], t, "end play|reading|dial", "mm", "0.00")
    s.down("C", 6, lambda r: f"=B{r}-$C$2", t, "difference|needed|shim", "mm", "0.00", last=10)
    s.down("D", 6, lambda r: f"=VLOOKUP(ROUND(C{r},3),$K$6:$K$13,1,TRUE)", t, "shim|look-up|washer|wall", "mm", "0.00", last=10)
    s.down("E", 6, lambda r: f"=INDEX($J$6:$J$13,MATCH(ROUND(C{r},3),$K$6:$K$13,1))", t, "code|look-up|grade", last=10)
    s.down("F", 6, lambda r: f"=B{r}-D{r}", t, "end play|difference|clearance", "mm", "0.00", last=10)
    s.down("G", 6, lambda r: f"=F{r}/0.0254", t, "conversion", "thou", "0.0", last=10)
    s.down("H", 6, lambda r: f'=IF(ROUND(F{r},3)<$C$2,"tight",IF(ROUND(F{r},3)>$C$3,"loose","good"))', t, "verdict", last=10)
    s.put("A12", "shims needed").one("D12", "=COUNT(D6:D10)", t, "count|needed", "", "0")
    s.put("A13", "least play").one("F13", "=MIN(F6:F10)", t, "minimum", "mm", "0.00")
    b.seed(t, "C8", "moving reference that should be fixed", "latent", write={"C8": "=B8-C2"}, also=ODD)
    b.seed(t, "F9", "neighbour's row or column", "shows", write={"F9": "=B9-C9"}, also=ODD)
    b.seed(t, "G7", "wrong or short factor", "shows", write={"G7": "=F7/0.025"}, also=ODD)
    b.seed(t, "H10", "one limit not compared", "latent", write={"H10": '=IF(ROUND(F10,3)<$C$2,"tight","good")'})
    b.seed(t, "D7", "range a row short or long", "latent", write={"D7": "=VLOOKUP(ROUND(C7,3),$K$6:$K$12,1,TRUE)"}, also=ODD)
    b.seeds[-1].shows = "either"
    b.seed(t, "F13", "range a row short or long", "latent", write={"F13": "=MIN(F6:F8)"})
    b.seeds[-1].shows = "either"
    return b


def releve():
    """Values alone, with the average and the extremes typed below. French."""
    b = Book("releve", "values alone with averages", "camshaft bearings, values alone; average, least and most below; a typed verdict")
    s = b.sheet("Relevé")
    t = "Relevé"
    s.put("A1", "Paliers d'arbre à cames", bold=True).put("A2", "jeu de 0,030 à 0,070 mm")
    s.heads("A4", ["palier", "alésage mm", "portée mm", "jeu mm", "jeu µm", "verdict"])
    bores, clear = [27_021, 27_018, 27_025, 27_020, 27_023], [42, 39, 55, 48, 51]
    s.down("A", 5, [1, 2, 3, 4, 5], t, "location")
    s.down("B", 5, th(*bores), t, "bore", "mm", MM)
    s.down("C", 5, th(*[x - c for x, c in zip(bores, clear)]), t, "journal", "mm", MM)
    s.down("D", 5, th(*clear), t, "clearance", "mm", MM, kind="claim")
    s.down("E", 5, clear, t, "conversion", "µm", "0", kind="claim")
    s.down("F", 5, ["bon"] * 5, t, "verdict", kind="claim")
    s.put("A10", "moyenne").one("D10", D("0.047"), t, "average", "mm", MM, kind="claim").one("E10", 47, t, "average", "µm", "0", kind="claim")
    s.put("A11", "mini").one("D11", D("0.039"), t, "minimum", "mm", MM, kind="claim")
    s.put("A12", "maxi").one("D12", D("0.055"), t, "maximum", "mm", MM, kind="claim")
    b.seed(t, "D10", "something else", "shows", write={"D10": D("0.042")}, also="no cause found||range a row short or long|nominal instead of measured|something left out")
    b.seed(t, "E8", "two digits exchanged", "shows", write={"E8": 84}, also="another unit")
    b.seed(t, "D12", "something else", "shows", write={"D12": D("0.051")}, also="range a row short or long|something left out||no cause found|neighbour's row or column")
    b.seed(t, "F7", "verdict against its limits", "shows", write={"F7": "mauvais"})
    return b


BOOKS = [inspection, ejercicio, verein, machine, deviations, deck_sides, serrage, gaps_across, clases, bestellung, dehnung, shim_choice, releve]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "strangers"))
