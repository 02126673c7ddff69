"""Workbooks of what is not a bearing: grades, packs, rings, bolts, end play, deck, torques.
All of it is invented."""
from decimal import Decimal as D

from kit import Book, letter

from bearings import MM, THOU

INCH = THOU


def grades_vlookup():
    """Walls of shells by their grade, from a table on another sheet."""
    b = Book("grades-vlookup", "limits and sizes by look-up", "shells by grade with VLOOKUP, clearance from the looked-up walls")
    s, t = b.sheet("Select"), b.sheet("Grades")
    t.heads("A1", ["grade", "wall mm", "colour"])
    for r, grade, wall, colour in [(2, "P", "1.994", "grey"), (3, "Q", "1.998", "green"), (4, "R", "2.002", "brown"), (5, "S", "2.006", "white")]:
        t.put(f"A{r}", grade).one(f"B{r}", D(wall), "Grades", "wall", "mm", MM).put(f"C{r}", colour)
    s.put("A1", "Shells by grade, dredger engine (invented)", bold=True)
    s.put("A2", "clearance").one("B2", D("0.030"), "Select", "limit low", "mm", MM)
    s.put("C2", "to").one("D2", D("0.050"), "Select", "limit high", "mm", MM)
    s.put("E2", "mm")
    s.heads("A4", ["main", "bore mm", "journal mm", "upper grade", "lower grade", "upper wall mm", "lower wall mm", "clearance mm", "verdict", "upper colour"])
    grades = [("Q", "R"), ("R", "R"), ("S", "Q"), ("P", "Q"), ("R", "S"), ("Q", "Q")]
    walls = {"P": 1994, "Q": 1998, "R": 2002, "S": 2006}
    clear = [41, 36, 53, 44, 33, 47]
    bores = [66_012, 66_017, 66_021, 66_009, 66_024, 66_014]
    s.down("A", 5, [i + 1 for i in range(6)], "Select", "location")
    s.down("B", 5, [D(x) / 1000 for x in bores], "Select", "bore", "mm", MM)
    s.down("C", 5, [D(x - walls[u] - walls[w] - c) / 1000 for x, (u, w), c in zip(bores, grades, clear)], "Select", "journal", "mm", MM)
    s.down("D", 5, [g[0] for g in grades], "Select", "grade")
    s.down("E", 5, [g[1] for g in grades], "Select", "grade")
    for c, of, role in [("F", "D", "upper"), ("G", "E", "lower")]:
        s.down(c, 5, lambda r: f"=VLOOKUP({of}{r},Grades!$A$2:$C$5,2,FALSE)", "Select", role, "mm", MM, last=10)
    s.down("H", 5, lambda r: f"=B{r}-C{r}-F{r}-G{r}", "Select", "clearance", "mm", MM, last=10)
    s.down("I", 5, lambda r: f'=IF(AND(H{r}>=$B$2,H{r}<=$D$2),"OK","choose again")', "Select", "verdict", last=10, limits="0.030..0.050 mm")
    s.down("J", 5, lambda r: f"=VLOOKUP(D{r},Grades!$A$2:$C$5,3,FALSE)", "Select", "look-up", last=10)
    b.seed("Select", "F6", "look-up takes a neighbour", "latent", write={"F6": "=VLOOKUP(D6,Grades!$A$2:$C$5,2,TRUE)"})
    b.seed("Select", "G9", "range a row short or long", "shows", write={"G9": "=VLOOKUP(E9,Grades!$A$2:$C$4,2,FALSE)"})
    b.seed("Select", "G7", "neighbour's row or column", "shows", write={"G7": "=VLOOKUP(D7,Grades!$A$2:$C$5,2,FALSE)"})
    b.seed("Select", "H8", "stale stored value", "shows", stale={"H8": "0.0395"}, severity="value wrong")
    b.seed("Select", "J10", "a text typed over a formula", "shows", write={"J10": "brown"})
    return b


def grades_index():
    """A grid of block and crank codes, INDEX and MATCH, counts and packs."""
    b = Book("grades-index", "grid of codes", "shells from a grid of two codes with INDEX/MATCH; counts, packs and what they cost")
    s, g, o = b.sheet("Shells"), b.sheet("Grid"), b.sheet("Order")
    g.put("A1", "block \\ crank")
    for i, c in enumerate("123"):
        g.put(f"{letter(2 + i)}1", int(c))
    for r, (block, line) in enumerate(zip("ABC", ["black", "blue", "green"]), 2):
        g.put(f"A{r}", block)
    grid = [["pink", "black", "blue"], ["black", "blue", "green"], ["blue", "green", "green"]]
    for r, line in enumerate(grid, 2):
        for c, colour in zip("BCD", line):
            g.put(f"{c}{r}", colour)
    g.means("B2:D4", "Grid", "look-up", kind="input")
    s.put("A1", "Shells from the codes, quarry engine (invented)", bold=True)
    s.heads("A3", ["main", "block code", "crank code", "shell", "shells needed"])
    codes = [("A", 2), ("B", 2), ("B", 1), ("C", 1), ("A", 3), ("C", 3), ("B", 3)]
    s.down("A", 4, [i + 1 for i in range(7)], "Shells", "location")
    s.down("B", 4, [c[0] for c in codes], "Shells", "code")
    s.down("C", 4, [c[1] for c in codes], "Shells", "code")
    s.down("D", 4, lambda r: f"=INDEX(Grid!$B$2:$D$4,MATCH(B{r},Grid!$A$2:$A$4,0),MATCH(C{r},Grid!$B$1:$D$1,0))", "Shells", "look-up", last=10)
    s.down("E", 4, [2] * 7, "Shells", "count", "", "0")
    o.heads("A1", ["shell", "needed", "in stock", "to buy", "in a pack", "packs", "price of a pack", "cost"])
    o.down("A", 2, ["pink", "black", "blue", "green"], "Order", "grade")
    o.down("B", 2, lambda r: f"=SUMIF(Shells!$D$4:$D$10,A{r},Shells!$E$4:$E$10)", "Order", "needed", "", "0", last=5)
    o.down("C", 2, [0, 1, 0, 3], "Order", "stock", "", "0")
    o.down("D", 2, lambda r: f"=MAX(0,B{r}-C{r})", "Order", "to buy", "", "0", last=5)
    o.down("E", 2, [2, 2, 4, 4], "Order", "pack size", "", "0")
    o.down("F", 2, lambda r: f"=ROUNDUP(D{r}/E{r},0)", "Order", "packs", "", "0", last=5)
    o.down("G", 2, [D("11.40"), D("11.40"), D("19.80"), D("20.60")], "Order", "price", "", "0.00")
    o.down("H", 2, lambda r: f"=F{r}*G{r}", "Order", "cost", "", "0.00", last=5)
    o.put("A7", "total").one("H7", "=SUM(H2:H5)", "Order", "total", "", "0.00")
    b.seed("Shells", "D7", "look-up takes a neighbour", "latent", write={"D7": "=INDEX(Grid!$B$2:$D$4,MATCH(B7,Grid!$A$2:$A$4,1),MATCH(C7,Grid!$B$1:$D$1,0))"})
    b.seed("Order", "F3", "rounded the wrong way", "shows", write={"F3": "=ROUNDDOWN(D3/E3,0)"})
    b.seed("Order", "B5", "range a row short or long", "shows", write={"B5": "=SUMIF(Shells!$D$4:$D$9,A5,Shells!$E$4:$E$9)"})
    b.seed("Order", "H7", "range a row short or long", "shows", write={"H7": "=SUM(H2:H4)"})
    return b


