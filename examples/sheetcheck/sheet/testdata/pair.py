#!/usr/bin/python3
"""Makes pair.xlsx and pair.ods: one workbook, stored by an office program in both forms.

    /usr/bin/python3 pair.py

It needs Debian's libreoffice-calc and python3-openpyxl. What is in it is invented.
"""
import datetime
import os
import shutil
import sys
import tempfile

import openpyxl
from openpyxl.styles import Protection
from openpyxl.workbook.defined_name import DefinedName

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "../../testdata/layouts"))
from kit import clean, office, repack  # noqa: E402


def main():
    book = openpyxl.Workbook()
    ws = book.active
    ws.title = "Main's; 1"
    limits = book.create_sheet("Limits")
    limits["A1"], limits["B1"], limits["B2"] = "clearance", 0.024, 0.058
    limits["B1"].number_format = limits["B2"].number_format = '0.000" mm"'
    limits.sheet_state = "hidden"
    ws["A1"] = "merged over three"
    ws.merge_cells("A1:C1")
    ws["E1"] = 'a "quoted"; text | with [marks]'
    for r, row in enumerate([(60.012, 2.004, 55.971), (60.007, 2.003, 55.962), (60.016, 2.005, 55.974), (60.016, 2.005, 55.974), (60.016, 2.005, 55.974)], 3):
        for c, x in zip("BCD", row):
            ws[f"{c}{r}"] = x
            ws[f"{c}{r}"].number_format = "0.000"
            ws[f"{c}{r}"].protection = Protection(locked=False)
        ws[f"E{r}"] = f"=B{r}-2*C{r}-D{r}"
        ws[f"E{r}"].number_format = '0.0000" mm"'
        ws[f"F{r}"] = f'=IF(AND(E{r}>=Limits!$B$1,E{r}<=Limits!$B$2),"OK; yes","""no"" | [x]")'
    ws["H3"] = "=B3:B7-D3:D7"
    ws.formula_attributes["H3"] = {"t": "array", "ref": "H3:H7"}
    ws["A10"], ws["B10"] = "sum", "=SUM(B3:B7,D3:D7)"
    ws["B11"] = "=SUM({1,2;3,4})"
    ws["B12"] = "=1/0"
    ws["B13"] = "=VLOOKUP(99,B3:C7,2,FALSE)"
    ws["B14"], ws["C14"] = True, "=B14"
    ws["B15"] = datetime.date(2026, 11, 26)
    ws["B16"] = 0.125
    ws["B16"].number_format = "0.0%"
    ws["B17"] = "=ClearanceMax-ClearanceMin"
    ws["B18"] = "=SUM(Limits!B1:B2)"
    ws["B19"] = '=IF(B3>0,"",1)'
    ws["B20"] = "2.004"
    ws["B20"].data_type = "s"
    ws["B21"] = "text with  two blanks\nand a line"
    ws["B22"] = "=SUM(D:D)+COUNT(3:3)"
    ws["B23"] = "='Main''s; 1'!B3"
    ws["B24"] = 45
    ws["B24"].number_format = '0" µm"'
    ws["B25"] = 98.1
    ws["B25"].number_format = '0.0\\ "N·m"'
    ws["B26"] = 1.5e-7
    ws["B26"].number_format = "0.00E+00"
    ws.row_dimensions[5].hidden = True
    ws.column_dimensions["G"].hidden = True
    ws.protection.sheet = True
    book.defined_names.append(DefinedName("ClearanceMin", attr_text="Limits!$B$1"))
    book.defined_names.append(DefinedName("ClearanceMax", attr_text="Limits!$B$2"))
    book.defined_names.append(DefinedName("Factor", attr_text="25.4"))
    with tempfile.TemporaryDirectory() as scratch:
        source = os.path.join(scratch, "pair.xlsx")
        book.save(source)
        out = os.path.join(scratch, "out")
        for ending in ("xlsx", "ods"):
            office([source], ending, out)
            shutil.copy(os.path.join(out, f"pair.{ending}"), HERE)
            repack(os.path.join(HERE, f"pair.{ending}"), lambda name, data, extra: clean(name, data))


if __name__ == "__main__":
    main()
