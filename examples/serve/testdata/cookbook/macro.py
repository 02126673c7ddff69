"""A macro for LibreOffice Calc: it judges the rows of the open sheet through the service.

Put it into Scripts/python of your user profile, start the service, and run judge_rows from the menu of macros.
Columns: A bore, B journal, C uncertainty of the bore's reading, D of the journal's, all in mm; E limits, as
"0.024..0.048 mm". It writes the verdict into F and what the readings prove into G, from row 2 to the first empty row.
"""
import json
import urllib.error
import urllib.request

SERVICE = "http://127.0.0.1:8417"


def judge_rows(*_):
    sheet = XSCRIPTCONTEXT.getDocument().CurrentController.ActiveSheet
    row = 1  # rows count from 0, and the first holds the headings
    while any(written(sheet, column, row) for column in range(5)):
        verdict, proves = judged([written(sheet, column, row) for column in range(5)])
        sheet.getCellByPosition(5, row).String = verdict
        sheet.getCellByPosition(6, row).String = proves
        row += 1


def written(sheet, column, row):
    """What was typed into a cell. The cell's Value is a binary float, and its String is rounded for showing."""
    return sheet.getCellByPosition(column, row).Formula.strip().lstrip("'")


def judged(cells):
    bore, journal, bore_doubt, journal_doubt, limits = cells
    if not bore or not journal:
        return "not measured", ""
    if any(cell.startswith("=") for cell in cells):
        return "a formula: type what was read", ""

    def gauge(name, doubt):
        return {"kind": "gauge", "name": name, "uncertainty": doubt + " mm", "repeats": None, "common": None,
                "k": None, "freedom": None, "limit_of_error": None, "set_on": None}

    def term(symbol, times, name, read):
        return {"symbol": symbol, "name": name, "times": times, "with": name,
                "how": "shown", "read": [read + " mm"], "stated": [], "needs": []}

    asked = {"closefit": 1, "name": "fit", "limits": limits, "unit": "mm", "non_negative": False, "at_worst": False,
             "direct": None, "wanted": [], "instruments": [gauge("bore", bore_doubt), gauge("journal", journal_doubt)],
             "terms": [term("D", "1", "bore", bore), term("d", "-1", "journal", journal)]}
    request = urllib.request.Request(SERVICE + "/v1/judge", json.dumps(asked).encode(), {"Content-Type": "application/json"})
    try:
        with urllib.request.urlopen(request, timeout=30) as reply:
            answer = json.load(reply)["answer"]
    except urllib.error.HTTPError as refusal:
        return json.load(refusal)["error"]["message"], ""
    except urllib.error.URLError as failure:
        return f"the service does not answer: {failure.reason}", ""
    return answer["verdict"], f'{answer["measured"]["lo"]} to {answer["measured"]["hi"]}'


g_exportedScripts = (judge_rows,)