def grades_xlookup():
    """XLOOKUP, as a library writes it, without stored values."""
    b = Book("grades-xlookup", "grades by XLOOKUP, no stored values", "shells by grade with XLOOKUP; written by a library, nothing is calculated", stored="library")
    s = b.sheet("Rods")
    s.put("A1", "Rod shells by grade, crusher engine (invented)", bold=True)
    s.heads("J3", ["grade", "wall (mm)"])
    for r, grade, wall in [(4, "L", "1.492"), (5, "M", "1.496"), (6, "N", "1.500")]:
        s.put(f"J{r}", grade).one(f"K{r}", D(wall), "Grades", "wall", "mm", MM)
    s.heads("A3", ["rod", "bore (mm)", "pin (mm)", "grade", "wall (mm)", "clearance (mm)", "verdict"])
    grades, clear, bores = ["M", "L", "N", "M"], [33, 41, 28, 55], [50_011, 50_006, 50_017, 50_013]
    walls = {"L": 1492, "M": 1496, "N": 1500}
    s.down("A", 4, [f"rod {i + 1}" for i in range(4)], "Rods", "location")
    s.down("B", 4, [D(x) / 1000 for x in bores], "Rods", "bore", "mm", MM)
    s.down("C", 4, [D(x - 2 * walls[g] - c) / 1000 for x, g, c in zip(bores, grades, clear)], "Rods", "journal", "mm", MM)
    s.down("D", 4, grades, "Rods", "grade")
    s.down("E", 4, lambda r: f'=_xlfn.XLOOKUP(D{r},$J$4:$J$6,$K$4:$K$6,"none",0)', "Rods", "wall", "mm", MM, last=7)
    s.down("F", 4, lambda r: f"=B{r}-2*E{r}-C{r}", "Rods", "clearance", "mm", MM, last=7)
    s.down("G", 4, lambda r: f'=IF(AND(F{r}>=$K$9,F{r}<=$K$10),"OK","no")', "Rods", "verdict", last=7, limits="0.020..0.050 mm")
    s.put("J9", "min (mm)").one("K9", D("0.020"), "Rods", "limit low", "mm", MM)
    s.put("J10", "max (mm)").one("K10", D("0.050"), "Rods", "limit high", "mm", MM)
    b.seed("Rods", "E6", "look-up takes a neighbour", "latent", write={"E6": '=_xlfn.XLOOKUP(D6,$J$4:$J$6,$K$4:$K$6,"none",-1)'})
    b.seed("Rods", "F5", "one wall instead of two", "shows", write={"F5": "=B5-E5-C5"})
    b.seed("Rods", "G4", "one limit not compared", "latent", write={"G4": '=IF(F4<=$K$10,"OK","no")'})
    return b


def order():
    """Pack orders with costs; a row nobody sees."""
    b = Book("order", "pack orders", "parts to buy in packs, with prices and totals")
    s = b.sheet("Buy")
    s.put("A1", "Parts for three engines (invented)", bold=True)
    s.heads("A3", ["Part", "Needed", "In stock", "Pack of", "Packs", "Bought", "Left over", "Price per pack", "Cost"])
    parts = [("main cap bolt", 30, 4, 10, "18.50"), ("rod bolt", 24, 0, 8, "22.75"), ("thrust washer", 6, 2, 2, "9.60"), ("plug, oil gallery", 15, 1, 5, "4.20"), ("dowel", 12, 0, 6, "3.90"), ("rear seal", 3, 0, 1, "14.30")]
    s.down("A", 4, [p[0] for p in parts], "Buy", "grade")
    for c, k, role in [("B", 1, "needed"), ("C", 2, "stock"), ("D", 3, "pack size")]:
        s.down(c, 4, [p[k] for p in parts], "Buy", role, "", "0")
    s.down("E", 4, lambda r: f"=ROUNDUP(MAX(0,B{r}-C{r})/D{r},0)", "Buy", "packs", "", "0", last=9)
    s.down("F", 4, lambda r: f"=E{r}*D{r}", "Buy", "bought", "", "0", last=9)
    s.down("G", 4, lambda r: f"=F{r}+C{r}-B{r}", "Buy", "left over", "", "0", last=9)
    s.down("H", 4, [D(p[4]) for p in parts], "Buy", "price", "", "0.00")
    s.down("I", 4, lambda r: f"=E{r}*H{r}", "Buy", "cost", "", "0.00", last=9)
    s.put("A10", "Total", bold=True).one("E10", "=SUM(E4:E9)", "Buy", "total", "", "0").one("I10", "=SUM(I4:I9)", "Buy", "total", "", "0.00")
    b.seed("Buy", "E5", "rounded the wrong way", "latent", write={"E5": "=ROUND(MAX(0,B5-C5)/D5,0)"})
    b.seed("Buy", "E7", "a number typed over a formula", "shows", write={"E7": 2})
    b.seed("Buy", "I10", "hidden row counts", "latent", change=lambda b: b.of("Buy").hidden_rows.append(8))
    b.seed("Buy", "E10", "range a row short or long", "shows", write={"E10": "=SUM(E4:E8)"})
    b.seed("Buy", "I6", "absolute reference copied down", "shows", write={"I6": "=E6*$H$4"})
    return b


