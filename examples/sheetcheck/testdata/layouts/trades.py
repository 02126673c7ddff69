#!/usr/bin/python3
"""Makes the workbooks of the folder trades, with their seeds.csv and truth.csv. README.md says
what they are.

    /usr/bin/python3 trades.py

Eight workbooks of work beside the bearings: piston protrusion, valves and springs, balancing, a
log of measures, a camshaft, a bolted joint, a crank for grinding, sizes corrected for temperature.
Written down with their truth and their seeds before sheetcheck had read any of them. All of it is
invented.
"""
import datetime
import os
from decimal import Decimal as D

from kit import HERE, Book, letter
from make import make_all

MM, INCH = "0.000", "0.0000"
ODD = "formula unlike its neighbours"
NEIGHBOUR = "neighbour's row or column"
RANGE = "range a row short or long"
TYPED = "a number typed over a formula"
STRICT = "the limit itself refused"
FACTOR = "wrong or short factor"
LEFT_OUT = "something left out"


def ueberstand():
    """Piston protrusion by dial, cylinders across, in hundredths by a sentence; a gasket by steps. German."""
    b = Book("ueberstand", "one unit for the sheet, in a sentence", "piston protrusion, cylinders across; a gasket by steps on another sheet; limits by name")
    s, g = b.sheet("Kopf"), b.sheet("Dichtungen")
    t = "Kopf"
    s.put("A1", "Radlader, Vierzylinder - Kolbenüberstand", bold=True)
    s.put("A2", "alle Werte in 1/100 mm, wo nichts anderes steht; Uhr auf dem Block genullt")
    s.put("A4", "Zylinder", bold=True)
    s.across(4, "B", [1, 2, 3, 4], t, "location")
    s.put("A5", "vorn").put("A6", "hinten").put("A7", "Mittel").put("A8", "Kippung").put("A9", "gekippt?").put("A10", "Überstand mm")
    s.across(5, "B", [58, 63, 55, 66], t, "reading|dial", "0.01 mm")
    s.across(6, "B", [54, 61, 63, 60], t, "reading|dial", "0.01 mm")
    s.across(7, "B", lambda c: f"=({c}5+{c}6)/2", t, "average", "0.01 mm", "0.0", last="E")
    s.across(8, "B", lambda c: f"=ABS({c}5-{c}6)", t, "difference|range|out-of-round|taper", "0.01 mm", "0", last="E")
    s.across(9, "B", lambda c: f'=IF({c}8>$H$8,"ja","nein")', t, "verdict", last="E", limits="..0.07 mm")
    s.across(10, "B", lambda c: f"={c}7/100", t, "conversion", "mm", MM, last="E")
    s.put("G8", "höchstens").one("H8", 7, t, "limit high|tolerance", "0.01 mm")
    s.put("A12", "größter Überstand mm").one("B12", "=MAX(B10:E10)", t, "maximum", "mm", MM)
    s.put("A13", "Dichtung").one("B13", "=LOOKUP(B12,Dichtungen!A4:A6,Dichtungen!C4:C6)", t, "look-up|grade")
    s.put("A14", "gepresst mm").one("B14", "=VLOOKUP(B12,Dichtungen!$A$4:$D$6,4,TRUE)", t, "look-up", "mm", "0.00")
    s.put("A16", "Spalt bis Kopf mm")
    s.across(16, "B", lambda c: f"=$B$14-{c}10", t, "clearance|difference|gap|deck clearance", "mm", MM, last="E")
    s.put("A17", "geht?")
    s.across(17, "B", lambda c: f'=IF(AND({c}16>=Spalt_min,{c}16<=Spalt_max),"geht","geht nicht")', t, "verdict", last="E", limits="0.70..0.85 mm")
    s.put("A18", "Anzahl geht").one("B18", '=COUNTIF(B17:E17,"geht")', t, "count")
    u = "Dichtungen"
    g.put("A1", "Kopfdichtungen", bold=True)
    g.heads("A3", ["Überstand ab mm", "bis mm", "Kerben", "Dicke gepresst mm"])
    g.down("A", 4, [D("0.45"), D("0.56"), D("0.65")], u, "limit low|code|grade|reading|look-up", "mm", "0.00")
    g.down("B", 4, [D("0.55"), D("0.64"), D("0.75")], u, "limit high|code|grade|reading|look-up", "mm", "0.00")
    g.down("C", 4, ["eine", "zwei", "drei"], u, "grade|look-up|code|location")
    g.down("D", 4, [D("1.32"), D("1.42"), D("1.52")], u, "look-up|reading|wall|shim", "mm", "0.00")
    g.put("A9", "Spalt kleinst mm").one("B9", D("0.70"), u, "limit low", "mm", "0.00")
    g.put("A10", "Spalt größt mm").one("B10", D("0.85"), u, "limit high", "mm", "0.00")
    b.name_cell("Spalt_min", "Dichtungen!$B$9")
    b.name_cell("Spalt_max", "Dichtungen!$B$10")
    b.seed(t, "E7", TYPED, "latent", write={"E7": 63})
    b.seed(t, "C8", NEIGHBOUR, "shows", write={"C8": "=ABS(C5-D6)"}, also=ODD)
    b.seed(t, "D10", FACTOR, "shows", write={"D10": "=D7/10"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "C17", "one limit not compared", "latent", write={"C17": '=IF(C16>=Spalt_min,"geht","geht nicht")'}, also=ODD)
    b.seed(t, "B18", RANGE, "either", write={"B18": '=COUNTIF(B17:D17,"geht")'})
    return b


def soupapes():
    """Valves, inlet and exhaust under merged headings, limits under the headings, plays in µm; springs. French, .ods."""
    b = Book("soupapes", "limits between headings and readings", "valve guides under merged headings, limits in lines below them, plays in µm; springs with shims and loads", stored="ods")
    s, k = b.sheet("Guides"), b.sheet("Ressorts")
    t = "Guides"
    s.put("A1", "culasse 8 soupapes, guides et queues", bold=True).put("A2", "cotes en mm, jeux en µm")
    s.put("B3", "Admission", bold=True).put("F3", "Échappement", bold=True)
    s.merged = ["B3:E3", "F3:I3"]
    s.heads("A4", ["cyl.", "guide", "queue", "jeu", "avis", "guide", "queue", "jeu", "avis"])
    s.put("A5", "mini").put("A6", "maxi")
    for c, low, high in ("D", 20, 55), ("H", 35, 70):
        s.one(f"{c}5", low, t, "limit low", "µm").one(f"{c}6", high, t, "limit high", "µm")
    s.down("A", 8, [1, 2, 3, 4], t, "location")
    inlet = [(8021, 7979), (8018, 7984), (8033, 7976), (8024, 7981)]
    outlet = [(8022, 7964), (8027, 7959), (8019, 7968), (8038, 7957)]
    for c, pairs in ("B", inlet), ("F", outlet):
        stem, play, word = (letter("ABCDEFGHI".index(c) + 1 + i) for i in (1, 2, 3))
        s.down(c, 8, [D(x[0]) / 1000 for x in pairs], t, "bore|guide", "mm", MM)
        s.down(stem, 8, [D(x[1]) / 1000 for x in pairs], t, "journal|shaft|pin|stem", "mm", MM)
        s.down(play, 8, lambda r: f"=({c}{r}-{stem}{r})*1000", t, "clearance|conversion", "µm", "0", last=11)
        s.down(word, 8, lambda r: f'=IF({play}{r}<{play}$5,"aléser",IF({play}{r}>{play}$6,"remplacer","bon"))', t, "verdict", last=11, limits=f"{play}5..{play}6")
        s.one(f"{play}13", f"=MAX({play}8:{play}11)", t, "maximum", "µm", "0")
        s.one(f"{word}14", f'=COUNTIF({word}8:{word}11,"remplacer")', t, "count")
    s.put("A13", "le plus grand").put("A14", "guides à changer")
    u = "Ressorts"
    k.put("A1", "ressorts et cales", bold=True)
    k.put("A2", "hauteur voulue").one("B2", D("36.5"), u, "target|nominal|reading|number|length", "mm", "0.00").put("C2", "mm")
    k.put("D2", "raideur").one("E2", D("28.4"), u, "factor|number|reading|rule|stiffness", "N/mm|", "0.0").put("F2", "N/mm")
    k.put("A3", "longueur libre").one("B3", D("47.2"), u, "length|nominal|reading|number|length new", "mm", "0.00").put("C3", "mm")
    k.put("D3", "charge de").one("E3", D("29.0"), u, "limit low", "daN|", "0.0").put("F3", "à").one("G3", D("31.5"), u, "limit high", "daN|", "0.0").put("H3", "daN")
    k.heads("A5", ["soupape", "haut. montée", "cale", "haut. avec cale", "charge daN", "avis"])
    k.down("A", 6, ["A1", "A2", "A3", "A4", "E1", "E2", "E3", "E4"], u, "location")
    k.down("B", 6, [D(x) / 100 for x in (3712, 3691, 3668, 3740, 3725, 3705, 3779, 3683)], u, "reading|length|number", "mm", "0.00")
    k.down("C", 6, lambda r: f"=FLOOR(B{r}-$B$2,0.25)", u, "shim|difference", "mm", "0.00", last=13)
    k.down("D", 6, lambda r: f"=B{r}-C{r}", u, "difference|clearance|length", "mm", "0.00", last=13)
    k.down("E", 6, lambda r: f"=$E$2*($B$3-D{r})/10", u, "product|number|force|load|conversion", "daN|", "0.0", last=13)
    k.down("F", 6, lambda r: f'=IF(AND(E{r}>=$E$3,E{r}<=$G$3),"bon","à revoir")', u, "verdict", last=13)
    k.put("A14", "écart de charge").one("E14", "=MAX(E6:E13)-MIN(E6:E13)", u, "range", "daN|", "0.0")
    b.seed(t, "D10", NEIGHBOUR, "shows", write={"D10": "=(B10-C9)*1000"}, also=ODD)
    b.seed(t, "H9", FACTOR, "shows", write={"H9": "=(F9-G9)*100"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "I10", NEIGHBOUR, "latent", write={"I10": '=IF(H10<H$5,"aléser",IF(H10>D$6,"remplacer","bon"))'}, also="another rule|" + ODD)
    b.seed(u, "C9", TYPED, "latent", write={"C9": D("0.75")})
    b.seed(u, "E11", NEIGHBOUR, "shows", write={"E11": "=$E$2*($B$3-B11)/10"}, also=f"{LEFT_OUT}|{ODD}")
    b.seed(u, "F12", STRICT, "latent", write={"F12": '=IF(AND(E12>$E$3,E12<=$G$3),"bon","à revoir")'}, also=ODD)
    return b


def balance():
    """Weights of rods and pistons, a bobweight, holes drilled in the crank. English, grams."""
    b = Book("balance", "weights", "rods and pistons weighed, how much over the lightest, a bobweight; holes drilled in a crank")
    s, k = b.sheet("Rods"), b.sheet("Crank")
    t = "Rods"
    s.put("A1", "Launch engine - off the scale, grams", bold=True)
    s.heads("A3", ["No.", "big end", "small end", "whole rod", "scale error", "piston", "pin", "rings", "recip", "over lightest", "off big end", "match?"])
    rows = [(4123, 1716, 5838, 3684, 1212, 401), (4131, 1709, 5842, 3691, 1214, 399), (4127, 1722, 5850, 3679, 1213, 402),
            (4119, 1714, 5831, 3702, 1211, 400), (4138, 1711, 5848, 3688, 1215, 403), (4125, 1719, 5846, 3676, 1212, 398)]
    s.down("A", 4, [1, 2, 3, 4, 5, 6], t, "location")
    for c, i in ("B", 0), ("C", 1), ("D", 2), ("F", 3), ("G", 4), ("H", 5):
        s.down(c, 4, [D(x[i]) / 10 for x in rows], t, "reading|number|weight|mass", "g", "0.0")
    s.down("E", 4, lambda r: f"=B{r}+C{r}-D{r}", t, "difference|error|clearance|total", "g", "0.0", last=9)
    s.down("I", 4, lambda r: f"=SUM(C{r},F{r}:H{r})", t, "total|sum|weight", "g", "0.0", last=9)
    s.down("J", 4, lambda r: f"=I{r}-MIN(I$4:I$9)", t, "difference|range|to file", "g", "0.0", last=9)
    s.down("K", 4, lambda r: f"=B{r}-MIN(B$4:B$9)", t, "difference|range|to file", "g", "0.0", last=9)
    s.down("L", 4, lambda r: f'=IF(AND(J{r}<=$O$3,K{r}<=$O$3),"yes","no")', t, "verdict", last=9, limits="..1.5 g")
    s.put("A11", "lightest").put("A12", "spread")
    for c in "BCDI":
        s.one(f"{c}11", f"=MIN({c}4:{c}9)", t, "minimum", "g", "0.0")
        s.one(f"{c}12", f"=MAX({c}4:{c}9)-MIN({c}4:{c}9)", t, "range", "g", "0.0")
    s.put("N3", "match within").one("O3", D("1.5"), t, "limit high|tolerance", "g", "0.0").put("P3", "g")
    s.put("N5", "balance factor").one("O5", D("0.5"), t, "factor|ratio|number", "|%", "0%")
    s.put("N6", "shells, a pair").one("O6", D("86.4"), t, "reading|number|weight|mass", "g", "0.0").put("P6", "g")
    s.put("N7", "oil").one("O7", 4, t, "reading|number|weight|mass", "g", "0.0").put("P7", "g")
    s.put("N8", "bobweight").one("O8", "=2*(O10+O6)+O7+2*O5*O11", t, "total|sum|number|product|weight", "g", "0.0").put("P8", "g")
    s.put("N10", "mean big end").one("O10", "=AVERAGE(B4:B9)", t, "average", "g", "0.0")
    s.put("N11", "mean recip").one("O11", "=AVERAGE(I4:I9)", t, "average", "g", "0.0")
    u = "Crank"
    k.put("A1", "holes to drill", bold=True)
    k.heads("A3", ["cheek", "unbalance", "at", "radius", "drill", "take out", "deep", "deepest", "how"])
    for c, unit in zip("BCDEFGH", ["g·cm", "°", "mm", "mm", "g", "mm", "mm"]):
        k.put(f"{c}4", unit)
    k.down("A", 5, ["front", "second", "fifth", "rear"], u, "location")
    k.down("B", 5, [124, 87, 41, 156], u, "reading|number", "g·cm|")
    k.down("C", 5, [12, 195, 340, 88], u, "angle|reading|number", "°")
    k.down("D", 5, [68, 68, 66, 71], u, "reading|number|throw|length", "mm")
    k.down("E", 5, [14, 12, 12, 14], u, "reading|number|bore|diameter", "mm")
    k.down("F", 5, lambda r: f"=B{r}*10/D{r}", u, "number|product|ratio|weight|mass|conversion", "g", "0.0", last=8)
    k.down("G", 5, lambda r: f"=F{r}/(0.00785*PI()/4*E{r}^2)", u, "number|product|ratio|length|conversion", "mm", "0.0", last=8)
    k.down("H", 5, [20, 18, 18, 16], u, "limit high", "mm")
    k.down("I", 5, lambda r: f'=IF(G{r}<=H{r},"one hole","two holes")', u, "verdict", last=8, limits="..H")
    k.put("A10", "all together").one("F10", "=SUM(F5:F8)", u, "total", "g", "0.0")
    b.seed(t, "I6", LEFT_OUT, "shows", write={"I6": "=SUM(C6,F6:G6)"}, also=f"{RANGE}|{ODD}")
    b.seed(t, "J8", "absolute reference copied down", "latent", write={"J8": "=I8-MIN(I5:I10)"}, also=f"moving reference that should be fixed|{RANGE}|{ODD}")
    b.seed(t, "C12", RANGE, "either", write={"C12": "=MAX(C4:C9)-MIN(C4:C8)"}, also=ODD)
    b.seed(t, "L7", "one limit not compared", "latent", write={"L7": '=IF(J7<=$O$3,"yes","no")'}, also=f"{LEFT_OUT}|{ODD}")
    b.seed(u, "F7", FACTOR, "shows", write={"F7": "=B7/D7"}, also=f"decimal point moved|units mixed|{LEFT_OUT}|{ODD}")
    b.seed(u, "G6", "radius for diameter", "shows", write={"G6": "=F6/(0.00785*PI()*E6^2)"}, also=f"{FACTOR}|{LEFT_OUT}|{ODD}")
    return b


def bitacora():
    """A log: one line for each measure, its unit typed in a column of its own; a survey by engine. Spanish."""
    b = Book("bitacora", "one line for each measure, with its unit", "a log of unlike measures in mixed units, limits looked up by the measure's name, a survey by engine")
    s, k, z = b.sheet("Registro"), b.sheet("Cotas"), b.sheet("Resumen")
    t = "Registro"
    s.put("A1", "bitácora de medidas, taller", bold=True)
    s.heads("A4", ["fecha", "motor", "pieza", "medida", "lectura", "unidad", "en mm", "mín", "máx", "margen", "dictamen"])
    kinds = [("muñón bancada", "55.96", "55.98"), ("muñón biela", "47.93", "47.95"), ("juego axial", "0.08", "0.25"), ("luz de aro", "0.25", "0.50")]
    lines = [("barca", "b1", 0, "55.971", "mm"), ("barca", "b2", 0, "2.2035", "pulg"), ("barca", "b3", 0, "55.954", "mm"), ("barca", "p1", 1, "47.938", "mm"),
             ("barca", "p2", 1, "1.8875", "pulg"), ("barca", "cigüeñal", 2, "7.5", "mil"), ("barca", "aro 1", 3, "0.41", "mm"), ("bomba", "b1", 0, "55.966", "mm"),
             ("bomba", "b2", 0, "55.977", "mm"), ("bomba", "p1", 1, "1.8868", "pulg"), ("bomba", "cigüeñal", 2, "0.12", "mm"), ("bomba", "aro 1", 3, "14.5", "mil"),
             ("bomba", "aro 2", 3, "21.0", "mil"), ("grúa", "b1", 0, "55.969", "mm"), ("grúa", "cigüeñal", 2, "0.19", "mm"), ("grúa", "aro 1", 3, "0.33", "mm")]
    for i, (engine, part, kind, reading, unit) in enumerate(lines):
        r = 5 + i
        s.put(f"A{r}", datetime.date(2025, 3, 3 + i // 4), "dd/mm/yyyy").put(f"B{r}", engine).put(f"C{r}", part).put(f"D{r}", kinds[kind][0])
        s.put(f"E{r}", D(reading)).put(f"F{r}", unit)
        s.means(f"E{r}", t, "reading|number|journal", {"mm": "mm|", "pulg": "in|", "mil": "thou|"}[unit], "input")
    for c in "BCD":
        s.means(f"{c}5:{c}20", t, "location|grade|code|look-up", "", "input")
    s.means("F5:F20", t, "grade|code|location|unit|look-up", "", "input")
    s.down("G", 5, lambda r: f'=IF(F{r}="pulg",E{r}*25.4,IF(F{r}="mil",E{r}*0.0254,E{r}))', t, "conversion|reading|number|journal", "mm", MM, last=20)
    s.down("H", 5, lambda r: f"=VLOOKUP(D{r},Cotas!$A$4:$C$7,2,FALSE)", t, "limit low|look-up", "mm", MM, last=20)
    s.down("I", 5, lambda r: f"=VLOOKUP(D{r},Cotas!$A$4:$C$7,3,FALSE)", t, "limit high|look-up", "mm", MM, last=20)
    s.down("J", 5, lambda r: f"=MIN(G{r}-H{r},I{r}-G{r})", t, "minimum|difference|clearance", "mm", MM, last=20)
    s.down("K", 5, lambda r: f'=IF(G{r}<H{r},"corto",IF(G{r}>I{r},"largo","bien"))', t, "verdict", last=20, limits="H..I")
    u = "Cotas"
    k.put("A1", "cotas del taller", bold=True).put("B2", "mm").put("C2", "mm")
    k.heads("A3", ["medida", "mín", "máx"])
    k.down("A", 4, [x[0] for x in kinds], u, "location|grade|code|look-up")
    k.down("B", 4, [D(x[1]) for x in kinds], u, "limit low|look-up", "mm", MM)
    k.down("C", 4, [D(x[2]) for x in kinds], u, "limit high|look-up", "mm", MM)
    v = "Resumen"
    z.heads("A3", ["motor", "medidas", "bien", "parte"])
    z.down("A", 4, ["barca", "bomba", "grúa"], v, "location|grade|code")
    z.down("B", 4, lambda r: f"=COUNTIF(Registro!$B$5:$B$20,A{r})", v, "count|number", last=6)
    z.down("C", 4, lambda r: f'=COUNTIFS(Registro!$B$5:$B$20,A{r},Registro!$K$5:$K$20,"bien")', v, "count|number", last=6)
    z.down("D", 4, lambda r: f"=C{r}/B{r}", v, "ratio|number", "|%", "0%", last=6)
    z.put("A7", "todos").one("B7", "=SUM(B4:B6)", v, "total").one("C7", "=SUM(C4:C6)", v, "total").one("D7", "=C7/B7", v, "ratio|number", "|%", "0%")
    z.heads("A9", ["medida", "media mm"])
    z.down("A", 10, [x[0] for x in kinds], v, "location|grade|code")
    z.down("B", 10, lambda r: f"=AVERAGEIF(Registro!$D$5:$D$20,A{r},Registro!$G$5:$G$20)", v, "average", "mm", MM, last=13)
    z.put("A15", "peor margen mm").one("B15", "=MIN(Registro!J5:J20)", v, "minimum", "mm", MM)
    b.seed(t, "G9", FACTOR, "shows", write={"G9": '=IF(F9="pulg",E9*2.54,IF(F9="mil",E9*0.0254,E9))'}, also=f"decimal point moved|units mixed|{ODD}")
    b.seed(t, "H12", "moving reference that should be fixed", "latent", write={"H12": "=VLOOKUP(D12,Cotas!A3:C6,2,FALSE)"}, also=ODD)
    b.seed(t, "I15", NEIGHBOUR, "shows", write={"I15": "=VLOOKUP(D15,Cotas!$A$4:$C$7,2,FALSE)"}, also=ODD)
    b.seed(t, "K18", STRICT, "latent", write={"K18": '=IF(G18<=H18,"corto",IF(G18>I18,"largo","bien"))'}, also=ODD)
    b.seed(v, "C5", RANGE, "latent", write={"C5": '=COUNTIFS(Registro!$B$5:$B$16,A5,Registro!$K$5:$K$16,"bien")'}, also=ODD)
    b.seed(v, "B12", NEIGHBOUR, "shows", write={"B12": "=AVERAGEIF(Registro!$D$5:$D$20,A12,Registro!$E$5:$E$20)"}, also=f"units mixed|{ODD}")
    return b


def cam_card():
    """Lobes and events of a camshaft: lifts in inches, events in degrees, limits by inlet and exhaust. English."""
    b = Book("cam-card", "lifts and events", "lobes measured, lift at the valve by a ratio, shortfall in thou by inlet or exhaust; events in degrees")
    s, k = b.sheet("Lobes"), b.sheet("Events")
    t = "Lobes"
    s.put("A1", "cam out of the generator, V-blocks and mike", bold=True)
    s.put("A2", "rocker").one("B2", D("1.45"), t, "factor|ratio|number", "", "0.00").put("C2", "to 1")
    s.put("D2", "lift wanted, inlet").one("E2", D("0.418"), t, "target|nominal|limit low|number|reading", "in", MM)
    s.put("D3", "exhaust").one("E3", D("0.403"), t, "target|nominal|limit low|number|reading", "in", MM).put("F2", '"').put("F3", '"')
    s.put("G2", "bin it past").one("H2", 5, t, "limit high|tolerance", "thou").put("I2", "thou")
    s.heads("A5", ["lobe", 'heel to toe "', 'across "', 'lift "', 'at valve "', 'lash "', 'net "', "short, thou", "keep?"])
    rows = [("1 I", 14382, 11404, 120), ("1 E", 14301, 11398, 160), ("2 I", 14340, 11401, 120), ("2 E", 14288, 11406, 160),
            ("3 I", 14379, 11399, 120), ("3 E", 14296, 11403, 160), ("4 I", 14371, 11402, 120), ("4 E", 14243, 11400, 160)]
    s.down("A", 6, [x[0] for x in rows], t, "location")
    s.down("B", 6, [D(x[1]) / 10000 for x in rows], t, "reading|number|length|journal", "in", INCH)
    s.down("C", 6, [D(x[2]) / 10000 for x in rows], t, "reading|number|length|journal", "in", INCH)
    s.down("D", 6, lambda r: f"=B{r}-C{r}", t, "difference|clearance|range", "in", INCH, last=13)
    s.down("E", 6, lambda r: f"=D{r}*$B$2", t, "product|number|conversion|difference", "in", INCH, last=13)
    s.down("F", 6, [D(x[3]) / 10000 for x in rows], t, "reading|number|gap|clearance", "in", MM)
    s.down("G", 6, lambda r: f"=E{r}-F{r}", t, "difference|clearance", "in", INCH, last=13)
    s.down("H", 6, lambda r: f'=ROUND((IF(RIGHT(A{r})="I",$E$2,$E$3)-G{r})*1000,1)', t, "conversion|difference|number", "thou", "0.0", last=13)
    s.down("I", 6, lambda r: f'=IF(H{r}<=$H$2,"keep","bin")', t, "verdict", last=13, limits="..5 thou")
    s.put("A15", "worst").one("H15", "=MAX(H6:H13)", t, "maximum", "thou", "0.0")
    s.put("A16", "bin").one("I16", '=COUNTIF(I6:I13,"bin")', t, "count")
    u = "Events"
    k.put("A1", "degrees at the crank, 0.050 lift", bold=True)
    k.heads("A3", ["cyl", "IO before", "IC after", "open for", "centre", "EO before", "EC after", "open for", "centre", "apart", "overlap", "call"])
    k.put("A4", "from").put("A5", "to")
    k.one("J4", D("107.5"), u, "limit low", "°", "0.0").one("J5", D("110"), u, "limit high", "°", "0.0")
    k.down("A", 6, [1, 2, 3, 4], u, "location")
    events = [(9, 41, 46, 6), (10, 42, 45, 7), (8, 45, 48, 3), (9, 39, 44, 8)]
    for i, c in enumerate("BCFG"):
        k.down(c, 6, [x[i] for x in events], u, "angle|reading|number", "°", "0")
    k.down("D", 6, lambda r: f"=B{r}+180+C{r}", u, "total|sum|angle|number", "°", "0", last=9)
    k.down("E", 6, lambda r: f"=D{r}/2-B{r}", u, "difference|angle|number", "°", "0.0", last=9)
    k.down("H", 6, lambda r: f"=F{r}+180+G{r}", u, "total|sum|angle|number", "°", "0", last=9)
    k.down("I", 6, lambda r: f"=H{r}/2-G{r}", u, "difference|angle|number", "°", "0.0", last=9)
    k.down("J", 6, lambda r: f"=(E{r}+I{r})/2", u, "average|angle", "°", "0.0", last=9)
    k.down("K", 6, lambda r: f"=B{r}+G{r}", u, "total|sum|angle|number", "°", "0", last=9)
    k.down("L", 6, lambda r: f'=IF(AND(J{r}>=J$4,J{r}<=J$5),"fine","check")', u, "verdict", last=9, limits="107.5..110 °")
    k.put("A11", "mean").one("D11", "=AVERAGE(D6:D9)", u, "average", "°", "0.0").one("H11", "=AVERAGE(H6:H9)", u, "average", "°", "0.0")
    b.seed(t, "D9", "the wrong way round", "shows", write={"D9": "=C9-B9"}, also=ODD)
    b.seed(t, "E11", LEFT_OUT, "shows", write={"E11": "=D11"}, also=f"{FACTOR}|{ODD}")
    b.seed(t, "H8", NEIGHBOUR, "shows", write={"H8": '=ROUND((IF(RIGHT(A8)="I",$E$3,$E$3)-G8)*1000,1)'}, also=ODD)
    b.seed(t, "I12", STRICT, "latent", write={"I12": '=IF(H12<$H$2,"keep","bin")'}, also=ODD)
    b.seed(u, "D8", LEFT_OUT, "shows", write={"D8": "=B8+C8"}, also=f"{FACTOR}|{ODD}")
    b.seed(u, "K9", NEIGHBOUR, "shows", write={"K9": "=C9+G9"}, also=ODD)
    b.seed(u, "H11", RANGE, "either", write={"H11": "=AVERAGE(H6:H8)"}, also=ODD)
    return b


def note():
    """A calculation of a bolted joint: what, sign, value, unit; then torques across. French."""
    b = Book("note", "what, sign, value, unit", "a bolted joint worked out down the page, with the unit behind; torques by friction; passes")
    s, k = b.sheet("Calcul"), b.sheet("Passes")
    t = "Calcul"
    s.put("A1", "goujons de culasse, moteur de vedette", bold=True)
    s.heads("A3", ["désignation", "signe", "valeur", "unité"])
    lines = [
        ("diamètre nominal", "d", D("11"), "mm", "nominal|reading|number|journal|shaft", "0.00"),
        ("pas", "p", D("1.25"), "mm", "reading|number|nominal|length", "0.00"),
        ("diamètre sur flancs", "", "=C4-0.6495*C5", "mm", "difference|number|nominal", MM),
        ("diamètre du noyau", "", "=C4-1.2269*C5", "mm", "difference|number|nominal", MM),
        ("section résistante", "As", "=PI()/4*((C6+C7)/2)^2", "mm²", "product|number", "0.0"),
        ("limite d'élasticité", "Re", 900, "MPa", "limit high|number|reading|factor|pressure", None),
        ("taux", "", D("0.75"), "", "factor|ratio|number", "0.00"),
        ("tension", "F", "=C10*C9*C8", "N", "product|number|force", "0"),
        ("tension", "", "=C11/1000", "kN", "conversion", "0.0"),
        ("coefficient de couple", "K", D("0.17"), "", "factor|ratio|number", "0.00"),
        ("couple", "", "=C13*C11*C4/1000", "N·m|Nm", "torque|conversion|product|number", "0"),
        ("couple", "", "=C14/10", "daN·m|daNm", "conversion|torque", "0.0"),
        ("couple", "", "=C14/1.3558", "lbf·ft", "conversion|torque", "0"),
        ("longueur serrée", "", 98, "mm", "length|reading|number|length new", None),
        ("module", "E", 205000, "MPa", "number|reading|factor|pressure", None),
        ("allongement", "", "=C11*C17/(C18*C8)", "mm", "stretch|ratio|number|product|length", MM),
        ("allongement", "", "=C19*1000", "µm", "conversion", "0"),
        ("nombre de goujons", "", 10, "", "count|number|needed", None),
        ("effort total", "", "=C21*C12", "kN", "product|number|force|total", "0"),
        ("pression de pointe", "", 105, "bar", "pressure|reading|number|limit high", None),
        ("diamètre du joint", "", 94, "mm", "reading|number|bore|diameter", None),
        ("poussée des gaz", "", "=C23/10*PI()/4*C24^2/1000", "kN", "product|number|force|conversion", "0.0"),
        ("sûreté", "", "=C22/C25", "", "ratio|number", "0.0"),
        ("sûreté voulue", "", D("4"), "", "limit low|target|number|factor", "0.0"),
    ]
    units = {"N·m|Nm": "Nm", "daN·m|daNm": "daN.m", "lbf·ft": "lb.ft"}
    for i, (what, sign, value, unit, role, fmt) in enumerate(lines):
        r = 4 + i
        s.put(f"A{r}", what)
        if sign:
            s.put(f"B{r}", sign)
        s.one(f"C{r}", value, t, role, unit.replace("N·m|Nm", "N·m").replace("daN·m|daNm", "daN·m|"), fmt)
        if unit:
            s.put(f"D{r}", units.get(unit, unit))
    s.put("A28", "avis").one("C28", '=IF(C26>=C27,"suffisant","à revoir")', t, "verdict", limits="4..")
    s.put("A30", "couple en Nm selon le coefficient", bold=True)
    s.put("A31", "taux", bold=True)
    s.across(31, "B", [D("0.14"), D("0.16"), D("0.18"), D("0.20")], t, "factor|ratio|number|location|grade|code", "", "0.00")
    s.down("A", 32, [D("0.6"), D("0.7"), D("0.8")], t, "factor|ratio|number|location|grade|code", "", "0.0")
    for r in (32, 33, 34):
        for c in "BCDE":
            s.put(f"{c}{r}", f"={c}$31*$A{r}*$C$9*$C$8*$C$4/1000", "0")
    s.means("B32:E34", t, "torque|product|number|conversion", "N·m", "claim")
    u = "Passes"
    k.put("A1", "serrage en trois passes", bold=True)
    k.heads("A3", ["goujon", "passe 1", "passe 2", "passe 3", "relevé", "écart %", "avis"])
    k.put("A4", "part")
    k.across(4, "B", [D("0.3"), D("0.6"), D("1")], u, "factor|ratio|number", "|%", "0%")
    k.put("B5", "Nm").put("C5", "Nm").put("D5", "Nm").put("E5", "Nm")
    k.down("A", 6, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10], u, "location")
    for c in "BCD":
        k.down(c, 6, lambda r: f"=ROUND(Calcul!$C$14*{c}$4,0)", u, "torque|stage|product|conversion", "N·m", "0", last=15)
    k.down("E", 6, [91, 89, 93, 84, 90, 92, 88, 95, 90, 101], u, "torque|reading|number", "N·m")
    k.down("F", 6, lambda r: f"=(E{r}-D{r})/D{r}*100", u, "ratio|difference|error|number|conversion", "%", "0.0", last=15)
    k.down("G", 6, lambda r: f'=IF(ABS(F{r})<=$J$3,"bon","reprendre")', u, "verdict", last=15, limits="-8..8 %")
    k.put("I3", "toléré ±").one("J3", 8, u, "tolerance|limit high", "%|").put("K3", "%")
    k.put("A16", "à reprendre").one("G16", '=COUNTIF(G6:G15,"reprendre")', u, "count")
    b.seed(t, "C16", FACTOR, "shows", write={"C16": "=C14/1.3358"}, also="two digits exchanged|another unit")
    b.seed(t, "C12", FACTOR, "shows", write={"C12": "=C11/100"}, also="decimal point moved|units mixed|another unit")
    b.seed(t, "D33", NEIGHBOUR, "shows", write={"D33": "=D$31*$A34*$C$9*$C$8*$C$4/1000"}, also=ODD)
    b.seed(u, "C9", TYPED, "latent", write={"C9": "=ROUND(Calcul!$C$14*0.6,0)"}, also=f"{ODD}|{FACTOR}")
    b.seed(u, "F12", NEIGHBOUR, "shows", write={"F12": "=(E12-C12)/C12*100"}, also=ODD)
    b.seed(u, "G14", "something left out", "latent", write={"G14": '=IF(F14<=$J$3,"bon","reprendre")'}, also=f"one limit not compared|{ODD}")
    return b


def ticket():
    """Journals for the grinder: two lines for each, front and rear; an undersize by steps for the whole crank. English, inches."""
    b = Book("ticket", "four readings in a square", "a crank for grinding: two ways in two places for each journal, taper and out-of-round, an undersize for all")
    t = "Mains"
    for t, n, size, readings in (
        ("Mains", 5, "2.6240", [(26231, 26227, 26234, 26229), (26236, 26233, 26235, 26236), (26229, 26217, 26225, 26220), (26233, 26231, 26236, 26230), (26232, 26234, 26234, 26235)]),
        ("Pins", 4, "2.1235", [(21224, 21229, 21226, 21228), (21209, 21221, 21214, 21223), (21227, 21228, 21224, 21229), (21130, 21128, 21126, 21131)])):
        s = b.sheet(t)
        last = 4 + 2 * n
        s.put("A1", f"grinder's ticket, {t.lower()}, inches", bold=True)
        s.put("L2", "standard").one("M2", D(size), t, "nominal|limit high|reading|number|journal|target", "in", INCH)
        s.put("L3", "worn past").one("M3", D("0.0012"), t, "limit high|tolerance", "in", INCH)
        s.put("L4", "oor and taper to").one("M4", D("0.0008"), t, "limit high|tolerance", "in", INCH)
        s.heads("A4", ["no.", "end", "up-down", "across", "oor", "taper", "smallest", "worn", "under, thou", "do"])
        for i, four in enumerate(readings):
            r = 5 + 2 * i
            s.one(f"A{r}", i + 1, t, "location").put(f"B{r}", "front").put(f"B{r + 1}", "rear")
            for (c, q), x in zip((("C", r), ("D", r), ("C", r + 1), ("D", r + 1)), four):
                s.put(f"{c}{q}", D(x) / 10000, INCH)
            for q in (r, r + 1):
                s.one(f"E{q}", f"=ABS(C{q}-D{q})", t, "out-of-round|difference|range", "in", INCH)
            s.one(f"F{r}", f"=ABS(AVERAGE(C{r}:D{r})-AVERAGE(C{r + 1}:D{r + 1}))", t, "taper|difference|range", "in", "0.00000")
            s.one(f"G{r}", f"=MIN(C{r}:D{r + 1})", t, "minimum|journal", "in", INCH)
            s.one(f"H{r}", f"=$M$2-G{r}", t, "difference|clearance", "in", INCH)
            s.one(f"I{r}", f"=IF(H{r}<=$M$3,0,IF(H{r}<=0.008,10,IF(H{r}<=0.018,20,30)))", t, "grade|look-up|number|code|verdict", "thou|", "0")
            s.one(f"J{r}", f'=IF(AND(MAX(E{r}:E{r + 1})<=$M$4,F{r}<=$M$4,I{r}=0),"polish","grind")', t, "verdict")
        s.means(f"C5:D{last}", t, "journal|reading", "in", "input")
        a = last + 2
        s.put(f"A{a}", "whole crank to, thou under").one(f"I{a}", f"=MAX(I5:I{last})", t, "maximum", "thou|", "0")
        s.put(f"A{a + 1}", "grind to").one(f"I{a + 1}", f"=$M$2-I{a}/1000", t, "difference|clearance|target|nominal", "in", INCH)
        s.put(f"A{a + 2}", "to grind").one(f"J{a + 2}", f'=COUNTIF(J5:J{last},"grind")', t, "count")
    b.seed("Mains", "E8", NEIGHBOUR, "shows", write={"E8": "=ABS(C8-D7)"}, also=ODD)
    b.seed("Mains", "F9", NEIGHBOUR, "shows", write={"F9": "=ABS(AVERAGE(C9:D9)-AVERAGE(C11:D11))"}, also=f"{RANGE}|{ODD}")
    b.seed("Mains", "G13", RANGE, "latent", write={"G13": "=MIN(C13:D13)"}, also=f"{LEFT_OUT}|{ODD}")
    b.seed("Mains", "I17", "units mixed", "shows", write={"I17": "=$M$2-I16/100"}, also=f"{FACTOR}|decimal point moved")
    b.seed("Pins", "H7", TYPED, "latent", write={"H7": D("0.0026")})
    b.seed("Pins", "J9", "one limit not compared", "latent", write={"J9": '=IF(AND(MAX(E9:E10)<=$M$4,I9=0),"polish","grind")'}, also=f"{LEFT_OUT}|{ODD}")
    return b


def temperatur():
    """Bores read against a setting ring, sizes corrected to 20 °C, clearance cold and hot. German."""
    b = Book("temperatur", "deviations from a ring, corrected for temperature", "bores by deviation in µm from a ring, sizes at 20 °C, clearance with its limits in the heading, and when warm")
    s, k = b.sheet("Messung"), b.sheet("Warm")
    t = "Messung"
    s.put("A1", "Messraum - Hauptlager Verdichter", bold=True)
    s.put("A2", "Einstellring").one("B2", D("62.004"), t, "nominal|reading|number|bore", "mm", MM).put("C2", "mm")
    s.put("A3", "Block hat").one("B3", D("26.5"), t, "temperature|reading|number", "°C|", "0.0").put("C3", "°C")
    s.put("A4", "Welle hat").one("B4", D("22.0"), t, "temperature|reading|number", "°C|", "0.0").put("C4", "°C")
    s.put("E2", "Dehnung Block").one("F2", D("10.5"), t, "factor|number|rule|reading", "µm/m/K|", "0.0").put("G2", "µm/m/K")
    s.put("E3", "Dehnung Welle").one("F3", D("11.7"), t, "factor|number|rule|reading", "µm/m/K|", "0.0").put("G3", "µm/m/K")
    s.heads("A6", ["Lager", "Abw. vom Ring [µm]", "Bohrung [mm]", "bei 20 °C", "Wand [mm]", "Zapfen [mm]", "bei 20 °C", "Spiel (0,040-0,075)", "Spiel [µm]", "Urteil"])
    rows = [(11, 1986, 57993), (4, 1988, 57987), (19, 1984, 57981), (-3, 1987, 57996), (8, 1990, 57999), (14, 1985, 57985)]
    s.down("A", 7, ["L1", "L2", "L3", "L4", "L5", "L6"], t, "location")
    s.down("B", 7, [x[0] for x in rows], t, "reading|difference|number|bore|error", "µm")
    s.down("C", 7, lambda r: f"=$B$2+B{r}/1000", t, "bore|total|sum", "mm", MM, last=12)
    s.down("D", 7, lambda r: f"=C{r}*(1-$F$2*($B$3-20)/1000000)", t, "bore|conversion|product", "mm", "0.0000", last=12)
    s.down("E", 7, [D(x[1]) / 1000 for x in rows], t, "wall", "mm", MM)
    s.down("F", 7, [D(x[2]) / 1000 for x in rows], t, "journal", "mm", MM)
    s.down("G", 7, lambda r: f"=F{r}*(1-$F$3*($B$4-20)/1000000)", t, "journal|conversion|product", "mm", "0.0000", last=12)
    s.down("H", 7, lambda r: f"=ROUND(D{r}-2*E{r}-G{r},3)", t, "clearance", "mm", MM, last=12)
    s.down("I", 7, lambda r: f"=H{r}*1000", t, "conversion", "µm", "0", last=12)
    s.down("J", 7, lambda r: f'=IF(H{r}<0.04,"zu eng",IF(H{r}>0.075,"zu weit","i. O."))', t, "verdict", last=12, limits="0.040..0.075 mm")
    s.put("A14", "Mittel").one("H14", "=AVERAGE(H7:H12)", t, "average", "mm", "0.0000")
    s.put("A15", "Spannweite").one("H15", "=MAX(H7:H12)-MIN(H7:H12)", t, "range", "mm", MM)
    s.put("A16", "i. O.").one("J16", '=COUNTIF(J7:J12,"i. O.")', t, "count")
    u = "Warm"
    k.put("A1", "Spiel bei Betriebstemperatur", bold=True)
    k.put("A2", "Temperatur").one("B2", 95, u, "temperature|reading|number", "°C|").put("C2", "°C")
    k.heads("A4", ["Lager", "kalt mm", "Block wächst µm", "Welle wächst µm", "warm mm", "mehr µm"])
    k.down("A", 5, lambda r: f"=Messung!A{r + 2}", u, "location|link", last=10)
    k.down("B", 5, lambda r: f"=Messung!H{r + 2}", u, "clearance|link", "mm", MM, last=10)
    k.down("C", 5, lambda r: f"=Messung!D{r + 2}*Messung!$F$2*($B$2-20)/1000", u, "product|number|conversion|difference", "µm", "0.0", last=10)
    k.down("D", 5, lambda r: f"=Messung!G{r + 2}*Messung!$F$3*($B$2-20)/1000", u, "product|number|conversion|difference", "µm", "0.0", last=10)
    k.down("E", 5, lambda r: f"=B{r}+(C{r}-D{r})/1000", u, "clearance|total|sum|difference", "mm", MM, last=10)
    k.down("F", 5, lambda r: f"=(E{r}-B{r})*1000", u, "conversion|difference", "µm", "0.0", last=10)
    k.put("A12", "kleinstes").one("E12", "=MIN(E5:E10)", u, "minimum", "mm", MM)
    b.seed(t, "C9", FACTOR, "shows", write={"C9": "=$B$2+B9/100"}, also="decimal point moved|units mixed|" + ODD)
    b.seed(t, "D11", "absolute reference copied down", "shows", write={"D11": "=C11*(1-$F$2*($B$4-20)/1000000)"}, also=f"{NEIGHBOUR}|{ODD}")
    b.seed(t, "H8", "one wall instead of two", "shows", write={"H8": "=ROUND(D8-E8-G8,3)"}, also=f"{FACTOR}|{LEFT_OUT}|{ODD}")
    b.seed(t, "J10", "another rule", "latent", write={"J10": '=IF(H10<0.04,"zu eng",IF(H10>0.085,"zu weit","i. O."))'}, also=f"{FACTOR}|two digits exchanged|{NEIGHBOUR}|{ODD}")
    b.seed(u, "B7", NEIGHBOUR, "shows", write={"B7": "=Messung!H8"}, also=ODD)
    b.seed(u, "F9", TYPED, "either", write={"F9": D("-6.2")})
    return b


BOOKS = [ueberstand, soupapes, balance, bitacora, cam_card, note, ticket, temperatur]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "trades"))
