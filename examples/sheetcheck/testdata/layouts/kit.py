"""What the scripts beside this file make workbooks with.

A Book is written down once, as it should be. Its seeds are what is done to it in the
seeded version. Every cell that makes a claim is noted with what it means, for truth.csv.
"""
import csv
import io
import os
import random
import re
import shutil
import subprocess
import tempfile
import zipfile
from decimal import Decimal

import openpyxl
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font, PatternFill, Protection
from openpyxl.utils import column_index_from_string as index
from openpyxl.utils import get_column_letter as letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.table import Table

HERE = os.path.dirname(os.path.abspath(__file__))

LATENT_SEVERITY = "style"


def split(cell):
    m = re.fullmatch(r"([A-Z]+)([0-9]+)", cell)
    return m.group(1), int(m.group(2))


def spread(cells):
    """The cells of "F7:F12", or of several such, in order."""
    out = []
    for part in cells.split(","):
        first, _, last = part.partition(":")
        (c1, r1), (c2, r2) = split(first), split(last or first)
        out += [f"{letter(c)}{r}" for r in range(r1, r2 + 1) for c in range(index(c1), index(c2) + 1)]
    return out


class Sheet:
    def __init__(self, book, title):
        self.book, self.title = book, title
        self.cells, self.formats, self.free, self.bold = {}, {}, set(), set()
        self.merged, self.hidden_rows, self.hidden_columns, self.arrays = [], [], [], {}
        self.protected, self.widths, self.tables, self.furnished = False, {}, {}, None

    def put(self, cell, value, fmt=None, bold=False):
        if isinstance(value, Decimal):
            value = float(value)
        self.cells[cell] = value
        if fmt:
            self.formats[cell] = fmt
        if bold:
            self.bold.add(cell)
        return self

    def heads(self, cell, texts):
        """Headings from a cell on to the right."""
        c, r = split(cell)
        for i, text in enumerate(texts):
            if text is not None:
                self.put(f"{letter(index(c) + i)}{r}", text, bold=True)

    def heads_down(self, cell, texts):
        c, r = split(cell)
        for i, text in enumerate(texts):
            if text is not None:
                self.put(f"{c}{r + i}", text, bold=True)

    def means(self, cells, table, role, unit="", kind="claim", limits=""):
        """Notes what cells mean; kind is claim (something computed or judged) or input."""
        self.book.truth.append([self.title, cells, table, role, unit, kind, limits])

    def down(self, column, first, what, table, role, unit="", fmt=None, kind=None, limits="", last=None):
        """A column of values, or of formulas made by a function of the row."""
        rows = range(first, last + 1) if callable(what) else range(first, first + len(what))
        for i, r in enumerate(rows):
            self.put(f"{column}{r}", what(r) if callable(what) else what[i], fmt)
        kind = kind or ("claim" if callable(what) else "input")
        self.means(f"{column}{rows[0]}:{column}{rows[-1]}", table, role, unit, kind, limits)

    def across(self, row, first, what, table, role, unit="", fmt=None, kind=None, limits="", last=None):
        """The same along a row; the function is of the column's letters."""
        start = index(first)
        columns = [letter(c) for c in (range(start, index(last) + 1) if callable(what) else range(start, start + len(what)))]
        for i, c in enumerate(columns):
            self.put(f"{c}{row}", what(c) if callable(what) else what[i], fmt)
        kind = kind or ("claim" if callable(what) else "input")
        self.means(f"{columns[0]}{row}:{columns[-1]}{row}", table, role, unit, kind, limits)

    def one(self, cell, value, table, role, unit="", fmt=None, kind=None, limits=""):
        self.put(cell, value, fmt)
        formula = isinstance(value, str) and value.startswith("=")
        self.means(cell, table, role, unit, kind or ("claim" if formula else "input"), limits)
        return self

    def array(self, ref, formula, table, role, unit="", fmt=None):
        for c in spread(ref):
            self.cells[c] = None
            if fmt:
                self.formats[c] = fmt
        self.arrays[ref] = formula
        self.means(ref, table, role, unit)