def rings():
    """Ring gaps by a rule of so much per bore."""
    b = Book("rings", "ring gaps by rule", "top and second rings in inches, gap by the bore, what is to be filed")
    s = b.sheet("Rings")
    s.put("A1", "Ring end gaps, pulling engine (invented)", bold=True)
    s.put("A2", "top: 0.0045 in per in of bore; second: 0.0055")
    s.heads("A4", ["Cylinder", "Bore (in)", "Top gap, least (in)", "Top gap, found (in)", "Top: to file (in)", "Top OK", "Second gap, least (in)", "Second gap, found (in)", "Second: to file (in)", "Second OK"])
    bores = [D(x) for x in ("4.1260", "4.1258", "4.1263", "4.1256", "4.1261", "4.1259")]
    s.down("A", 5, [i + 1 for i in range(6)], "Rings", "location")
    s.down("B", 5, bores, "Rings", "bore", "in", INCH)
    s.down("C", 5, lambda r: f"=B{r}*0.0045", "Rings", "least gap", "in", INCH, last=10)
    s.down("D", 5, [D(x) for x in ("0.0190", "0.0175", "0.0195", "0.0192", "0.0188", "0.0180")], "Rings", "gap", "in", INCH)
    s.down("E", 5, lambda r: f"=MAX(0,C{r}-D{r})", "Rings", "to file", "in", INCH, last=10)
    s.down("F", 5, lambda r: f'=IF(D{r}>=C{r},"yes","file")', "Rings", "verdict", last=10, limits="C..")
    s.down("G", 5, lambda r: f"=B{r}*0.0055", "Rings", "least gap", "in", INCH, last=10)
    s.down("H", 5, [D(x) for x in ("0.0230", "0.0225", "0.0235", "0.0240", "0.0220", "0.0232")], "Rings", "gap", "in", INCH)
    s.down("I", 5, lambda r: f"=MAX(0,G{r}-H{r})", "Rings", "to file", "in", INCH, last=10)
    s.down("J", 5, lambda r: f'=IF(H{r}>=G{r},"yes","file")', "Rings", "verdict", last=10, limits="G..")
    b.seed("Rings", "C7", "decimal point moved", "shows", also="wrong or short factor", write={"C7": "=B7*0.045"})
    b.seed("Rings", "G8:G10", "absolute reference copied down", "shows", write={f"G{r}": "=$B$5*0.0055" for r in range(8, 11)})
    b.seed("Rings", "F9", "the limit itself refused", "latent", write={"F9": '=IF(D9>C9,"yes","file")'})
    b.seed("Rings", "J6", "no reading behind it", "shows", write={"H6": None, "I6": None, "J6": "yes"}, severity="verdict wrong")
    b.seed("Rings", "C6", "wrong or short factor", "shows", write={"C6": "=B6*0.0055"})
    b.seed("Rings", "G7", "wrong or short factor", "shows", write={"G7": "=B7*0.005"})
    return b


def stretch():
    """Bolts measured before and after, turned by an angle."""
    b = Book("stretch", "bolt stretch", "rod bolts of a pump engine: length before and after, stretch, turns")
    s = b.sheet("Bolts")
    s.put("A1", "Rod bolts, pump engine (invented)", bold=True)
    s.put("A2", "stretch allowed").one("B2", D("0.135"), "Bolts", "limit low", "mm", MM).put("C2", "to").one("D2", D("0.165"), "Bolts", "limit high", "mm", MM).put("E2", "mm")
    s.heads("A4", ["Bolt", "Free length (mm)", "Tightened (mm)", "Stretch (mm)", "Stretch (in)", "Verdict", "Angle (°)", "Turns", "Used length (mm)", "Permanent set (mm)"])
    free = [D(x) for x in ("62.412", "62.405", "62.418", "62.409", "62.421", "62.400", "62.415", "62.411")]
    grown = [D(x) for x in ("0.142", "0.151", "0.139", "0.170", "0.148", "0.155", "0.160", "0.138")]
    s.down("A", 5, [f"{i // 2 + 1}{'ab'[i % 2]}" for i in range(8)], "Bolts", "location")
    s.down("B", 5, free, "Bolts", "length new", "mm", MM)
    s.down("C", 5, [a + g for a, g in zip(free, grown)], "Bolts", "length now", "mm", MM)
    s.down("D", 5, lambda r: f"=C{r}-B{r}", "Bolts", "stretch", "mm", MM, last=12)
    s.down("E", 5, lambda r: f"=D{r}/25.4", "Bolts", "conversion", "in", "0.0000", last=12)
    s.down("F", 5, lambda r: f'=IF(D{r}<$B$2,"more",IF(D{r}>$D$2,"replace","OK"))', "Bolts", "verdict", last=12, limits="0.135..0.165 mm")
    s.down("G", 5, [D(x) for x in ("90", "90", "95", "90", "100", "90", "90", "85")], "Bolts", "angle", "°", "0")
    s.down("H", 5, lambda r: f"=G{r}/360", "Bolts", "conversion", "turn", MM, last=12)
    s.down("I", 5, [a + D(x) / 1000 for a, x in zip(free, (4, 6, 3, 21, 5, 8, 7, 2))], "Bolts", "length used", "mm", MM)
    s.down("J", 5, lambda r: f"=I{r}-B{r}", "Bolts", "stretch", "mm", MM, last=12)
    b.seed("Bolts", "D7", "nominal instead of measured", "shows", write={"D7": "=C7-62.4"})
    b.seed("Bolts", "J8", "something left out", "shows", write={"J8": "=I8"})
    b.seed("Bolts", "H9", "wrong or short factor", "shows", write={"H9": "=G9/180"})
    b.seed("Bolts", "J10", "the wrong way round", "shows", write={"J10": "=B10-I10"})
    b.seed("Bolts", "F11", "one limit not compared", "latent", write={"F11": '=IF(D11<$B$2,"more","OK")'})
    b.seed("Bolts", "E12", "inch for millimetre", "shows", write={"E12": "=D12"})
    b.seed("Bolts", "F12", "rounded before the comparison", "latent", write={"F12": '=IF(ROUND(D12,2)<$B$2,"more",IF(ROUND(D12,2)>$D$2,"replace","OK"))'})
    return b


