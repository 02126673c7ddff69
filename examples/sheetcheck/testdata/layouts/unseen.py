#!/usr/bin/python3
"""Makes the workbooks of the folder unseen, with their seeds.csv and truth.csv. README.md says
what they are.

    /usr/bin/python3 unseen.py

Six workbooks whose writer knew nothing of how sheetcheck reads a sheet: what stands in them is in
unseen.txt, row by row, with a ditto mark where a formula is the one above it, moved down. Their
seeds and what they mean were written down before sheetcheck had read any of them. All of it is
invented.
"""
import os
import re
from decimal import Decimal as D

from openpyxl.formula.translate import Translator

from kit import HERE, Book, letter, spread
from make import make_all

ODD = "formula unlike its neighbours"
NEIGHBOUR = "neighbour's row or column"
RANGE = "range a row short or long"


def read():
    """What unseen.txt has of each workbook: its names, and its sheets with their rows."""
    books, book, sheet = {}, None, None
    for line in open(os.path.join(HERE, "unseen.txt"), encoding="utf-8").read().split("\n"):
        word, _, rest = line.partition(" ")
        if word == "##":
            book = books[rest] = {"names": [], "sheets": {}}
        elif word == "NAME":
            book["names"].append(rest.split(" "))
        elif word == "SHEET":
            sheet = book["sheets"][rest] = {"formats": "", "merged": "", "rows": []}
        elif word in ("FORMATS", "MERGED"):
            sheet[word.lower()] = rest
        else:
            sheet["rows"].append(line)
    return books


def book(name, layout, says):
    b = Book(name, layout, says)
    text = read()[name]
    for title, ref in text["names"]:
        b.name_cell(title, ref)
    for title, what in text["sheets"].items():
        s = b.sheet(title)
        above = {}
        for r, line in enumerate(what["rows"], 1):
            for i, cell in enumerate(line.split("|"), 1):
                c = letter(i)
                if cell == '"':
                    cell = Translator(above[c][1], f"{c}{above[c][0]}").translate_formula(f"{c}{r}")
                if cell.startswith("="):
                    above[c] = r, cell
                if re.fullmatch(r"-?\d+(\.\d+)?", cell):
                    s.put(f"{c}{r}", D(cell) if "." in cell else int(cell))
                elif cell:
                    s.put(f"{c}{r}", cell)
        for part in what["formats"].split("; "):
            fmt, _, cells = part.partition("=")
            for cell in spread(cells) if cells else []:
                if cell in s.cells:
                    s.formats[cell] = fmt
        s.merged = what["merged"].split(",") if what["merged"] else []
    return b


def mean(b, title, rows):
    """Notes what cells mean: lines of cells, role, unit; claims after "=", what was typed after ":"."""
    for line in rows.strip().split("\n"):
        cells, sign, rest = re.match(r"\s*(\S+) ([=:]) (.*)", line).groups()
        role, _, unit = rest.partition(" in ")
        b.of(title).means(cells, title, role.strip(), unit.strip(), "claim" if sign == "=" else "input")