class Seed:
    def __init__(self, sheet, cells, mistake, shows, write=None, stale=None, change=None, severity=None, also=""):
        self.sheet, self.mistake, self.shows, self.also = sheet, mistake, shows, also
        self.cells = []  # (sheet, cell), the root first
        for part in cells.split(","):
            title, _, area = part.rpartition("!")
            self.cells += [(title or sheet, c) for c in spread(area)]
        self.write, self.stale, self.change, self.severity = write or {}, stale or {}, change, severity


class Book:
    """One workbook. stored is how: "xlsx", "ods" and "xlsm" are calculated and stored by an
    office program; "library" is an .xlsx as libraries write it, without stored values; "csv"
    has values alone, written as text says."""

    def __init__(self, name, layout, says, stored="xlsx", text=None, shared=()):
        self.name, self.layout, self.says, self.stored, self.text, self.shared = name, layout, says, stored, text, shared
        self.sheets, self.names, self.truth, self.seeds = [], {}, [], []
        self.random = random.Random(name)

    @property
    def ending(self):
        return {"library": "xlsx", "csv": (self.text or {}).get("ending", "csv")}.get(self.stored, self.stored)

    def file(self, wrong):
        return f"{self.name}{'.seeded' if wrong else ''}.{self.ending}"

    def sheet(self, title):
        s = Sheet(self, title)
        self.sheets.append(s)
        return s

    def of(self, title):
        return next(s for s in self.sheets if s.title == title)

    def name_cell(self, name, ref):
        self.names[name] = ref

    def seed(self, sheet, cells, mistake, shows, **rest):
        """shows is "shows", "latent", or "either": then what the cells hold decides. It is "whole"
        for a fault of a whole column, of which no cell beside it shows what is right: that is
        reported as latent, whatever the cells hold."""
        self.seeds.append(Seed(sheet, cells, mistake, shows, **rest))

    def spoil(self):
        for s in self.seeds:
            sheet = self.of(s.sheet)
            for cell, value in s.write.items():
                where = sheet
                if "!" in cell:
                    title, cell = cell.split("!")
                    where = self.of(title)
                where.put(cell, value)
            if s.change:
                s.change(self)

    def bearings(self, n, bore, wall, low, high, places=3, outside=None, drift=9, at_limit=None):
        """Sizes of n bearings in units of their last place, as texts: bore, upper, lower,
        journal. No clearance is nearer than two units to a limit. outside says by how
        much some of them lie beyond the upper limit, or below the lower one; at_limit says
        of which the clearance is the upper limit itself and what its binary numbers must do."""
        scale = 10**places
        r = self.random
        rows = []
        for i in range(n):
            lo, hi = round(low * scale), round(high * scale)
            holds = (at_limit or {}).get(i)
            while True:
                b = round(bore * scale) + r.randint(0, 2 * drift)
                u, w = (round(wall * scale) + r.randint(0, drift) for _ in range(2))
                beyond = (outside or {}).get(i, 0)
                c = hi + beyond if beyond > 0 else lo + beyond if beyond < 0 else hi if holds else r.randint(lo + 2, hi - 2)
                row = [Decimal(x) / scale for x in (b, u, w, b - u - w - c)]
                if not holds or holds(*map(float, row)):
                    break
            rows.append(row)
        return rows

    def near(self, n, size, places, drift):
        scale = 10**places
        return [Decimal(round(size * scale) + self.random.randint(-drift, drift)) / scale for _ in range(n)]


# How a book becomes a file.


def openpyxl_book(book):
    out = openpyxl.Workbook()
    out.remove(out.active)
    for s in book.sheets:
        ws = out.create_sheet(s.title)
        for cell, value in s.cells.items():
            if value is None:
                continue
            c = ws[cell]
            c.value = value
            if isinstance(value, str) and not value.startswith("=") and value:
                c.data_type = "s"
            if cell in s.bold:
                c.font = Font(bold=True)
        for ref, formula in s.arrays.items():
            at = ref.split(":")[0]
            ws[at] = formula
            ws.formula_attributes[at] = {"t": "array", "ref": ref}
        for cell, fmt in s.formats.items():
            ws[cell].number_format = fmt
        for cell in s.free:
            ws[cell].protection = Protection(locked=False)
            ws[cell].fill = PatternFill("solid", fgColor="FFF2CC")
        for ref in s.merged:
            ws.merge_cells(ref)
            ws[ref.split(":")[0]].alignment = Alignment(horizontal="center")
        for r in s.hidden_rows:
            ws.row_dimensions[r].hidden = True
        for c in s.hidden_columns:
            ws.column_dimensions[c].hidden = True
        longest = {}
        for cell in s.bold:
            c, r = split(cell)
            if r > 2 and not any(cell in spread(m) for m in s.merged):
                longest[c] = max(longest.get(c, 0), len(str(s.cells[cell])))
        for c, n in longest.items():
            ws.column_dimensions[c].width = max(11, min(n + 2, 26))
        for c, w in s.widths.items():
            ws.column_dimensions[c].width = w
        ws.protection.sheet = s.protected
        for name, ref in s.tables.items():
            ws.add_table(Table(displayName=name, ref=ref))
        if s.furnished:
            furnish(ws, s.furnished)
    for name, ref in book.names.items():
        out.defined_names.append(DefinedName(name, attr_text=ref))
    return out