def torques():
    """A chart of torques in four units."""
    b = Book("torques", "torque conversions", "a chart of torques in N·m, lbf·ft, lbf·in and kgf·m")
    s = b.sheet("Torques")
    s.put("A1", "Tightening chart, lighter engine (invented)", bold=True)
    s.heads("A3", ["Bolt", "Thread", "Torque", None, None, None])
    s.merged = ["C3:F3"]
    s.heads("C4", ["N·m", "lbf·ft", "lbf·in", "kgf·m"])
    chart = [("main cap", "M12", "96"), ("rod cap", "M9x1", "46"), ("flywheel", "M10", "74"), ("oil pump", "M8", "23.5"), ("sump", "M6", "9.5"), ("cam cap", "M8", "21"), ("damper", "M14x1.5", "165")]
    s.down("A", 5, [c[0] for c in chart], "Torques", "location")
    s.down("B", 5, [c[1] for c in chart], "Torques", "thread")
    s.down("C", 5, [D(c[2]) for c in chart], "Torques", "torque", "N·m", "0.0")
    s.down("D", 5, lambda r: f"=C{r}/1.3558179483", "Torques", "conversion", "lbf·ft", "0.0", last=11)
    s.down("E", 5, lambda r: f"=D{r}*12", "Torques", "conversion", "lbf·in", "0", last=11)
    s.down("F", 5, lambda r: f"=C{r}/9.80665", "Torques", "conversion", "kgf·m", "0.00", last=11)
    b.seed("Torques", "D6", "wrong or short factor", "shows", write={"D6": "=C6/1.36"})
    b.seed("Torques", "E8", "ft-lb for in-lb", "shows", write={"E8": "=D8"})
    b.seed("Torques", "F9", "wrong or short factor", "shows", write={"F9": "=C9/10"})
    b.seed("Torques", "D10", "a number typed over a formula", "shows", write={"D10": D("15.5")})
    b.seed("Torques", "D11", "neighbour's row or column", "shows", also="formula unlike its neighbours", write={"D11": "=C10/1.3558179483"})
    b.seed("Torques", "E5", "formula unlike its neighbours", "latent", write={"E5": "=C5/1.3558179483*12"})
    return b


def end_play():
    """End play by washers and by a dial; side play of rods."""
    b = Book("end-play", "end play and side play", "crank end play by sizes and by dial, rod side play, in mm")
    s = b.sheet("Play")
    s.put("A1", "Crank end play, three engines (invented)", bold=True)
    s.put("A2", "at least (mm)").one("B2", D("0.080"), "Play", "limit low", "mm", MM).put("C2", "at most (mm)").one("D2", D("0.260"), "Play", "limit high", "mm", MM)
    s.heads("A4", ["Engine", "Journal length (mm)", "Housing width (mm)", "Front washer (mm)", "Rear washer (mm)", "End play (mm)", "Verdict", "Dial, forward (mm)", "Dial, back (mm)", "Dial travel (mm)"])
    sizes = [("31.172", "26.004", "2.512", "2.491", "-0.061", "0.104"), ("31.020", "25.871", "2.488", "2.503", "0.018", "0.174"), ("31.204", "25.988", "2.507", "2.516", "-0.122", "0.073")]
    s.down("A", 5, ["engine 1", "engine 2", "engine 3"], "Play", "location")
    for k, (c, role) in enumerate(zip("BCDEHI", ["journal length", "housing width", "washer", "washer", "dial", "dial"])):
        s.down(c, 5, [D(x[k]) for x in sizes], "Play", role, "mm", MM)
    s.down("F", 5, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Play", "end play", "mm", MM, last=7)
    s.down("G", 5, lambda r: f'=IF(AND(ROUND(F{r},6)>=$B$2,ROUND(F{r},6)<=$D$2),"pass","fail")', "Play", "verdict", last=7, limits="0.080..0.260 mm")
    s.down("J", 5, lambda r: f"=ABS(I{r}-H{r})", "Play", "dial travel", "mm", MM, last=7)
    s.put("A10", "Rod side play", bold=True)
    s.heads("A11", ["Pin", "Pin width (mm)", "Rod 1 (mm)", "Rod 2 (mm)", "Side play (mm)", "Side play (in)"])
    pins = [("52.314", "25.980", "26.024"), ("52.306", "26.001", "25.995"), ("52.330", "25.991", "26.012")]
    s.down("A", 12, [1, 2, 3], "Rods", "location")
    for k, (c, role) in enumerate(zip("BCD", ["pin width", "rod width", "rod width"])):
        s.down(c, 12, [D(x[k]) for x in pins], "Rods", role, "mm", MM)
    s.down("E", 12, lambda r: f"=B{r}-C{r}-D{r}", "Rods", "side play", "mm", MM, last=14)
    s.down("F", 12, lambda r: f"=E{r}/25.4", "Rods", "conversion", "in", "0.0000", last=14)
    b.seed("Play", "F6", "something left out", "shows", write={"F6": "=B6-C6-D6"})
    b.seed("Play", "G7", "rounded before the comparison", "latent", write={"G7": '=IF(AND(ROUND(F7,1)>=$B$2,ROUND(F7,1)<=$D$2),"pass","fail")'} )
    b.seed("Play", "J7", "the wrong way round", "shows", write={"J7": "=H7-I7"})
    b.seed("Play", "E13", "something left out", "shows", write={"E13": "=B13-C13"})
    b.seed("Play", "F14", "wrong or short factor", "shows", write={"F14": "=E14/25"})
    return b


def deck():
    """How far a piston stands below the deck, with tolerances."""
    b = Book("deck", "deck stack", "deck height less throw, rod and piston; worst case and root sum of squares")
    s = b.sheet("Deck")
    s.put("A1", "Deck clearance, barge engine (invented)", bold=True)
    s.heads("A3", ["Cylinder", "Deck height (mm)", "Half stroke (mm)", "Rod length (mm)", "Pin to crown (mm)", "Below deck (mm)", "Below deck (in)"])
    sizes = [("231.052", "44.501", "144.023", "42.104"), ("230.944", "44.474", "143.981", "42.131"), ("231.011", "44.510", "144.008", "42.092"), ("230.987", "44.489", "143.996", "42.118")]
    s.down("A", 4, [1, 2, 3, 4], "Deck", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["deck", "throw", "rod length", "crown"])):
        s.down(c, 4, [D(x[k]) for x in sizes], "Deck", role, "mm", MM)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Deck", "deck clearance", "mm", MM, last=7)
    s.down("G", 4, lambda r: f"=F{r}/25.4", "Deck", "conversion", "in", "0.0000", last=7)
    s.put("A8", "least").one("F8", "=MIN(F4:F7)", "Deck", "minimum", "mm", MM)
    s.put("A9", "average").one("F9", "=AVERAGE(F4:F7)", "Deck", "average", "mm", MM)
    s.heads("A11", ["Tolerance", "± (mm)"])
    for r, word, t in [(12, "deck height", "0.050"), (13, "half stroke", "0.025"), (14, "rod length", "0.030"), (15, "pin to crown", "0.060")]:
        s.put(f"A{r}", word).one(f"B{r}", D(t), "Tolerances", "tolerance", "mm", MM)
    s.put("A16", "worst case").one("B16", "=SUM(B12:B15)", "Tolerances", "worst case", "mm", MM)
    s.put("A17", "root sum of squares").one("B17", "=SQRT(SUMSQ(B12:B15))", "Tolerances", "root sum of squares", "mm", MM)
    b.seed("Deck", "F5", "added instead of subtracted", "shows", write={"F5": "=B5-C5-D5+E5"})
    b.seed("Deck", "B16", "range a row short or long", "shows", write={"B16": "=SUM(B12:B14)"})
    b.seed("Deck", "B17", "range a row short or long", "shows", write={"B17": "=SQRT(SUMSQ(B13:B15))"})
    b.seed("Deck", "F9", "range a row short or long", "shows", write={"F9": "=AVERAGE(F4:F6)"})
    b.seed("Deck", "F6", "stale stored value", "shows", stale={"F6": "0.417"}, severity="value wrong")
    b.seed("Deck", "D7", "text where a number belongs", "shows", write={"D7": "143.996 mm", "F7": "=B7-C7-SUM(D7)-E7"})
    return b