def wellenblatt():
    b = book("wellenblatt", "limits in sentences", "crank in German: three directions and their mean, limits in sentences and typed into the formulas; walls read twice; dial")
    for title, last in ("Hauptlager", 11), ("Pleuellager", 10):
        mean(b, title, f"""
            A7:A{last} : location
            B7:D{last} : journal|reading in mm
            E7:E{last} = journal|average in mm
            F7:F{last} = out-of-round in mm
            G7:I{last} : bore|reading in mm
            J7:J{last} = bore|average in mm
            K7:K{last} = clearance in mm
            L7:L{last} = verdict""")
    mean(b, "Hauptlager", """
        F13 = average in mm
        K13 = average in mm
        F14 = minimum in mm
        K14 = minimum in mm
        F15 = maximum in mm
        K15 = maximum in mm
        L16 = count""")
    mean(b, "Pleuellager", """
        M7:M10 : pin width|reading in mm
        N7:N10 : rod width|reading in mm
        O7:O10 = side play in mm
        P7:P10 = verdict
        F12 = minimum in mm
        K12 = minimum in mm
        O12 = minimum in mm
        F13 = maximum in mm
        K13 = maximum in mm
        O13 = maximum in mm
        L14 = count
        P14 = count""")
    mean(b, "Schalen", """
        A7:A11 : location
        B7:C11 : upper|wall|reading in mm
        D7:D11 = upper|wall|average in mm
        E7:F11 : lower|wall|reading in mm
        G7:G11 = lower|wall|average in mm
        H7:H11 : bore in mm
        I7:I11 = clearance in mm
        J7:J11 = clearance in mm
        K7:K11 = difference in mm
        L7:L11 = verdict""")
    mean(b, "Axial", """
        A5:A8 : location
        B5:C8 : dial|reading in mm
        D5:D8 = end play|dial travel|difference in mm
        D9 = average in mm
        D10 = verdict
        A14:A18 : location
        B14:C18 : dial|reading in mm
        D14:D18 = dial travel|range|difference|out-of-round in mm
        E14:E18 = verdict""")
    b.seed("Pleuellager", "L9", "a text typed over a formula", "shows", write={"L9": "passt"})
    b.seed("Hauptlager", "K9", NEIGHBOUR, "shows", write={"K9": "=ROUND(J9-E8,3)"}, also=ODD)
    b.seed("Hauptlager", "E10", RANGE, "latent", write={"E10": "=ROUND(AVERAGE(B10:C10),4)"}, also="something left out")
    b.seed("Pleuellager", "P8", "the limit itself refused", "shows", write={"P8": '=IF(O8<0.15,"zu eng",IF(O8<0.32,"passt","zu weit"))'})
    b.seed("Schalen", "I9", "one wall instead of two", "latent", write={"I9": "=ROUND(H9-D9-D9-Hauptlager!E9,3)"}, also=f"{NEIGHBOUR}|something left out|{ODD}")
    return b


def fiches():
    b = book("fiches", "cards in two columns", "a card of two columns on a sheet of its own for each cylinder, in French; some words twice on a card; limits on a sheet, a survey on another")
    for n in range(1, 5):
        mean(b, f"Cyl {n}", """
            B4:B9 : bore|reading in mm
            B10 = bore|average in mm
            B11 = out-of-round in mm
            B12 = taper in mm
            B13 = verdict
            B15:B16 : reading|deck clearance|number in mm
            B17 = average in mm
            B18 = verdict
            F4 : piston in mm
            F5 = clearance in mm
            F6 = verdict
            F7 : gap in mm
            F8 = least gap in mm
            F9 = to file in mm
            F10 : gap in mm
            F11 = least gap in mm
            F12 = to file in mm
            F13 = verdict
            F15 : clearance|gap|reading in mm
            F16 : shim in mm
            F17 = shim in mm
            F18 = clearance|gap|difference in mm
            F19 = verdict""")
    mean(b, "Récap", """
        A5:A8 : location
        B5:B8 = bore|average in mm
        C5:C8 = verdict
        D5:D8 = clearance in mm
        E5:E8 = verdict
        F5:F8 = verdict
        G5:G8 = average|deck clearance|reading|number in mm
        H5:H8 = verdict
        I5:I8 = shim in mm
        J5:J8 = verdict
        K5:K8 = verdict
        B10 = average in mm
        B11 = range in mm
        B12 = minimum in mm
        B13 = maximum in mm
        B14 = count
        B15 = maximum in mm
        B16 = look-up|grade
        B17 = look-up in mm|""")
    mean(b, "Tolérances", """
        C3:C5 : limit high in mm
        C8:C9 : limit high in mm
        B5 : limit low in mm
        B8:B9 : limit low in mm
        B6:B7 : factor
        B10 : nominal|target in mm
        A14:A16 : limit low|grade|reading in mm|
        B14:B16 : look-up|grade
        C14:C16 : look-up|reading|wall in mm|""")
    b.seed("Cyl 3", "F5", NEIGHBOUR, "shows", write={"F5": "=ROUND('Cyl 2'!B10-F4,3)"}, also=ODD)
    b.seed("Cyl 4", "B10", RANGE, "latent", write={"B10": "=ROUND(AVERAGE(B4:B8),3)"}, also="something left out")
    b.seed("Récap", "E8", NEIGHBOUR, "latent", write={"E8": "='Cyl 2'!F6"}, also=ODD)
    b.seed("Cyl 2", "F11", NEIGHBOUR, "shows", write={"F11": "=ROUND(B10*Tolérances!$B$6,2)"}, also="wrong or short factor|" + ODD)
    b.seed("Cyl 4", "F17", "a number typed over a formula", "latent", write={"F17": D("2.65")})
    return b


