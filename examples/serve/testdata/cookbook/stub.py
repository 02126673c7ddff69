"""Runs macro.py without the office program, on a document of five rows: python3 stub.py http://127.0.0.1:8417"""
import sys
from pathlib import Path
from types import SimpleNamespace as Thing

ROWS = [["bore", "journal", "±", "±", "limits", "", ""],
        ["48.014", "47.973", "0.003", "0.002", "0.024..0.048 mm"],
        ["48.021", "47.973", "0.003", "0.002", "0.024..0.048 mm"],
        ["48.014", "", "0.003", "0.002", "0.024..0.048 mm"],
        ["=48+0.014", "47.973", "0.003", "0.002", "0.024..0.048 mm"],
        ["48.014", "47.973", "0.003", "0.002", "0.024..0.048"]]
cells = {(c, r): Thing(Formula=text, String=text) for r, row in enumerate(ROWS) for c, text in enumerate(row)}
sheet = Thing(getCellByPosition=lambda c, r: cells.setdefault((c, r), Thing(Formula="", String="")))
document = Thing(CurrentController=Thing(ActiveSheet=sheet))
macro = {"XSCRIPTCONTEXT": Thing(getDocument=lambda: document)}
exec(Path(__file__).with_name("macro.py").read_text(encoding="utf-8"), macro)
macro["SERVICE"] = sys.argv[1].rstrip("/")
macro["judge_rows"]()
for r in range(1, len(ROWS)):
    print(f"row {r + 1}:", cells[5, r].String, "|", cells[6, r].String)