def tug_ods():
    """An OpenDocument sheet, German."""
    b = Book("schlepper", "OpenDocument, German", "German .ods: Hauptlager mit Grenzmaßen auf eigenem Blatt, Maßkette", stored="ods")
    s, t = b.sheet("Hauptlager"), b.sheet("Grenzmaße")
    t.heads("A1", ["Maß", "von", "bis", "Einheit"])
    t.put("A2", "Lagerspiel").one("B2", D("0.030"), "Grenzmaße", "limit low", "mm", MM).one("C2", D("0.064"), "Grenzmaße", "limit high", "mm", MM).put("D2", "mm")
    s.put("A1", "Schleppermotor (erfunden)", bold=True)
    s.heads("A3", ["Lager", "Gehäusebohrung in mm", "Oberschale in mm", "Unterschale in mm", "Zapfen in mm", "Spiel in mm", "Spiel in µm", "Befund"])
    rows = b.bearings(5, 72.019, 2.495, 0.030, 0.064, outside={2: 4})
    s.down("A", 4, [i + 1 for i in range(5)], "Hauptlager", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Hauptlager", role, "mm", MM)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Hauptlager", "clearance", "mm", MM, last=8)
    s.down("G", 4, lambda r: f"=F{r}*1000", "Hauptlager", "conversion", "µm", "0", last=8)
    s.down("H", 4, lambda r: f"=IF(F{r}<'Grenzmaße'!$B$2,\"zu eng\",IF(F{r}>'Grenzmaße'!$C$2,\"zu weit\",\"gut\"))", "Hauptlager", "verdict", last=8, limits="0.030..0.064 mm")
    s.put("A9", "Mittel").one("F9", "=AVERAGE(F4:F8)", "Hauptlager", "average", "mm", "0.0000")
    s.hidden_rows = []
    b.seed("Hauptlager", "F5", "a number typed over a formula", "latent", write={"F5": rows[1][0] - rows[1][1] - rows[1][2] - rows[1][3]})
    b.seed("Hauptlager", "G7", "wrong or short factor", "shows", also="decimal point moved", write={"G7": "=F7*100"})
    b.seed("Hauptlager", "H8", "one limit not compared", "latent", write={"H8": "=IF(F8<'Grenzmaße'!$B$2,\"zu eng\",\"gut\")"})
    b.seed("Hauptlager", "F9", "range a row short or long", "shows", write={"F9": "=AVERAGE(F5:F8)"})
    return b


def pump_ods():
    """An OpenDocument sheet with names, a matrix formula, merged headings, a hidden column."""
    b = Book("pump", "OpenDocument, names and matrix formulas", "English .ods in inches: names, a matrix formula, merged headings", stored="ods")
    s = b.sheet("Rods")
    s.put("A1", "Pump engine, rods (invented)", bold=True)
    s.merged = ["A1:F1", "B3:D3"]
    s.heads("A3", ["Rod", "Sizes in inches", None, None, "Clearance", "Verdict"])
    s.heads("A4", [None, "bore", "wall", "pin", "thou", None])
    rows = b.bearings(5, 1.9690, 0.0592, 0.0010, 0.0024, places=4, outside={3: 2}, drift=4)
    s.down("A", 5, [i + 1 for i in range(5)], "Rods", "location")
    s.down("B", 5, [r[0] for r in rows], "Rods", "bore", "in", THOU)
    s.down("C", 5, [r[1] for r in rows], "Rods", "wall", "in", THOU)
    s.down("D", 5, [r[3] + r[2] - r[1] for r in rows], "Rods", "journal", "in", THOU)
    s.array("E5:E9", "=(B5:B9-2*C5:C9-D5:D9)*1000", "Rods", "clearance", "thou", "0.0")
    s.down("F", 5, lambda r: f'=IF(AND(ROUND(E{r},3)>=RodMin,ROUND(E{r},3)<=RodMax),"ok","no")', "Rods", "verdict", last=9, limits="1.0..2.4 thou")
    s.put("H5", "RodMin (thou)").one("I5", D("1.0"), "Rods", "limit low", "thou", "0.0")
    s.put("H6", "RodMax (thou)").one("I6", D("2.4"), "Rods", "limit high", "thou", "0.0")
    b.name_cell("RodMin", "Rods!$I$5")
    b.name_cell("RodMax", "Rods!$I$6")
    s.put("A11", "mean").one("E11", "=AVERAGE(E5:E9)", "Rods", "average", "thou", "0.00")
    b.seed("Rods", "F6", "the limit itself refused", "latent", write={"F6": '=IF(AND(ROUND(E6,3)>RodMin,ROUND(E6,3)<RodMax),"ok","no")'})
    b.seed("Rods", "E11", "hidden row counts", "latent", change=lambda b: b.of("Rods").hidden_rows.append(7))
    b.seed("Rods", "E5:E9", "one wall instead of two", "shows", change=lambda b: b.of("Rods").arrays.update({"E5:E9": "=(B5:B9-C5:C9-D5:D9)*1000"}))
    return b