def shim_chart():
    b = book("shim-chart", "shims by code", "valve lash in inches: shims by their code, limits by kind of valve and by name, the next thinner shim; a drawer; torques with an adapter")
    mean(b, "Lash", """
        A6:A17 : location
        B6:B17 : grade|code|location
        C6:C17 : clearance|gap|reading in in
        D6:D17 : code|grade
        E6:E17 = look-up|shim in in
        F6:F17 = target in in
        G6:G17 = verdict
        H6:H17 = shim in in
        I6:I17 = code|grade|look-up
        J6:J17 = look-up|shim in in
        K6:K17 = clearance|gap|difference in in
        L6:L17 = verdict
        G19:G20 = count
        G21:G22 = average in in""")
    mean(b, "Shims", """
        A4:A18 : code|grade|location
        B4:B18 : shim|reading|look-up in in
        C4:C18 = conversion in mm
        D4:D18 : stock
        E4:E18 = needed|count
        F4:F18 = to buy|difference
        D19:F19 = total""")
    mean(b, "Specs", """
        B3:C3 : limit low in in
        B4:C4 : limit high in in
        B5:C5 : target in in""")
    mean(b, "Torque", """
        C2 : factor
        C3:C4 : reading|number in in
        A7:A14 : location|grade
        B7:B14 : torque in lbf·ft
        C7:C14 = conversion|torque in lbf·in
        D7:D14 = conversion|torque in N·m
        E7:E14 = torque|conversion|product in lbf·ft""")
    b.seed("Lash", "F15", NEIGHBOUR, "shows", write={"F15": '=IF(B15="IN",EX_TARGET,IN_TARGET)'}, also="the wrong way round|" + ODD)
    b.seed("Lash", "E8", "moving reference that should be fixed", "latent", write={"E8": "=INDEX(Shims!B6:B20,MATCH(D8,Shims!A6:A20,0))"})
    b.seed("Lash", "G10", "the limit itself refused", "shows", write={"G10": '=IF(B10="IN",IF(AND(C10>=IN_MIN,C10<IN_MAX),"leave","swap"),IF(AND(C10>=EX_MIN,C10<=EX_MAX),"leave","swap"))'})
    b.seed("Lash", "G19", RANGE, "latent", write={"G19": '=COUNTIF(G6:G16,"swap")'})
    b.seed("Torque", "D11", "a number typed over a formula", "shows", write={"D11": 58})
    return b


