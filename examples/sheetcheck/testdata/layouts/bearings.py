"""Workbooks of bearing clearances: mains and rods, in many layouts. All of it is invented."""
from decimal import Decimal as D

from kit import Book, letter, split

MM, THOU = "0.000", "0.0000"


def mains_rows():
    """Locations as rows, limits in a block above, least, most and average below."""
    b = Book("mains-rows", "rows, limits in a block", "mains of a winch engine in mm; shared formulas", shared=[("Mains", "F8:F14"), ("Mains", "G8:G14")])
    s = b.sheet("Mains")
    s.widths = {"A": 14, "C": 13, "D": 13, "F": 11}
    s.put("A1", "Winch engine 4, bottom end (invented)", bold=True)
    s.put("A2", "measured with micrometer 2 and bore gauge 1, shop at 20 °C")
    s.put("A4", "Main clearance min").one("B4", D("0.024"), "Mains", "limit low", "mm", MM)
    s.put("C4", "mm")
    s.put("A5", "Main clearance max").one("B5", D("0.058"), "Mains", "limit high", "mm", MM)
    s.put("C5", "mm")
    s.heads("A7", ["Main", "Housing bore", "Upper shell", "Lower shell", "Journal", "Clearance", "Verdict", "Clearance (in)"])
    rows = b.bearings(7, 62.012, 2.004, 0.024, 0.058, outside={3: 4})
    s.down("A", 8, [f"main {i + 1}" for i in range(7)], "Mains", "location")
    for k, (column, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(column, 8, [r[k] for r in rows], "Mains", role, "mm", MM)
    s.down("F", 8, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Mains", "clearance", "mm", MM, last=14)
    s.down("G", 8, lambda r: f'=IF(F{r}<$B$4,"tight",IF(F{r}>$B$5,"loose","OK"))', "Mains", "verdict", last=14, limits="0.024..0.058 mm")
    s.down("H", 8, lambda r: f"=F{r}/25.4", "Mains", "conversion", "in", "0.0000", last=14)
    for r, word, function, role in [(15, "Average", "AVERAGE", "average"), (16, "Smallest", "MIN", "minimum"), (17, "Largest", "MAX", "maximum")]:
        s.put(f"A{r}", word, bold=True)
        s.one(f"F{r}", f"={function}(F8:F14)", "Mains", role, "mm", "0.0000")
    b.seed("Mains", "F10", "a number typed over a formula", "latent", write={"F10": rows[2][0] - rows[2][1] - rows[2][2] - rows[2][3]})
    b.seed("Mains", "F13", "one wall instead of two", "shows", write={"F13": "=B13-C13-E13"})
    b.seed("Mains", "F15", "range a row short or long", "shows", write={"F15": "=AVERAGE(F8:F13)"})
    b.seed("Mains", "F17", "range a row short or long", "latent", write={"F17": "=MAX(F8:F13)"})
    b.seed("Mains", "H9", "wrong or short factor", "shows", write={"H9": "=F9/25"})
    return b


def mains_columns():
    """Locations as columns, units beside the headings, limits in two columns behind."""
    b = Book("mains-columns", "columns", "mains of a pump engine in mm, each location a column")
    s = b.sheet("Crank")
    s.widths = {"A": 16}
    s.put("A1", "Pump engine, crankshaft and block (invented)", bold=True)
    s.heads("A3", ["", "unit", "Main 1", "Main 2", "Main 3", "Main 4", "Main 5", "min", "max"])
    rows = b.bearings(5, 54.018, 1.986, 0.020, 0.046, outside={4: 3})
    for k, (word, role) in enumerate([("Bore of housing", "bore"), ("Shell, upper", "upper"), ("Shell, lower", "lower"), ("Main journal", "journal")]):
        s.put(f"A{4 + k}", word).put(f"B{4 + k}", "mm")
        s.across(4 + k, "C", [r[k] for r in rows], "Crank", role, "mm", MM)
    s.put("A8", "Oil clearance").put("B8", "mm")
    s.across(8, "C", lambda c: f"={c}4-{c}5-{c}6-{c}7", "Crank", "clearance", "mm", MM, last="G")
    s.one("H8", D("0.020"), "Crank", "limit low", "mm", MM)
    s.one("I8", D("0.046"), "Crank", "limit high", "mm", MM)
    s.put("A9", "Result")
    s.across(9, "C", lambda c: f'=IF(AND({c}8>=$H$8,{c}8<=$I$8),"pass","fail")', "Crank", "verdict", limits="0.020..0.046 mm", last="G")
    s.put("A10", "Oil clearance").put("B10", "thou")
    s.across(10, "C", lambda c: f"={c}8/0.0254", "Crank", "conversion", "thou", "0.00", last="G")
    s.put("A12", "Journal out of round").put("B12", "mm")
    for r, word in [(12, "Journal, 1st direction"), (13, "Journal, 90° to it")]:
        s.put(f"A{r}", word).put(f"B{r}", "mm")
    s.across(12, "C", [r[3] for r in rows], "Crank", "reading", "mm", MM)
    s.across(13, "C", [r[3] - D(x) / 1000 for r, x in zip(rows, [3, 5, 2, 4, 6])], "Crank", "reading", "mm", MM)
    s.put("A14", "Out-of-round").put("B14", "mm")
    s.across(14, "C", lambda c: f"=ABS({c}12-{c}13)", "Crank", "out-of-round", "mm", MM, last="G")
    s.one("I14", D("0.008"), "Crank", "limit high", "mm", MM)
    s.put("A15", "Round?")
    s.across(15, "C", lambda c: f'=IF({c}14<=$I$14,"pass","fail")', "Crank", "verdict", limits="..0.008 mm", last="G")
    b.seed("Crank", "E8", "formula unlike its neighbours", "latent", write={"E8": "=E4-SUM(E5:E7)"})
    b.seed("Crank", "D9", "one limit not compared", "latent", write={"D9": '=IF(D8<=$I$8,"pass","fail")'})
    b.seed("Crank", "F9", "the limit itself refused", "latent", write={"F9": '=IF(AND(F8>$H$8,F8<$I$8),"pass","fail")'})
    b.seed("Crank", "G10", "decimal point moved", "shows", also="wrong or short factor", write={"G10": "=G8/0.254"})
    b.seed("Crank", "D14:D15", "no reading behind it", "shows", write={"D12": None, "D13": None})
    b.seed("Crank", "F14", "neighbour's row or column", "shows", write={"F14": "=ABS(F12-E13)"})
    return b


def rods_inch():
    """Inches, a row of units under the headings, clearance in thou."""
    b = Book("rods-inch", "rows with a row of units", "rods of a sawmill engine in inches and thou, torque in two units")
    s = b.sheet("Rods")
    s.put("A1", "Sawmill engine, connecting rods (invented)", bold=True)
    s.heads("A3", ["Rod", "Big end bore", "Shell thickness", "Crank pin", "Clearance", "Clearance", "Within 1.2 to 2.6 thou?", "Cap bolts", "Cap bolts"])
    s.heads("A4", ["", "in", "in", "in", "thou", "mm", "", "lbf·ft", "N·m"])
    rows = b.bearings(6, 2.2510, 0.0608, 0.0012, 0.0026, places=4, outside={2: -3}, drift=4)
    s.down("A", 5, [i + 1 for i in range(6)], "Rods", "location")
    s.down("B", 5, [r[0] for r in rows], "Rods", "bore", "in", THOU)
    s.down("C", 5, [r[1] for r in rows], "Rods", "wall", "in", THOU)
    s.down("D", 5, [r[3] + r[2] - r[1] for r in rows], "Rods", "journal", "in", THOU)
    s.down("E", 5, lambda r: f"=(B{r}-2*C{r}-D{r})*1000", "Rods", "clearance", "thou", "0.0", last=10)
    s.down("F", 5, lambda r: f"=E{r}*0.0254", "Rods", "conversion", "mm", MM, last=10)
    s.down("G", 5, lambda r: f'=IF(AND(ROUND(E{r},3)>=1.2,ROUND(E{r},3)<=2.6),"OK","reject")', "Rods", "verdict", last=10, limits="1.2..2.6 thou")
    s.down("H", 5, [D(x) for x in ("38", "38.5", "37.5", "38", "39", "37")], "Rods", "torque", "lbf·ft", "0.0")
    s.down("I", 5, lambda r: f"=H{r}*1.355818", "Rods", "conversion", "N·m", "0.0", last=10)
    s.put("A12", "Mean", bold=True).one("E12", "=AVERAGE(E5:E10)", "Rods", "average", "thou", "0.00")
    b.seed("Rods", "I7", "wrong or short factor", "shows", write={"I7": "=H7*1.36"})
    b.seed("Rods", "F9", "inch for millimetre", "shows", write={"F9": "=E9/1000"})
    b.seed("Rods", "D6", "text where a number belongs", "shows", write={"D6": f"{rows[1][3] + rows[1][2] - rows[1][1]} ", "E6": "=(B6-2*C6-SUM(D6))*1000"})
    b.seed("Rods", "G8", "one limit not compared", "latent", write={"G8": '=IF(ROUND(E8,3)<=2.6,"OK","reject")'})
    b.seed("Rods", "E12", "range a row short or long", "shows", write={"E12": "=AVERAGE(E5:E9)"})
    b.seed("Rods", "E10", "one wall instead of two", "shows", write={"E10": "=(B10-C10-D10)*1000"})
    return b


def side_by_side():
    """Two tables side by side, each with its limits above."""
    b = Book("side-by-side", "two tables side by side", "mains at the left and rods at the right, in mm")
    s = b.sheet("Bearings")
    s.put("A1", "Generator set, bearings (invented)", bold=True)
    for at, word, low, high in [("A", "Mains", "0.030", "0.062"), ("J", "Rods", "0.022", "0.050")]:
        c = [letter(ord(at) - 64 + i) for i in range(8)]
        s.put(f"{at}2", word, bold=True)
        s.put(f"{at}3", "at least (mm)").one(f"{c[1]}3", D(low), word, "limit low", "mm", MM)
        s.put(f"{c[2]}3", "at most (mm)").one(f"{c[3]}3", D(high), word, "limit high", "mm", MM)
        s.heads(f"{at}5", ["No.", "Bore [mm]", "Upper [mm]", "Lower [mm]", "Journal [mm]" if at == "A" else "Pin [mm]", "Clearance [mm]", "OK?"])
        n = 7 if at == "A" else 6
        rows = b.bearings(n, *((70.020, 2.496) if at == "A" else (58.011, 1.993)), float(low), float(high), outside={1: 5} if at == "A" else {4: -2})
        s.down(at, 6, [i + 1 for i in range(n)], word, "location")
        for k, role in enumerate(["bore", "upper", "lower", "journal"]):
            s.down(c[1 + k], 6, [r[k] for r in rows], word, role, "mm", MM)
        s.down(c[5], 6, lambda r: f"={c[1]}{r}-({c[2]}{r}+{c[3]}{r})-{c[4]}{r}", word, "clearance", "mm", MM, last=5 + n)
        s.down(c[6], 6, lambda r: f'=IF(OR({c[5]}{r}<${c[1]}$3,{c[5]}{r}>${c[3]}$3),"NO","yes")', word, "verdict", last=5 + n, limits=f"{low}..{high} mm")
    s.put("A14", "average").one("F14", "=AVERAGE(F6:F12)", "Mains", "average", "mm", "0.0000")
    s.put("J14", "average").one("O14", "=AVERAGE(O6:O11)", "Rods", "average", "mm", "0.0000")
    b.seed("Bearings", "G9:G12", "moving reference that should be fixed", "either", also="formula unlike its neighbours", write={f"G{r}": f'=IF(OR(F{r}<B{r - 6},F{r}>D{r - 6}),"NO","yes")' for r in range(9, 13)})
    b.seed("Bearings", "O8", "neighbour's row or column", "shows", write={"O8": "=K8-(L8+M8)-N9"})
    b.seed("Bearings", "P9", "no reading behind it", "shows", write={"N9": None, "O9": None, "P9": "yes"}, severity="verdict wrong")
    b.seed("Bearings", "O14", "range a row short or long", "shows", write={"O14": "=AVERAGE(O6:O10)"})
    b.seed("Bearings", "F11", "added instead of subtracted", "shows", write={"F11": "=B11-(C11-D11)-E11"})
    return b


def blocks_de():
    """One table below another, German, with a row of units and a row of means each."""
    b = Book("blocks-de", "tables one below another", "German: Haupt- und Pleuellager untereinander, Einheitenzeile, Mittelwert", shared=[("Lager", "F7:F11")])
    s = b.sheet("Lager")
    s.widths = {"A": 16, "B": 12, "F": 12}
    s.put("A1", "Bootsmotor, Lagerspiele (erfunden)", bold=True)
    for top, word, n, size, low, high, pin in [(4, "Hauptlager", 5, (65.015, 2.246), "0.028", "0.060", "Wellenzapfen"), (17, "Pleuellager", 4, (50.013, 1.748), "0.018", "0.048", "Hubzapfen")]:
        s.put(f"A{top}", word, bold=True)
        s.heads(f"A{top + 1}", ["Lagerstelle", "Bohrung", "Schale oben", "Schale unten", pin, "Lagerspiel", "Urteil", "Kleinstspiel", "Größtspiel"])
        s.heads(f"A{top + 2}", [None] + ["[mm]"] * 5 + [None, "[mm]", "[mm]"])
        rows = b.bearings(n, *size, float(low), float(high), outside={2: 6})
        first, last = top + 3, top + 2 + n
        s.down("A", first, [f"{word[0]}{i + 1}" for i in range(n)], word, "location")
        for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
            s.down(c, first, [r[k] for r in rows], word, role, "mm", MM)
        s.down("F", first, lambda r: f"=B{r}-C{r}-D{r}-E{r}", word, "clearance", "mm", MM, last=last)
        s.down("G", first, lambda r: f'=IF(AND(F{r}>=H{r},F{r}<=I{r}),"i.O.","n.i.O.")', word, "verdict", last=last, limits=f"{low}..{high} mm")
        s.down("H", first, [D(low)] * n, word, "limit low", "mm", MM)
        s.down("I", first, [D(high)] * n, word, "limit high", "mm", MM)
        s.put(f"A{last + 2}", "Mittelwert").one(f"F{last + 2}", f"=AVERAGE(F{first}:F{last})", word, "average", "mm", "0.0000")
        s.put(f"A{last + 3}", "Spannweite").one(f"F{last + 3}", f"=MAX(F{first}:F{last})-MIN(F{first}:F{last})", word, "range", "mm", "0.000")
    b.seed("Lager", "F9", "a number typed over a formula", "shows", write={"F9": D("0.041")})
    b.seed("Lager", "F13", "range a row short or long", "shows", write={"F13": "=AVERAGE(F7:F10)"})
    b.seed("Lager", "G20", "the limit itself refused", "latent", write={"G20": '=IF(AND(F20>H20,F20<I20),"i.O.","n.i.O.")'})
    b.seed("Lager", "I21,G21", "no limit to judge by", "shows", write={"I21": "offen"}, severity="not proven")
    b.seed("Lager", "C23", "text where a number belongs", "shows", write={"C23": "1,752", "F23": "=B23-SUM(C23:D23)-E23"}, severity="value wrong")
    return b


def limits_sheet_fr():
    """French, the limits on another sheet, clearance in µm."""
    b = Book("limits-fr", "limits on another sheet", "French: jeux en µm, tolérances sur une autre feuille")
    s, t = b.sheet("Paliers"), b.sheet("Tolérances")
    t.heads("A1", ["Repère", "mini (µm)", "maxi (µm)"])
    for r, word, low, high in [(2, "Paliers de vilebrequin", 26, 56), (3, "Têtes de bielle", 18, 44)]:
        t.put(f"A{r}", word).one(f"B{r}", low, word, "limit low", "µm").one(f"C{r}", high, word, "limit high", "µm")
    s.put("A1", "Moteur de treuil, jeux des paliers (inventé)", bold=True)
    s.heads("A3", ["Palier", "Alésage (mm)", "Demi-coussinet sup. (mm)", "Demi-coussinet inf. (mm)", "Tourillon (mm)", "Jeu (µm)", "Verdict", "Écart au milieu (µm)"])
    rows = b.bearings(5, 58.016, 1.998, 0.026, 0.056, outside={0: 3})
    s.down("A", 4, [f"P{i + 1}" for i in range(5)], "Paliers", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Paliers", role, "mm", MM)
    s.down("F", 4, lambda r: f"=(B{r}-C{r}-D{r}-E{r})*1000", "Paliers", "clearance", "µm", "0", last=8)
    s.down("G", 4, lambda r: f"=IF(ROUND(F{r},3)<Tolérances!$B$2,\"serré\",IF(ROUND(F{r},3)>Tolérances!$C$2,\"large\",\"bon\"))", "Paliers", "verdict", last=8, limits="26..56 µm")
    s.down("H", 4, lambda r: f"=F{r}-(Tolérances!$B$2+Tolérances!$C$2)/2", "Paliers", "difference", "µm", "0.0", last=8)
    s.put("A9", "Moyenne").one("F9", "=AVERAGE(F4:F8)", "Paliers", "average", "µm", "0.0")
    s.put("A12", "Bielles", bold=True)
    s.heads("A13", ["Bielle", "Alésage (mm)", "Coussinet (mm)", "Maneton (mm)", "Jeu (µm)", "Verdict"])
    rods = b.bearings(4, 48.012, 1.498, 0.018, 0.044, outside={2: 4}, at_limit={1: lambda b, u, w, j: (b - 2 * u - (j + w - u)) * 1000 > 44 and (b - 2 * u - float(f"{j + w - u:.3f}")) * 1000 > 44})
    s.down("A", 14, [f"B{i + 1}" for i in range(4)], "Bielles", "location")
    s.down("B", 14, [r[0] for r in rods], "Bielles", "bore", "mm", MM)
    s.down("C", 14, [r[1] for r in rods], "Bielles", "wall", "mm", MM)
    s.down("D", 14, [r[3] + r[2] - r[1] for r in rods], "Bielles", "journal", "mm", MM)
    s.down("E", 14, lambda r: f"=(B{r}-2*C{r}-D{r})*1000", "Bielles", "clearance", "µm", "0", last=17)
    s.down("F", 14, lambda r: f"=IF(AND(ROUND(E{r},3)>=Tolérances!$B$3,ROUND(E{r},3)<=Tolérances!$C$3),\"bon\",\"rebut\")", "Bielles", "verdict", last=17, limits="18..44 µm")
    b.seed("Paliers", "F6", "wrong or short factor", "shows", also="decimal point moved", write={"F6": "=(B6-C6-D6-E6)*100"})
    b.seed("Paliers", "G5:G8", "moving reference that should be fixed", "either", write={f"G{r}": f"=IF(ROUND(F{r},3)<Tolérances!B{r - 2},\"serré\",IF(ROUND(F{r},3)>Tolérances!C{r - 2},\"large\",\"bon\"))" for r in range(5, 9)})
    b.seed("Paliers", "H7", "units mixed", "shows", write={"H7": "=F7/1000-(Tolérances!$B$2+Tolérances!$C$2)/2"})
    b.seed("Paliers", "F14", "rounded before the comparison", "latent", write={"F14": "=IF(AND(ROUND(E14,-1)>=Tolérances!$B$3,ROUND(E14,-1)<=Tolérances!$C$3),\"bon\",\"rebut\")"})
    b.seed("Paliers", "F15", "binary floating-point residue", "shows", write={"F15": "=IF(AND(E15>=Tolérances!$B$3,E15<=Tolérances!$C$3),\"bon\",\"rebut\")"})
    b.seed("Paliers", "F17", "one limit not compared", "latent", write={"F17": "=IF(ROUND(E17,3)>=Tolérances!$B$3,\"bon\",\"rebut\")"})
    return b


def names_es():
    """Spanish, the limits by defined name."""
    b = Book("names-es", "limits by defined name", "Spanish: holguras con límites por nombre")
    s, t = b.sheet("Bancada"), b.sheet("Datos")
    t.heads("A1", ["Dato", "Valor", "Unidad"])
    for r, word, value, name, role in [(2, "Holgura mínima", "0.022", "HolguraMin", "limit low"), (3, "Holgura máxima", "0.052", "HolguraMax", "limit high"), (4, "Conicidad máxima", "0.006", "ConicidadMax", "limit high")]:
        t.put(f"A{r}", word).one(f"B{r}", D(value), "Datos", role, "mm", MM).put(f"C{r}", "mm")
        b.name_cell(name, f"Datos!$B${r}")
    s.put("A1", "Motor de bomba, bancada (inventado)", bold=True)
    s.heads("A3", ["Apoyo", "Alojamiento (mm)", "Semicojinete superior (mm)", "Semicojinete inferior (mm)", "Muñequilla (mm)", "Holgura (mm)", "Resultado", "Ø delante (mm)", "Ø detrás (mm)", "Conicidad (mm)", "Resultado conicidad"])
    rows = b.bearings(6, 55.014, 1.745, 0.022, 0.052, outside={5: -4})
    s.down("A", 4, [f"apoyo {i + 1}" for i in range(6)], "Bancada", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Bancada", role, "mm", MM)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Bancada", "clearance", "mm", MM, last=9)
    s.down("G", 4, lambda r: f'=IF(AND(F{r}>=HolguraMin,F{r}<=HolguraMax),"conforme","no conforme")', "Bancada", "verdict", last=9, limits="0.022..0.052 mm")
    s.down("H", 4, [r[3] + D(x) / 1000 for r, x in zip(rows, (1, 2, 0, 3, 1, 2))], "Bancada", "reading", "mm", MM)
    s.down("I", 4, [r[3] - D(x) / 1000 for r, x in zip(rows, (2, 1, 3, 1, 4, 2))], "Bancada", "reading", "mm", MM)
    s.down("J", 4, lambda r: f"=MAX(H{r}:I{r})-MIN(H{r}:I{r})", "Bancada", "taper", "mm", MM, last=9)
    s.down("K", 4, lambda r: f'=IF(ROUND(J{r},6)<=ConicidadMax,"conforme","no conforme")', "Bancada", "verdict", last=9, limits="..0.006 mm")
    s.put("A10", "Media").one("F10", "=AVERAGE(F4:F9)", "Bancada", "average", "mm", "0.0000")
    b.seed("Bancada", "G5", "one limit not compared", "latent", write={"G5": '=IF(F5>=HolguraMin,"conforme","no conforme")'})
    b.seed("Bancada", "Datos!B4,K4:K9", "no limit to judge by", "shows", write={"Datos!B4": "tbd"}, severity="not proven")
    b.seed("Bancada", "F7", "nominal instead of measured", "shows", write={"F7": "=B7-C7-D7-51.48"})
    b.seed("Bancada", "J8", "something left out", "shows", write={"J8": "=H8-E8"})
    b.seed("Bancada", "G8", "rounded before the comparison", "latent", write={"G8": '=IF(AND(ROUND(F8,2)>=HolguraMin,ROUND(F8,2)<=HolguraMax),"conforme","no conforme")'})
    return b


def merged_groups():
    """Groups under merged headings; three readings along each journal; a hidden row."""
    b = Book("merged-groups", "groups under merged headings", "mains of a tug engine: bore and journal each read in several places")
    s = b.sheet("Journals")
    s.put("A1", "Tug engine, block and crank (invented)", bold=True)
    s.merged = ["B3:C3", "D3:E3", "F3:H3", "I3:L3", "A3:A4"]
    s.heads("A3", ["Main", "Housing bore (mm)", None, "Shells (mm)", None, "Journal (mm)", None, None, "Results (mm)"])
    s.heads("A4", [None, "vertical", "across", "upper", "lower", "front", "middle", "rear", "clearance", "taper", "bore out-of-round", "verdict"])
    n = 6
    rows = b.bearings(n, 80.020, 2.742, 0.034, 0.070, outside={2: 4})
    s.down("A", 5, [f"M{i + 1}" for i in range(n)], "Journals", "location")
    s.down("B", 5, [r[0] for r in rows], "Journals", "bore", "mm", MM)
    s.down("C", 5, [r[0] + D(x) / 1000 for r, x in zip(rows, (3, -2, 4, 1, 2, -3))], "Journals", "reading", "mm", MM)
    s.down("D", 5, [r[1] for r in rows], "Journals", "upper", "mm", MM)
    s.down("E", 5, [r[2] for r in rows], "Journals", "lower", "mm", MM)
    s.down("F", 5, [r[3] + D(x) / 1000 for r, x in zip(rows, (1, 2, -1, 3, 2, 1))], "Journals", "reading", "mm", MM)
    s.down("G", 5, [r[3] for r in rows], "Journals", "journal", "mm", MM)
    s.down("H", 5, [r[3] - D(x) / 1000 for r, x in zip(rows, (3, 2, 4, 1, 3, 5))], "Journals", "reading", "mm", MM)
    s.down("I", 5, lambda r: f"=B{r}-D{r}-E{r}-G{r}", "Journals", "clearance", "mm", MM, last=10)
    s.down("J", 5, lambda r: f"=MAX(F{r}:H{r})-MIN(F{r}:H{r})", "Journals", "taper", "mm", MM, last=10)
    s.down("K", 5, lambda r: f"=ABS(B{r}-C{r})", "Journals", "out-of-round", "mm", MM, last=10)
    s.down("L", 5, lambda r: f'=IF(AND(I{r}>=$C$14,I{r}<=$D$14,J{r}<=$D$15,K{r}<=$D$16),"good","rework")', "Journals", "verdict", last=10, limits="0.034..0.070 mm; ..0.010 mm; ..0.012 mm")
    s.put("A11", "mean").one("I11", "=AVERAGE(I5:I10)", "Journals", "average", "mm", "0.0000")
    s.heads("B13", ["limit", "from", "to"])
    for r, word, low, high in [(14, "clearance", "0.034", "0.070"), (15, "taper", None, "0.010"), (16, "out-of-round", None, "0.012")]:
        s.put(f"B{r}", word)
        if low:
            s.one(f"C{r}", D(low), "Journals", "limit low", "mm", MM)
        s.one(f"D{r}", D(high), "Journals", "limit high", "mm", MM)
    b.seed("Journals", "J7", "range a row short or long", "shows", write={"J7": "=MAX(F7:G7)-MIN(F7:G7)"})
    b.seed("Journals", "I11", "hidden row counts", "latent", change=lambda b: b.of("Journals").hidden_rows.append(8))
    b.seed("Journals", "L9", "the limit itself refused", "latent", write={"L9": '=IF(AND(I9>$C$14,I9<$D$14,J9<$D$15,K9<$D$16),"good","rework")'})
    b.seed("Journals", "L6", "one limit not compared", "latent", write={"L6": '=IF(AND(I6>=$C$14,I6<=$D$14,J6<=$D$15),"good","rework")'})
    b.seed("Journals", "L7", "rounded before the comparison", "shows", write={"L7": '=IF(AND(ROUND(I7,2)>=$C$14,ROUND(I7,2)<=$D$14,J7<=$D$15,K7<=$D$16),"good","rework")'})
    b.seed("Journals", "K10", "radius for diameter", "shows", write={"K10": "=ABS(B10-C10)/2"})
    return b


def arrays():
    """Array formulas entered once for a column."""
    b = Book("arrays", "array formulas", "clearances of a compressor entered as one array formula each")
    s = b.sheet("Rods")
    s.put("A1", "Compressor, rod bearings (invented)", bold=True)
    s.put("A2", "min").one("B2", D("0.020"), "Rods", "limit low", "mm", MM)
    s.put("C2", "max").one("D2", D("0.050"), "Rods", "limit high", "mm", MM)
    s.heads("A4", ["rod", "bore mm", "upper wall mm", "lower wall mm", "pin mm", "clearance mm", "verdict"])
    rows = b.bearings(6, 46.010, 1.496, 0.020, 0.050, outside={1: -3})
    s.down("A", 5, [f"rod {i + 1}" for i in range(6)], "Rods", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 5, [r[k] for r in rows], "Rods", role, "mm", MM)
    s.array("F5:F10", "=B5:B10-C5:C10-D5:D10-E5:E10", "Rods", "clearance", "mm", MM)
    s.down("G", 5, lambda r: f'=IF(F{r}<$B$2,"tight",IF(F{r}>$D$2,"loose","good"))', "Rods", "verdict", last=10, limits="0.020..0.050 mm")
    s.put("A12", "tight or loose").array("F12:F12", '=SUM(IF(F5:F10<B2,1,0)+IF(F5:F10>D2,1,0))', "Rods", "count", "", "0")
    s.put("A13", "worst from the middle, mm").array("F13:F13", "=MAX(ABS(F5:F10-(B2+D2)/2))", "Rods", "maximum", "mm", MM)
    b.seed("Rods", "F13", "range a row short or long", "either", change=lambda b: b.of("Rods").arrays.update({"F13:F13": "=MAX(ABS(F5:F9-(B2+D2)/2))"}))
    b.seed("Rods", "F5:F10", "one wall instead of two", "shows", change=lambda b: b.of("Rods").arrays.update({"F5:F10": "=B5:B10-C5:C10-C5:C10-E5:E10"}) or None)
    b.seed("Rods", "G8", "formula unlike its neighbours", "either", also="neighbour's row or column", write={"G8": '=IF(F7<$B$2,"tight",IF(F7>$D$2,"loose","good"))'})
    return b


def number_formats():
    """Units in the number formats alone: mm, µm, N·m."""
    b = Book("number-formats", "units in number formats", "a mower engine; no heading has a unit, every number format has")
    s = b.sheet("Motor")
    mm, um = '0.000" mm"', '0" µm"'
    s.put("A1", "Mower engine (invented)", bold=True)
    s.heads("A3", ["Bearing", "Bore", "Wall 1", "Wall 2", "Journal", "Clearance", "Clearance", "Verdict"])
    rows = b.bearings(4, 32.008, 1.248, 0.016, 0.040, outside={3: 3})
    s.down("A", 4, ["main front", "main rear", "rod 1", "rod 2"], "Motor", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "Motor", role, "mm", mm)
    s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Motor", "clearance", "mm", mm, last=7)
    s.down("G", 4, lambda r: f"=F{r}*1000", "Motor", "conversion", "µm", um, last=7)
    s.down("H", 4, lambda r: f'=IF(AND(G{r}>=$B$10,G{r}<=$B$11),"OK","not OK")', "Motor", "verdict", last=7, limits="16..40 µm")
    s.put("A10", "lower limit").one("B10", 16, "Motor", "limit low", "µm", um)
    s.put("A11", "upper limit").one("B11", 40, "Motor", "limit high", "µm", um)
    s.heads("A13", ["Bolt", "Torque", "Torque"])
    s.down("A", 14, ["main caps", "rod caps", "flywheel"], "Bolts", "location")
    s.down("B", 14, [D("24.5"), D("13.0"), D("61.5")], "Bolts", "torque", "N·m", '0.0" N·m"')
    s.down("C", 14, lambda r: f"=B{r}*0.737562", "Bolts", "conversion", "lbf·ft", '0.0" lbf·ft"', last=16)
    b.seed("Motor", "H5", "units mixed", "latent", also="formula unlike its neighbours", write={"H5": '=IF(AND(G5>=$B$10,F5<=$B$11),"OK","not OK")'})
    b.seed("Motor", "H7", "rounded before the comparison", "shows", write={"H7": '=IF(AND(ROUND(G7,-1)>=$B$10,ROUND(G7,-1)<=$B$11),"OK","not OK")'})
    b.seed("Motor", "G6", "wrong or short factor", "shows", also="units mixed|inch for millimetre", write={"G6": "=F6*25.4"})
    b.seed("Motor", "C15", "wrong or short factor", "shows", write={"C15": "=B15*0.75"})
    b.seed("Motor", "F4", "a number typed over a formula", "latent", write={"F4": rows[0][0] - rows[0][1] - rows[0][2] - rows[0][3]})
    return b


def protected():
    """A protected sheet: readings are free, formulas are locked."""
    b = Book("protected", "protected sheet", "mains of a press; readings free, the rest locked")
    s = b.sheet("Press")
    s.protected = True
    s.put("A1", "Press engine, mains (invented)", bold=True)
    s.put("A2", "Yellow cells are to be filled in; the rest is locked.")
    s.heads("A4", ["Main", "Bore /mm", "Shell upper /mm", "Shell lower /mm", "Journal /mm", "Clearance /mm", "min /mm", "max /mm", "Verdict"])
    rows = b.bearings(5, 90.022, 2.994, 0.040, 0.080, outside={1: 6})
    s.down("A", 5, [i + 1 for i in range(5)], "Press", "location")
    for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
        s.down(c, 5, [r[k] for r in rows], "Press", role, "mm", MM)
        s.free.update(f"{c}{r}" for r in range(5, 10))
    s.down("F", 5, lambda r: f"=B{r}-C{r}-D{r}-E{r}", "Press", "clearance", "mm", MM, last=9)
    s.down("G", 5, [D("0.040")] * 5, "Press", "limit low", "mm", MM)
    s.down("H", 5, [D("0.080")] * 5, "Press", "limit high", "mm", MM)
    s.down("I", 5, lambda r: f'=IF(F{r}<G{r},"low",IF(F{r}>H{r},"high","OK"))', "Press", "verdict", last=9, limits="0.040..0.080 mm")
    value = lambda i: rows[i][0] - rows[i][1] - rows[i][2] - rows[i][3]
    b.seed("Press", "F7", "protected cell overwritten", "latent", also="a number typed over a formula", write={"F7": value(2)})
    b.seed("Press", "F9", "protected cell overwritten", "shows", also="a number typed over a formula", write={"F9": value(4) + D("0.008")})
    b.seed("Press", "I6", "protected cell overwritten", "shows", also="a text typed over a formula", write={"I6": "OK"})
    b.seed("Press", "I8", "limits swapped", "shows", write={"I8": '=IF(F8<H8,"low",IF(F8>G8,"high","OK"))'})
    return b


def fleet():
    """One sheet for each engine, and one that brings them together."""
    b = Book("fleet", "a sheet for each engine", "three haulage engines and a summary across the sheets")
    total = b.sheet("Summary")
    for e, outside in enumerate([{1: 4}, {}, {0: -3}]):
        s = b.sheet(f"Engine {e + 1}")
        t = s.title
        s.put("A1", f"Haulage engine {e + 1} (invented)", bold=True)
        s.heads("A3", ["Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Verdict"])
        rows = b.bearings(4, 75.018, 2.495, 0.032, 0.066, outside=outside)
        s.down("A", 4, [f"main {i + 1}" for i in range(4)], t, "location")
        for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
            s.down(c, 4, [r[k] for r in rows], t, role, "mm", MM)
        s.down("F", 4, lambda r: f"=B{r}-C{r}-D{r}-E{r}", t, "clearance", "mm", MM, last=7)
        s.down("G", 4, lambda r: f'=IF(AND(F{r}>=Summary!$B$2,F{r}<=Summary!$B$3),"OK","rework")', t, "verdict", last=7, limits="0.032..0.066 mm")
    total.put("A1", "Haulage engines, main clearances (invented)", bold=True)
    total.put("A2", "at least").one("B2", D("0.032"), "Summary", "limit low", "mm", MM).put("C2", "mm")
    total.put("A3", "at most").one("B3", D("0.066"), "Summary", "limit high", "mm", MM).put("C3", "mm")
    total.heads("A5", ["Engine", "smallest (mm)", "largest (mm)", "average (mm)", "to rework", "verdict"])
    for e in range(3):
        r, t = 6 + e, f"'Engine {e + 1}'"
        total.put(f"A{r}", f"engine {e + 1}")
        total.one(f"B{r}", f"=MIN({t}!F4:F7)", "Summary", "minimum", "mm", MM)
        total.one(f"C{r}", f"=MAX({t}!F4:F7)", "Summary", "maximum", "mm", MM)
        total.one(f"D{r}", f"=AVERAGE({t}!F4:F7)", "Summary", "average", "mm", "0.0000")
        total.one(f"E{r}", f'=COUNTIF({t}!G4:G7,"rework")', "Summary", "count", "", "0")
        total.one(f"F{r}", f'=IF(AND(B{r}>=$B$2,C{r}<=$B$3),"OK","rework")', "Summary", "verdict", limits="0.032..0.066 mm")
    total.put("A9", "all").one("E9", "=SUM(E6:E8)", "Summary", "total", "", "0")
    b.seed("Summary", "C7", "formula unlike its neighbours", "shows", also="neighbour's row or column", write={"C7": "=MAX('Engine 1'!F4:F7)"})
    b.seed("Summary", "D8", "range a row short or long", "shows", write={"D8": "=AVERAGE('Engine 3'!F4:F6)"})
    b.seed("Engine 2", "F5", "stale stored value", "shows", stale={"F5": "0.0435"}, severity="value wrong")
    b.seed("Engine 3", "G6", "one limit not compared", "latent", write={"G6": '=IF(F6<=Summary!$B$3,"OK","rework")'})
    b.seed("Summary", "E9", "range a row short or long", "either", write={"E9": "=SUM(E6:E7)"})
    return b


def absolute_rows():
    """Rows, with limits found by a look-up of the kind of bearing."""
    b = Book("limits-lookup", "limits by look-up", "mains, rods and a camshaft in one table; limits looked up by kind")
    s, t = b.sheet("All"), b.sheet("Limits")
    t.heads("A1", ["kind", "low (mm)", "high (mm)"])
    for r, kind, low, high in [(2, "cam", "0.030", "0.075"), (3, "main", "0.026", "0.058"), (4, "rod", "0.018", "0.046")]:
        t.put(f"A{r}", kind).one(f"B{r}", D(low), kind, "limit low", "mm", MM).one(f"C{r}", D(high), kind, "limit high", "mm", MM)
    s.put("A1", "Hoist engine, all journals (invented)", bold=True)
    s.heads("A3", ["Place", "Kind", "Bore mm", "Upper mm", "Lower mm", "Journal mm", "Clearance mm", "low", "high", "Verdict"])
    kinds = ["main", "main", "main", "rod", "rod", "rod", "cam", "cam"]
    sizes = {"main": (60.012, 2.004, 0.026, 0.058), "rod": (51.010, 1.502, 0.018, 0.046), "cam": (44.015, 1.752, 0.030, 0.075)}
    rows = [b.bearings(1, *sizes[k], outside={0: 3} if i == 4 else None)[0] for i, k in enumerate(kinds)]
    s.down("A", 4, [f"{k} {kinds[:i].count(k) + 1}" for i, k in enumerate(kinds)], "All", "location")
    s.down("B", 4, kinds, "All", "grade")
    for k, (c, role) in enumerate(zip("CDEF", ["bore", "upper", "lower", "journal"])):
        s.down(c, 4, [r[k] for r in rows], "All", role, "mm", MM)
    s.down("G", 4, lambda r: f"=C{r}-D{r}-E{r}-F{r}", "All", "clearance", "mm", MM, last=11)
    s.down("H", 4, lambda r: f"=VLOOKUP($B{r},Limits!$A$2:$C$4,2,FALSE)", "All", "limit low", "mm", MM, last=11)
    s.down("I", 4, lambda r: f"=VLOOKUP($B{r},Limits!$A$2:$C$4,3,FALSE)", "All", "limit high", "mm", MM, last=11)
    s.down("J", 4, lambda r: f'=IF(G{r}<H{r},"tight",IF(G{r}>I{r},"loose","good"))', "All", "verdict", last=11, limits="H..I")
    b.seed("All", "H6", "look-up takes a neighbour", "latent", write={"H6": "=VLOOKUP($B6,Limits!$A$2:$C$4,2)"})
    b.seed("All", "I9", "neighbour's row or column", "shows", write={"I9": "=VLOOKUP($B9,Limits!$A$2:$C$4,2,FALSE)"})
    b.seed("All", "H8:H11", "moving reference that should be fixed", "either", write={f"H{r}": f"=VLOOKUP($B{r},Limits!A{r - 7}:C{r - 5},2,FALSE)" for r in range(8, 12)})
    b.seed("All", "G5:G7", "absolute reference copied down", "shows", write={f"G{r}": f"=C{r}-D{r}-E{r}-$F$4" for r in range(5, 8)})
    return b


def gap_rows():
    """A table with blank rows and subheadings between groups."""
    b = Book("gaps", "blank rows between groups", "mains of two banks with blank rows, notes and subtotals between", shared=[("Banks", "F5:F15")])
    s = b.sheet("Banks")
    s.put("A1", "Ferry engine, two banks (invented)", bold=True)
    s.heads("A3", ["Main", "Bore (mm)", "Upper (mm)", "Lower (mm)", "Journal (mm)", "Clearance (mm)", "Clearance (thou)", "Verdict"])
    s.put("J3", "limits").one("J4", D("0.036"), "Banks", "limit low", "mm", MM).one("J5", D("0.074"), "Banks", "limit high", "mm", MM)
    s.put("K4", "min").put("K5", "max")
    rows = b.bearings(8, 100.026, 3.246, 0.036, 0.074, outside={6: 5})
    for first, last, bank, use in [(5, 8, "port", rows[:4]), (12, 15, "starboard", rows[4:])]:
        s.put(f"A{first - 1}", f"{bank} bank", bold=True)
        s.down("A", first, [f"{bank[0].upper()}{i + 1}" for i in range(4)], bank, "location")
        for k, (c, role) in enumerate(zip("BCDE", ["bore", "upper", "lower", "journal"])):
            s.down(c, first, [r[k] for r in use], bank, role, "mm", MM)
        s.down("F", first, lambda r: f"=B{r}-C{r}-D{r}-E{r}", bank, "clearance", "mm", MM, last=last)
        s.down("G", first, lambda r: f"=F{r}/0.0254", bank, "conversion", "thou", "0.0", last=last)
        s.down("H", first, lambda r: f'=IF(F{r}<$J$4,"tight",IF(F{r}>$J$5,"loose","ok"))', bank, "verdict", last=last, limits="0.036..0.074 mm")
        s.put(f"A{last + 1}", "average").one(f"F{last + 1}", f"=AVERAGE(F{first}:F{last})", bank, "average", "mm", "0.0000")
    s.put("A18", "loose in both banks").one("F18", '=COUNTIF(H5:H8,"loose")+COUNTIF(H12:H15,"loose")', "Banks", "count", "", "0")
    b.seed("Banks", "F16", "range a row short or long", "shows", write={"F16": "=AVERAGE(F11:F14)"})
    b.seed("Banks", "G6", "units mixed", "shows", also="another unit|decimal point moved|wrong or short factor", write={"G6": "=F6/25.4"})
    b.seed("Banks", "F13:F15", "absolute reference copied down", "either", write={f"F{r}": f"=B{r}-C{r}-D{r}-E$12" for r in range(13, 16)})
    b.seed("Banks", "H7", "a text typed over a formula", "latent", write={"H7": "ok"})
    b.seed("Banks", "F9", "hidden row counts", "latent", change=lambda b: b.of("Banks").hidden_rows.append(6))
    return b


def template():
    """A form: formulas wait for readings that are not there yet, and say nothing until then."""
    b = Book("form", "a form that waits for readings", "mains of a harvester engine: four of eight rows are filled in; guarded formulas, IFERROR, signs for verdicts")
    s, t = b.sheet("Form"), b.sheet("Classes")
    t.heads("A1", ["class", "wall / mm"])
    for r, name, wall in [(2, "K1", "2.242"), (3, "K2", "2.246"), (4, "K3", "2.250")]:
        t.put(f"A{r}", name).one(f"B{r}", D(wall), "Classes", "wall", "mm", MM)
    s.put("A1", "Harvester engine, main bearings (invented)", bold=True)
    s.put("A2", "Date").put("B2", "2026-01-05").put("D2", "By").put("E2", "shop floor")
    s.put("A3", "Clearance").one("B3", D("0.032"), "Form", "limit low", "mm", MM).put("C3", "to").one("D3", D("0.068"), "Form", "limit high", "mm", MM).put("E3", "mm")
    s.heads("A5", ["Main", "Bore / mm", "Journal / mm", "Upper class", "Lower class", "Upper wall / mm", "Lower wall / mm", "Clearance / mm", "✓", "Remarks"])
    walls = {"K1": 2242, "K2": 2246, "K3": 2250}
    classes, clear, bores = [("K2", "K1"), ("K3", "K2"), ("K2", "K2"), ("K1", "K3")], [47, 61, 74, 39], [78_021, 78_017, 78_026, 78_014]
    s.down("A", 6, [f"main {i + 1}" for i in range(8)], "Form", "location")
    s.down("B", 6, [D(x) / 1000 for x in bores], "Form", "bore", "mm", MM)
    s.down("C", 6, [D(x - walls[u] - walls[w] - c) / 1000 for x, (u, w), c in zip(bores, classes, clear)], "Form", "journal", "mm", MM)
    s.down("D", 6, [c[0] for c in classes], "Form", "grade")
    s.down("E", 6, [c[1] for c in classes], "Form", "grade")
    s.down("F", 6, lambda r: f'=IFERROR(VLOOKUP(D{r},Classes!$A$2:$B$4,2,FALSE),"")', "Form", "upper", "mm", MM, last=13)
    s.down("G", 6, lambda r: f'=IFERROR(VLOOKUP(E{r},Classes!$A$2:$B$4,2,FALSE),"")', "Form", "lower", "mm", MM, last=13)
    s.down("H", 6, lambda r: f'=IF(COUNT(B{r},C{r},F{r},G{r})=4,B{r}-C{r}-F{r}-G{r},"")', "Form", "clearance", "mm", MM, last=13)
    s.down("I", 6, lambda r: f'=IF(H{r}="","",IF(AND(ROUND(H{r},6)>=$B$3,ROUND(H{r},6)<=$D$3),"✓","✗"))', "Form", "verdict", last=13, limits="0.032..0.068 mm")
    s.put("J8", "next class up, measure again")
    s.put("A15", "measured").one("B15", "=COUNT(H6:H13)", "Form", "count", "", "0")
    s.put("A16", "average / mm").one("B16", '=IF(B15=0,"",AVERAGE(H6:H13))', "Form", "average", "mm", "0.0000")
    s.put("A18", "Torque and angle: see the maker's manual.")
    b.seed("Form", "I11", "no reading behind it", "shows", write={"I11": '=IF(ROUND(N(H11),6)<=$D$3,"✓","✗")'})
    b.seed("Form", "F7", "look-up takes a neighbour", "latent", write={"F7": '=IFERROR(VLOOKUP(D7,Classes!$A$2:$B$4,2,TRUE),"")'})
    b.seed("Form", "H9", "one wall instead of two", "shows", write={"H9": '=IF(COUNT(B9,C9,F9,G9)=4,B9-C9-F9,"")'})
    b.seed("Form", "B16", "range a row short or long", "latent", write={"B16": '=IF(B15=0,"",AVERAGE(H6:H12))'})
    b.seed("Form", "I6", "a text typed over a formula", "latent", write={"I6": "✓"})
    return b


BOOKS = [template, mains_rows, mains_columns, rods_inch, side_by_side, blocks_de, limits_sheet_fr, names_es, merged_groups, arrays, number_formats, protected, fleet, absolute_rows, gap_rows]