def macro():
    """A workbook with a part for macros."""
    b = Book("macros", "workbook with macros", "mains and rings of a loader engine in an .xlsm whose macro part is inert", stored="xlsm")
    s = b.sheet("Mains")
    s.put("A1", "Loader engine (invented)", bold=True)
    s.heads("A3", ["Journal", "Bore mm", "Upper mm", "Lower mm", "Journal mm", "Clearance mm", "min", "max", "Verdict"])
    rows = b.bearings(4, 68.014, 2.246, 0.028, 0.060, outside={0: -2}, at_limit={3: lambda b, u, w, j: b - u - w - j > 0.060})
    s.down("A", 4, [f"main {i + 1}" for i in range(4)], "Mains", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Mains", role, "mm", MM)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Mains", "clearance", "mm", MM, last=7)
    s.down("G", 4, [D("0.028")] * 4, "Mains", "limit low", "mm", MM)
    s.down("H", 4, [D("0.060")] * 4, "Mains", "limit high", "mm", MM)
    s.down("I", 4, lambda r: f'=IF(AND(ROUND(F{r},4)>=G{r},ROUND(F{r},4)<=H{r}),"OK","not OK")', "Mains", "verdict", last=7, limits="0.028..0.060 mm")
    s.furnished = "I4:I7"
    t = b.sheet("Rings")
    t.heads("A1", ["Cylinder", "Bore mm", "Least gap mm", "Gap mm", "To file mm"])
    t.down("A", 2, [1, 2, 3, 4], "Rings", "location")
    t.down("B", 2, [D(x) for x in ("96.012", "96.008", "96.015", "96.010")], "Rings", "bore", "mm", MM)
    t.down("C", 2, lambda r: f"=B{r}*0.004", "Rings", "least gap", "mm", "0.00", last=5)
    t.down("D", 2, [D(x) for x in ("0.39", "0.36", "0.41", "0.38")], "Rings", "gap", "mm", "0.00")
    t.down("E", 2, lambda r: f"=MAX(0,C{r}-D{r})", "Rings", "to file", "mm", "0.00", last=5)
    b.seed("Mains", "I5", "rounded before the comparison", "latent", write={"I5": '=IF(AND(ROUND(F5,2)>=G5,ROUND(F5,2)<=H5),"OK","not OK")'})
    b.seed("Mains", "H6,I6", "no limit to judge by", "shows", write={"H6": None, "I6": "OK"}, severity="not proven")
    b.seed("Mains", "F5", "stale stored value", "shows", stale={"F5": "0.0415"}, severity="value wrong")
    b.seed("Mains", "I7", "binary floating-point residue", "shows", write={"I7": '=IF(AND(F7>=G7,F7<=H7),"OK","not OK")'})
    b.seed("Rings", "E3", "the wrong way round", "shows", write={"E3": "=MAX(0,D3-C3)"})
    b.seed("Rings", "C4", "units mixed", "shows", also="inch for millimetre", write={"C4": "=B4/25.4*0.004"})
    return b