def pedido():
    b = book("pedido", "two tables of grades, an order", "shells in Spanish by two codes and by a key joined of two; packs, discount from a sum on, carriage and tax")
    for first, last in (6, 12), (17, 22):
        mean(b, "Selección", f"""
            A{first}:A{last} : location
            B{first}:C{last} : code
            D{first}:D{last} : journal in mm
            E{first}:E{last} : bore in mm
            F{first}:F{last} = look-up|grade
            G{first}:G{last} = wall|look-up in mm
            H{first}:H{last} = clearance in mm
            I{first}:I{last} = verdict""")
    mean(b, "Selección", """
        L3:L4 : limit low in mm
        M3:M4 : limit high in mm
        L7:L8 = count
        L9:L10 = average in mm""")
    mean(b, "Tabla", """
        C4:F4 : code|grade
        B5:B8 : code|grade
        C5:F8 : look-up|grade
        H5:H10 : code|grade
        I5:I10 : look-up|grade
        J5:J10 : wall|look-up in mm
        B13:B19 : grade
        C13:C19 : wall|look-up in mm
        D13:D19 : pack size|look-up
        E13:E19 : price|look-up
        H13:H16 : grade
        I13:I16 : pack size|look-up
        J13:J16 : price|look-up""")
    for first, last in (5, 11), (16, 19):
        mean(b, "Pedido", f"""
            A{first}:A{last} : grade|location
            B{first}:B{last} = needed|count
            C{first}:C{last} : stock
            D{first}:D{last} = to buy|difference
            E{first}:E{last} = pack size|look-up
            F{first}:F{last} = packs
            G{first}:G{last} = price|look-up
            H{first}:H{last} = cost
            B{last + 1} = total
            D{last + 1} = total
            F{last + 1} = total
            H{last + 1} = total""")
    mean(b, "Pedido", """
        H22 = total
        G23 : factor
        H23 = cost|difference
        H24 : cost
        H25 = total|cost
        G26 : factor
        H26 = cost
        H27 = total""")
    b.seed("Selección", "F9", NEIGHBOUR, "latent", write={"F9": "=INDEX(Tabla!$C$5:$F$8,MATCH(B8,Tabla!$B$5:$B$8,0),MATCH(C9,Tabla!$C$4:$F$4,0))"}, also=ODD)
    b.seed("Selección", "H12", "one wall instead of two", "shows", write={"H12": "=ROUND(E12-D12-G12,3)"}, also="something left out|wrong or short factor")
    b.seed("Selección", "I21", NEIGHBOUR, "shows", write={"I21": '=IF(AND(H21>=$L$3,H21<=$M$3),"correcto","repetir")'}, also=ODD)
    b.seed("Pedido", "F9", "rounded the wrong way", "shows", write={"F9": "=ROUNDDOWN(D9/E9,0)"})
    b.seed("Pedido", "H20", RANGE, "latent", write={"H20": "=SUM(H16:H18)"})
    return b


def bottom_end():
    b = book("bottom-end", "helpers far to the right", "a log whose helper columns stand far to the right and give 1 or 0; limits by name; a survey, and volumes with a ratio")
    mean(b, "Log", """
        A6:A13 : location
        B6:D13 : bore|reading in mm
        E6:E13 : piston in mm
        F6:G13 : gap in mm
        H6:I13 : deck clearance|reading in mm
        J6:M13 = verdict
        AA6:AA13 = bore|average in mm
        AB6:AB13 = clearance in mm
        AC6:AC13 = taper|range in mm
        AD6:AE13 = least gap in mm
        AF6:AG13 = verdict|count|number
        AH6:AH13 = deck clearance|average in mm
        AI6:AI13 = verdict|count|number
        AJ6:AJ13 = total|count|number""")
    mean(b, "Summary", """
        B3 = count
        B4:B6 = count|total
        B7 = average in mm
        B8 = minimum in mm
        B9 = maximum in mm
        B10 = maximum in mm
        B11 = range in mm
        B12 = average in mm
        A17:A24 : location
        B17:B24 : volume|reading|number in cm³
        C17:F24 = volume|product|number in cm³
        G17:G24 = ratio
        H17:H24 = verdict
        G26 = average
        H26 = range""")
    mean(b, "Limits", """
        B3 : limit low in mm
        B4 : limit high in mm
        B5:B6 : factor
        B7 : limit low in mm
        B8 : limit high in mm
        B9 : limit high|tolerance in mm
        B10 : throw|reading|number in mm
        B11 : bore|reading|number in mm
        B12 : reading|number in mm
        B13 : volume|reading|number in cm³
        B14 : limit low
        B15 : limit high""")
    b.seed("Log", "M11", "a text typed over a formula", "shows", write={"M11": "build"})
    b.seed("Log", "AE9", NEIGHBOUR, "shows", write={"AE9": "=ROUND(AA9*RG1_F,2)"}, also="wrong or short factor|" + ODD)
    b.seed("Log", "AF7", "a number typed over a formula", "latent", write={"AF7": 1})
    b.seed("Summary", "B5", RANGE, "latent", write={"B5": "=SUM(Log!AG6:AG12)"})
    b.seed("Summary", "F20", "something left out", "shows", write={"F20": "=ROUND(B20+D20+E20,2)"})
    return b