def furnish(ws, verdicts):
    """Puts in what a copy of the workbook must keep: a comment, a rule for typing, a format
    that depends on the value, a chart."""
    ws["A3"].comment = Comment("as stamped on the block", "the shop")
    rule = DataValidation(type="decimal", operator="between", formula1="1", formula2="200")
    rule.add("B4:E7")
    ws.add_data_validation(rule)
    ws.conditional_formatting.add(verdicts, FormulaRule(formula=[f'{verdicts.split(":")[0]}="not OK"'], fill=PatternFill("solid", bgColor="F4B6B6")))
    chart = BarChart()
    chart.title = "clearance, mm"
    chart.add_data(Reference(ws, min_col=6, min_row=3, max_row=7), titles_from_data=True)
    ws.add_chart(chart, "A10")


def office(files, ending, out):
    """Has the office program open files, calculate them and store them anew."""
    if not files:
        return
    kind = {"xlsx": "xlsx:Calc MS Excel 2007 XML", "ods": "ods"}[ending]
    with tempfile.TemporaryDirectory() as profile:
        subprocess.run(["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{profile}",
                        "--convert-to", kind, "--outdir", out, *files], check=True, capture_output=True)


EPOCH = (2026, 1, 5, 8, 0, 0)


def repack(path, change):
    """Writes an archive again with set times, and each part as change says: None drops it."""
    with zipfile.ZipFile(path) as z:
        items = [(i.filename, z.read(i)) for i in z.infolist()]
    extra = []
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as z:
        for name, data in items:
            data = change(name, data, extra)
            if data is not None:
                write(z, name, data)
        for name, data in extra:
            write(z, name, data)


def write(z, name, data):
    info = zipfile.ZipInfo(name, EPOCH)
    info.compress_type = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
    z.writestr(info, data, compresslevel=9)


STAMP = "2026-01-05T08:00:00"