def library_plain():
    """As a library writes it: no stored values, limits in columns."""
    b = Book("library", "no stored values", "mains with limits in columns, written by a library; nothing is calculated", stored="library")
    s = b.sheet("Sheet1")
    s.heads("A1", ["id", "bore_mm", "upper_mm", "lower_mm", "journal_mm", "clearance_mm", "low_mm", "high_mm", "verdict", "clearance_in"])
    rows = b.bearings(8, 54.011, 1.994, 0.022, 0.054, outside={5: 4})
    s.down("A", 2, [f"E7-M{i + 1}" for i in range(8)], "Sheet1", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 2, [r[k] for r in rows], "Sheet1", role, "mm", MM)
    s.down("F", 2, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Sheet1", "clearance", "mm", MM, last=9)
    s.down("G", 2, [D("0.022")] * 8, "Sheet1", "limit low", "mm", MM)
    s.down("H", 2, [D("0.054")] * 8, "Sheet1", "limit high", "mm", MM)
    s.down("I", 2, lambda r: f'=IF(OR(F{r}<G{r},F{r}>H{r}),"FAIL","PASS")', "Sheet1", "verdict", last=9, limits="G..H")
    s.down("J", 2, lambda r: f"=F{r}/25.4", "Sheet1", "conversion", "in", "0.0000", last=9)
    b.seed("Sheet1", "F4", "added instead of subtracted", "shows", write={"F4": "=B4-C4+D4-E4"})
    b.seed("Sheet1", "I6", "one limit not compared", "latent", write={"I6": '=IF(F6<G6,"FAIL","PASS")'})
    b.seed("Sheet1", "J8", "wrong or short factor", "shows", write={"J8": "=F8/25"})
    b.seed("Sheet1", "H9,I9", "no limit to judge by", "shows", write={"H9": "tbd"}, severity="not proven")
    b.seed("Sheet1", "F3", "a number typed over a formula", "latent", write={"F3": rows[1][0] - rows[1][1] - rows[1][2] - rows[1][3]})
    return b


def pistons():
    """Pistons in bores: skirt clearance in mm, bores in three heights; a µm sheet mixed in."""
    b = Book("pistons", "rows, sizes in mm and clearances in µm", "pistons in bores: skirt clearance, bore taper and out-of-round, in µm", shared=[("Bores", "G5:G10")])
    s = b.sheet("Bores")
    s.put("A1", "Cylinders and pistons, sweeper engine (invented)", bold=True)
    s.heads("A3", ["Cyl.", "Bore top (mm)", "Bore middle (mm)", "Bore bottom (mm)", "Bore middle, across (mm)", "Piston skirt (mm)", "Clearance (µm)", "Taper (µm)", "Out-of-round (µm)", "Verdict"])
    r = b.random
    middle = [84_010 + r.randint(0, 8) for _ in range(6)]
    s.down("A", 5, [1, 2, 3, 4, 5, 6], "Bores", "location")
    s.down("B", 5, [D(m + x) / 1000 for m, x in zip(middle, (3, 5, 2, 4, 6, 3))], "Bores", "reading", "mm", MM)
    s.down("C", 5, [D(m) / 1000 for m in middle], "Bores", "bore", "mm", MM)
    s.down("D", 5, [D(m - x) / 1000 for m, x in zip(middle, (2, 1, 4, 3, 2, 5))], "Bores", "reading", "mm", MM)
    s.down("E", 5, [D(m + x) / 1000 for m, x in zip(middle, (4, -3, 5, 2, -6, 3))], "Bores", "reading", "mm", MM)
    s.down("F", 5, [D(m - c) / 1000 for m, c in zip(middle, (48, 53, 41, 66, 57, 50))], "Bores", "piston", "mm", MM)
    s.down("G", 5, lambda r: f"=(C{r}-F{r})*1000", "Bores", "clearance", "µm", "0", last=10)
    s.down("H", 5, lambda r: f"=(MAX(B{r}:D{r})-MIN(B{r}:D{r}))*1000", "Bores", "taper", "µm", "0", last=10)
    s.down("I", 5, lambda r: f"=ABS(C{r}-E{r})*1000", "Bores", "out-of-round", "µm", "0", last=10)
    s.down("J", 5, lambda r: f'=IF(AND(ROUND(G{r},3)>=$M$3,ROUND(G{r},3)<=$N$3,ROUND(H{r},3)<=$N$4,ROUND(I{r},3)<=$N$5),"ok","hone")', "Bores", "verdict", last=10, limits="40..60 µm; ..10 µm; ..8 µm")
    s.heads("L2", ["limits (µm)", "min", "max"])
    s.put("L3", "clearance").one("M3", 40, "Bores", "limit low", "µm", "0").one("N3", 60, "Bores", "limit high", "µm", "0")
    s.put("L4", "taper").one("N4", 10, "Bores", "limit high", "µm", "0")
    s.put("L5", "out-of-round").one("N5", 8, "Bores", "limit high", "µm", "0")
    b.seed("Bores", "G7", "units mixed", "shows", also="another unit|decimal point moved|wrong or short factor", write={"G7": "=C7-F7"})
    b.seed("Bores", "H8", "range a row short or long", "shows", write={"H8": "=(MAX(B8:C8)-MIN(B8:C8))*1000"})
    b.seed("Bores", "J10", "one limit not compared", "latent", write={"J10": '=IF(AND(ROUND(G10,3)>=$M$3,ROUND(G10,3)<=$N$3,ROUND(H10,3)<=$N$4),"ok","hone")'})
    b.seed("Bores", "F9", "text where a number belongs", "shows", write={"F9": f"{D(middle[4] - 57) / 1000} mm", "G9": "=(C9-SUM(F9))*1000"})
    return b


def shop_semicolon():
    """A text in Windows-1252 with semicolons and decimal commas."""
    b = Book("werkstatt", "text, German", "CSV in Windows-1252, semicolons and decimal commas", stored="csv", text={"encoding": "cp1252", "separator": ";", "decimal": ","})
    s = b.sheet("werkstatt")
    s.heads("A1", ["Lager", "Bohrung [mm]", "Schale oben [mm]", "Schale unten [mm]", "Zapfen Ø [mm]", "Spiel [mm]", "min [mm]", "max [mm]", "Prüfergebnis"])
    rows = b.bearings(6, 63.015, 1.996, 0.026, 0.056, outside={4: 3})
    s.down("A", 2, [f"Lager {i + 1}" for i in range(6)], "werkstatt", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 2, [r[k] for r in rows], "werkstatt", role, "mm", MM)
    s.down("F", 2, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "werkstatt", "clearance", "mm", MM, last=7)
    s.down("G", 2, [D("0.026")] * 6, "werkstatt", "limit low", "mm", MM)
    s.down("H", 2, [D("0.056")] * 6, "werkstatt", "limit high", "mm", MM)
    s.down("I", 2, lambda r: f'=IF(ROUND(F{r},6)<G{r},"zu eng",IF(ROUND(F{r},6)>H{r},"zu weit","gut"))', "werkstatt", "verdict", last=7, limits="G..H")
    b.seed("werkstatt", "F3", "decimal point moved", "shows", write={"F3": "=(B3-C3-D3-E3)*10"})
    b.seed("werkstatt", "I5", "no reading behind it", "shows", write={"E5": None, "F5": None, "I5": "gut"}, severity="verdict wrong")
    b.seed("werkstatt", "F7", "one wall instead of two", "shows", write={"F7": "=B7-C7-E7"})
    return b


def shop_tab():
    """A text in UTF-16 with tabs."""
    b = Book("bench-notes", "text, tabs", "text in UTF-16 with tabs and a decimal point, values in inches and thou", stored="csv", text={"encoding": "utf-16-le", "mark": b"\xff\xfe", "separator": "\t", "decimal": ".", "ending": "txt"})
    s = b.sheet("bench-notes")
    s.heads("A1", ["Rod", "Bore in", "Shell in", "Pin in", "Clearance thou", "Clearance mm", "Verdict (1.0 to 2.2 thou)"])
    rows = b.bearings(5, 2.0010, 0.0600, 0.0010, 0.0022, places=4, outside={1: 2}, drift=4)
    s.down("A", 2, [i + 1 for i in range(5)], "bench-notes", "location")
    s.down("B", 2, [r[0] for r in rows], "bench-notes", "bore", "in", THOU)
    s.down("C", 2, [r[1] for r in rows], "bench-notes", "wall", "in", THOU)
    s.down("D", 2, [r[3] + r[2] - r[1] for r in rows], "bench-notes", "journal", "in", THOU)
    s.down("E", 2, lambda r: f"=(B{r}-2*C{r}-D{r})*1000", "bench-notes", "clearance", "thou", "0.0", last=6)
    s.down("F", 2, lambda r: f"=E{r}*0.0254", "bench-notes", "conversion", "mm", "0.0000", last=6)
    s.down("G", 2, lambda r: f'=IF(AND(ROUND(E{r},3)>=1,ROUND(E{r},3)<=2.2),"OK","no")', "bench-notes", "verdict", last=6, limits="1.0..2.2 thou")
    b.seed("bench-notes", "F4", "inch for millimetre", "shows", write={"F4": "=E4/1000"})
    b.seed("bench-notes", "G3", "a text typed over a formula", "shows", write={"G3": "OK"})
    b.seed("bench-notes", "E5", "one wall instead of two", "shows", write={"E5": "=(B5-C5-D5)*1000"})
    return b


def shop_commas():
    """A text in UTF-8 with commas and points."""
    b = Book("export", "text, commas", "CSV in UTF-8 with a byte order mark, commas and points, French headings", stored="csv", text={"encoding": "utf-8-sig", "separator": ",", "decimal": "."})
    s = b.sheet("export")
    s.heads("A1", ["Palier", "Alésage (mm)", "Coussinet supérieur (mm)", "Coussinet inférieur (mm)", "Tourillon (mm)", "Jeu (mm)", "Jeu (µm)", "Mini (mm)", "Maxi (mm)", "Contrôle"])
    rows = b.bearings(5, 59.013, 1.746, 0.024, 0.050, outside={3: -3})
    s.down("A", 2, [f"palier {i + 1}" for i in range(5)], "export", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 2, [r[k] for r in rows], "export", role, "mm", MM)
    s.down("F", 2, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "export", "clearance", "mm", MM, last=6)
    s.down("G", 2, lambda r: f"=F{r}*1000", "export", "conversion", "µm", "0", last=6)
    s.down("H", 2, [D("0.024")] * 5, "export", "limit low", "mm", MM)
    s.down("I", 2, [D("0.050")] * 5, "export", "limit high", "mm", MM)
    s.down("J", 2, lambda r: f'=IF(AND(ROUND(F{r},6)>=H{r},ROUND(F{r},6)<=I{r}),"conforme","non conforme")', "export", "verdict", last=6, limits="H..I")
    b.seed("export", "C4", "text where a number belongs", "shows", write={"C4": "1,751"})
    b.seed("export", "G6", "decimal point moved", "shows", write={"G6": "=F6*100"})
    b.seed("export", "F3", "nominal instead of measured", "shows", write={"F3": "=B3-1.75-1.75-E3"})
    return b


def convert_hlookup():
    """Columns with HLOOKUP, and CONVERT for units."""
    b = Book("grades-hlookup", "columns, sizes by HLOOKUP, units by CONVERT", "rods of a shunting engine side by side; walls by grade with HLOOKUP, units with CONVERT")
    s = b.sheet("Rods")
    s.put("A1", "Shunting engine, connecting rods (invented)", bold=True)
    s.put("A3", "Shell grade").put("A4", "Wall (mm)")
    for c, grade, wall in zip("CDEF", ["I", "II", "III", "IV"], ["1.990", "1.994", "1.998", "2.002"]):
        s.put(f"{c}3", grade).one(f"{c}4", D(wall), "Grades", "wall", "mm", MM)
    s.heads("A6", ["Rod", "unit", "1", "2", "3", "4"])
    bores, grades, clear = [56_014, 56_009, 56_018, 56_011], ["II", "IV", "I", "III"], [39, 34, 57, 46]
    walls = {"I": 1990, "II": 1994, "III": 1998, "IV": 2002}
    for r, word, unit in [(7, "Big end bore", "mm"), (8, "Crank pin", "mm"), (9, "Grade", ""), (10, "Wall", "mm"), (11, "Clearance", "mm"), (12, "Clearance", "in"), (13, "Clearance", "µm"), (14, "Verdict", ""), (15, "Cap bolt", "N·m"), (16, "Cap bolt", "lbf·ft")]:
        s.put(f"A{r}", word).put(f"B{r}", unit)
    s.across(7, "C", [D(x) / 1000 for x in bores], "Rods", "bore", "mm", MM)
    s.across(8, "C", [D(x - 2 * walls[g] - c) / 1000 for x, g, c in zip(bores, grades, clear)], "Rods", "journal", "mm", MM)
    s.across(9, "C", grades, "Rods", "grade")
    s.across(10, "C", lambda c: f"=HLOOKUP({c}9,$C$3:$F$4,2,FALSE)", "Rods", "wall", "mm", MM, last="F")
    s.across(11, "C", lambda c: f"={c}7-{c}8-2*{c}10", "Rods", "clearance", "mm", MM, last="F")
    s.across(12, "C", lambda c: f'=CONVERT({c}11,"mm","in")', "Rods", "conversion", "in", "0.0000", last="F")
    s.across(13, "C", lambda c: f'=CONVERT({c}11,"mm","um")', "Rods", "conversion", "µm", "0", last="F")
    s.across(14, "C", lambda c: f'=IF(OR({c}11<$C$19,{c}11>$C$20),"change","OK")', "Rods", "verdict", last="F", limits="0.028..0.052 mm")
    s.across(15, "C", [D(x) for x in ("62", "61.5", "62.5", "63")], "Rods", "torque", "N·m", "0.0")
    s.across(16, "C", lambda c: f"={c}15/1.3558179483", "Rods", "conversion", "lbf·ft", "0.0", last="F")
    s.put("A19", "smallest").put("B19", "mm").one("C19", D("0.028"), "Rods", "limit low", "mm", MM)
    s.put("A20", "largest").put("B20", "mm").one("C20", D("0.052"), "Rods", "limit high", "mm", MM)
    b.seed("Rods", "D10", "look-up takes a neighbour", "latent", write={"D10": "=HLOOKUP(D9,$C$3:$F$4,2)"})
    b.seed("Rods", "E12", "units mixed", "shows", also="decimal point moved|another unit", write={"E12": '=CONVERT(E11,"cm","in")'})
    b.seed("Rods", "F13", "wrong or short factor", "shows", also="decimal point moved", write={"F13": "=F11*100"})
    b.seed("Rods", "C16", "wrong or short factor", "shows", write={"C16": "=C15/1.4"})
    b.seed("Rods", "F14", "one limit not compared", "latent", write={"F14": '=IF(F11<$C$19,"change","OK")'})
    b.seed("Rods", "E11", "one wall instead of two", "shows", write={"E11": "=E7-E8-E10"})
    return b


def structured():
    """A table with a name, its formulas by the headings of its columns."""
    b = Book("structured", "a named table with formulas by its headings, no stored values", "mains of a tractor engine as a table; formulas name columns", stored="library")
    s = b.sheet("Mains")
    s.put("A1", "Tractor engine, mains (invented)", bold=True)
    s.heads("A3", ["Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Verdict"])
    rows = b.bearings(5, 74.012, 2.494, 0.030, 0.060, outside={3: 4})
    s.down("A", 4, [f"main {i + 1}" for i in range(5)], "Mains", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Mains", role, "mm", MM)
    this = lambda column: f"Mains[[#This Row],[{column} (mm)]]"
    s.down("F", 4, lambda r: f"={this('Bore')}-{this('Upper')}-{this('Lower')}-{this('Journal')}", "Mains", "clearance", "mm", MM, last=8)
    s.down("G", 4, lambda r: f'=IF(AND({this("Clearance")}>=$J$3,{this("Clearance")}<=$J$4),"OK","rework")', "Mains", "verdict", last=8, limits="0.030..0.060 mm")
    s.put("I3", "least (mm)").one("J3", D("0.030"), "Mains", "limit low", "mm", MM)
    s.put("I4", "most (mm)").one("J4", D("0.060"), "Mains", "limit high", "mm", MM)
    s.put("I6", "average (mm)").one("J6", "=AVERAGE(Mains[Clearance (mm)])", "Mains", "average", "mm", "0.0000")
    s.tables["Mains"] = "A3:G8"
    b.seed("Mains", "F6", "one wall instead of two", "shows", write={"F6": f"={this('Bore')}-{this('Upper')}-{this('Journal')}"})
    b.seed("Mains", "J6", "range a row short or long", "shows", write={"J6": "=AVERAGE(F4:F7)"})
    b.seed("Mains", "G8", "the limit itself refused", "latent", write={"G8": f'=IF(AND({this("Clearance")}>$J$3,{this("Clearance")}<$J$4),"OK","rework")'})
    b.seed("Mains", "F5", "a number typed over a formula", "latent", write={"F5": rows[1][0] - rows[1][1] - rows[1][2] - rows[1][3]})
    return b


BOOKS = [convert_hlookup, structured, grades_vlookup, grades_index, grades_xlookup, order, rings, stretch, torques, end_play, deck, tug_ods, pump_ods, macro, library_plain, pistons, shop_semicolon, shop_tab, shop_commas]