def bolt_night():
    b = book("bolt-night", "notes between the rows", "rod bolts with stretch in hundredths of a millimetre, words of the shop's own, notes and blank rows between; torques in three units; packs")
    lines = "{0}12:{0}13,{0}15:{0}16,{0}18:{0}19,{0}21:{0}22,{0}24:{0}25"
    for columns, rest in ("AB", ": location"), ("C", ": length new in mm"), ("D", ": length now in mm"), ("E", "= stretch in 0.01 mm"), ("F", "= difference in 0.01 mm"), ("GH", "= verdict"):
        for c in columns:
            for part in lines.format(c).split(","):
                mean(b, "Rods", f"{part} {rest}")
    mean(b, "Rods", """
        B3 : limit low in 0.01 mm
        B4 : limit high in 0.01 mm
        B5 : limit high in mm
        B6 : limit low in mm
        B7 : limit high in mm
        G27:G29 = count
        H29 = count
        E30 = average in 0.01 mm
        E31 = minimum in 0.01 mm
        E32 = maximum in 0.01 mm
        A37:A41 : location
        B37:B41 : pin width|reading in mm
        C37:C41 : rod width|reading in mm
        D37:D41 = side play in mm
        E37:E41 = verdict""")
    mean(b, "Crank end", """
        B3 : limit low in mm
        B4 : limit high in mm
        A8:A10 : location
        B8:C10 : dial|reading in mm
        D8:D10 = end play|dial travel|difference in mm
        D11 = average in mm
        D12 = verdict
        B15:B16 : factor
        A20:A27 : location|grade
        B20:B27 : torque in N·m
        C20:C27 = torque|conversion in lbf·ft
        D20:D27 = torque|conversion in kgf·m
        E20:E27 : angle in °
        F20:F27 = angle|conversion|number
        F28 = total""")
    mean(b, "Bits", """
        A5:A10 : location|grade
        B5 = needed|count
        B6:B10 : needed
        C5:C10 : pack size
        D5:D10 = packs
        E5:E10 = left over
        F5:F10 : price
        G5:G10 = cost
        D12 = total
        G12 = total
        G13 : cost
        G14 = total""")
    b.seed("Rods", "E19", "wrong or short factor", "shows", write={"E19": "=ROUND((D19-C19)*10,1)"}, also="decimal point moved")
    b.seed("Rods", "G13", "the limit itself refused", "latent", write={"G13": '=IF(E13<=$B$3,"rework",IF(E13<=$B$4,"passt","nope"))'})
    b.seed("Rods", "G29", RANGE, "shows", write={"G29": '=COUNTIF(G12:G24,"nope")'})
    b.seed("Rods", "E40", NEIGHBOUR, "latent", write={"E40": '=IF(D40<$B$6,"rework",IF(D40<=$B$4,"passt","nope"))'}, also=ODD)
    b.seed("Crank end", "C24", NEIGHBOUR, "shows", write={"C24": "=ROUND(B23*$B$15,1)"}, also=ODD)
    return b


BOOKS = [wellenblatt, fiches, shim_chart, pedido, bottom_end, bolt_night]

if __name__ == "__main__":
    make_all(BOOKS, os.path.join(HERE, "unseen"))