def clean(name, data):
    """Takes out who wrote a file, with what and when."""
    if name == "docProps/app.xml":
        return re.sub(rb"<(Application|AppVersion|Template|TotalTime)[^>]*>.*?</\1>|<Template/>", b"", data)
    if name == "docProps/core.xml":
        data = re.sub(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*", rb"\g<1>" + STAMP.encode() + b"Z", data)
        return re.sub(rb"<(dc:creator|cp:lastModifiedBy|creator)\b[^>]*>[^<]*</\1>", b"", data)
    if name == "meta.xml":
        data = re.sub(rb"<(meta:generator|meta:editing-duration|dc:creator|meta:initial-creator)>[^<]*</\1>", b"", data)
        return re.sub(rb"(<(?:meta:creation-date|dc:date)>)[^<]*", rb"\g<1>" + STAMP.encode(), data)
    if name.startswith("xl/"):
        return data.replace(b"Calibri", b"Sans")
    if name.startswith(("Thumbnails/", "Configurations2/")):
        return None
    if name == "META-INF/manifest.xml":
        return re.sub(rb'\s*<manifest:file-entry manifest:full-path="(Thumbnails|Configurations2)/[^>]*/>', b"", data)
    return data


# An inert part in place of macros: no project, so that nothing can run.
MACROS = b"inert: a test looks whether this part is left alone\n" * 4


def finish(book, path, wrong):
    """Takes names and times out of a stored file, and does what no library writes."""
    stale = {}
    if wrong:
        for s in book.seeds:
            stale.update({(book.sheets.index(book.of(s.sheet)), c): v for c, v in s.stale.items()})

    def change(name, data, extra):
        data = clean(name, data)
        sheet = re.fullmatch(r"xl/worksheets/sheet(\d+)\.xml", name)
        if sheet:
            i = int(sheet.group(1)) - 1
            for (j, cell), value in stale.items():
                if i == j:
                    pattern = rf'(<c r="{cell}"[^>]*>(?:<f[^>]*>[^<]*</f>)?<v>)[^<]*(</v>)'
                    data, n = re.subn(pattern.encode(), lambda m: m.group(1) + str(value).encode() + m.group(2), data)
                    assert n == 1, (path, cell)
            for group, (title, ref) in enumerate(book.shared):
                if book.sheets.index(book.of(title)) == i:
                    data = share(data, ref, group)
        if name == "content.xml":
            for (j, cell), value in stale.items():
                raise AssertionError("no stale values in an OpenDocument sheet here")
        if book.stored == "xlsm":
            if name == "[Content_Types].xml":
                data = data.replace(b"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml", b"application/vnd.ms-excel.sheet.macroEnabled.main+xml")
                data = data.replace(b"</Types>", b'<Override PartName="/xl/vbaProject.bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>')
            if name == "xl/_rels/workbook.xml.rels":
                data = data.replace(b"</Relationships>", b'<Relationship Id="rIdMacros" Type="http://schemas.microsoft.com/office/2006/relationships/vbaProject" Target="vbaProject.bin"/></Relationships>')
                extra.append(("xl/vbaProject.bin", MACROS))
        return data

    repack(path, change)


def share(data, ref, group):
    """Stores the formulas of a column or row as most office programs do: once, for all that
    read alike; a formula that reads otherwise stays as it is."""
    from openpyxl.formula.translate import Translator
    cells = spread(ref)
    found = {c: re.search(rf'<c r="{c}"[^>]*><f[^>]*>([^<]*)</f>'.encode(), data) for c in cells}
    first = next(c for c in cells if found[c])
    text = found[first].group(1).decode()
    unescape = lambda t: t.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", '"').replace("&amp;", "&")
    for c in cells:
        if not found[c]:
            continue
        same = Translator("=" + unescape(text), first).translate_formula(c)[1:] == unescape(found[c].group(1).decode())
        if not same:
            continue
        new = f'<f t="shared" ref="{ref}" si="{group}">{text}</f>' if c == first else f'<f t="shared" si="{group}"/>'
        data = re.sub(rf'(<c r="{c}"[^>]*>)<f[^>]*>[^<]*</f>'.encode(), lambda m: m.group(1) + new.encode(), data)
    return data


def plain_number(value, decimal, places=None):
    text = f"{value:.{places}f}" if places is not None else repr(value)
    return text.replace(".", decimal)


def write_text(book, path, values):
    """Writes the first sheet's values as text. A number is written as its format shows it."""
    s, t = book.sheets[0], book.text
    last_row = max(split(c)[1] for c in s.cells)
    last_column = max(index(split(c)[0]) for c in s.cells)
    out = io.StringIO()
    w = csv.writer(out, delimiter=t["separator"], lineterminator=t.get("newline", "\r\n"))
    for r in range(1, last_row + 1):
        row = []
        for c in range(1, last_column + 1):
            cell = f"{letter(c)}{r}"
            value = values.get(cell)
            if isinstance(value, bool) or value is None:
                row.append("" if value is None else str(value).upper())
            elif isinstance(value, (int, float)):
                m = re.match(r"0\.(0+)", s.formats.get(cell, ""))
                places = len(m.group(1)) if m else 0 if float(value).is_integer() else None
                row.append(plain_number(float(value), t["decimal"], places))
            else:
                row.append(str(value))
        w.writerow(row)
    data = out.getvalue().encode(t["encoding"])
    with open(path, "wb") as f:
        f.write(t.get("mark", b"") + data)


# What a formula stands on, to know what follows from a seed.

REFERENCE = re.compile(r"(?:(?:'([^']+)'|([A-Za-z_][\w]*))!)?\$?([A-Z]{1,2})\$?(\d+)(?::\$?([A-Z]{1,2})\$?(\d+))?(?![\w(])")


def inputs(book, sheet, cell):
    s = book.of(sheet)
    value = s.cells.get(cell)
    for ref, formula in s.arrays.items():
        if cell in spread(ref):
            value = formula
    if not isinstance(value, str) or not value.startswith("="):
        return set()
    value = re.sub(r'"[^"]*"', '""', value)
    for ref in s.tables.values():
        (first, top), (last, bottom) = map(split, ref.split(":"))
        heads = {s.cells[f"{letter(c)}{top}"]: letter(c) for c in range(index(first), index(last) + 1)}
        value = re.sub(r"\w+\[\[#This Row\],\[([^\]]*)\]\]", lambda m: f"{heads[m[1]]}{split(cell)[1]}", value)
        value = re.sub(r"\w+\[([^\]]*)\]", lambda m: f"{heads[m[1]]}{top + 1}:{heads[m[1]]}{bottom}", value)
    for name, ref in book.names.items():
        value = re.sub(rf"\b{name}\b", ref, value)
    found = set()
    for quoted, bare, c1, r1, c2, r2 in REFERENCE.findall(value):
        title = quoted or bare or sheet
        for c in spread(f"{c1}{r1}:{c2 or c1}{r2 or r1}"):
            found.add((title, c))
    return found


def roots(book, sheet, cell, seeded):
    seen, todo, hit = set(), [(sheet, cell)], []
    while todo:
        for on in inputs(book, *todo.pop()):
            if on in seen:
                continue
            seen.add(on)
            if on in seeded:
                hit.append(on)
            else:
                todo.append(on)
    return sorted(hit)


def values(path):
    """The stored values, by sheet and cell."""
    book = openpyxl.load_workbook(path, data_only=True)
    return {ws.title: {c.coordinate: c.value for row in ws.iter_rows() for c in row} for ws in book}


def same(a, b):
    if isinstance(a, (int, float)) and isinstance(b, (int, float)) and not isinstance(a, bool) and not isinstance(b, bool):
        return abs(a - b) < 1e-9
    return (a or "") == (b or "")


def seed_rows(book, right, wrong):
    """Rows of seeds.csv, from what the right and the seeded version hold. book is spoilt."""
    roles = {}
    for sheet, cells, _, role, _, _, _ in book.truth:
        for c in spread(cells):
            roles[sheet, c] = role
    seeded, rows = {}, []
    everything = {at for s in book.seeds for at in s.cells}
    wrongly = []
    for number, s in enumerate(book.seeds, 1):
        shown = 0
        for t, c in s.cells:
            changed = not same(right[t].get(c), wrong[t].get(c)) or c in s.stale
            shows = {"shows": True, "latent": False, "either": changed, "whole": False}[s.shows]
            if s.shows == "latent" and changed and not roots(book, t, c, everything - {(t, c)}):
                wrongly.append((book.name, t, c, s.mistake, "shows", right[t].get(c), wrong[t].get(c)))
            shown += changed
            severity = s.severity or ("verdict wrong" if roles.get((t, c)) == "verdict" else "value wrong")
            rows.append([book.file(True), t, c, severity if shows else LATENT_SEVERITY, s.mistake, "shows" if shows else "latent", number, s.also, ""])
            seeded[t, c] = s
        if s.shows == "shows" and not shown and not s.severity:
            wrongly.append((book.name, s.cells, s.mistake, "does not show"))
    for s in book.sheets:
        claims = {c for sheet, cells, _, _, _, kind, _ in book.truth if sheet == s.title and kind == "claim" for c in spread(cells)}
        for c in sorted(claims, key=lambda c: (split(c)[1], index(split(c)[0]))):
            if (s.title, c) in seeded or wrong[s.title].get(c) is None or same(right[s.title].get(c), wrong[s.title].get(c)):
                continue
            came = roots(book, s.title, c, seeded)
            if not came:
                wrongly.append((book.name, s.title, c, "changed without a seed", right[s.title].get(c), wrong[s.title].get(c)))
            severity = "verdict wrong" if roles.get((s.title, c)) == "verdict" else "value wrong"
            rows.append([book.file(True), s.title, c, severity, "follows from a wrong value", "follows", "", "", " ".join(f"{t}!{x}" for t, x in came)])
    return rows, wrongly
