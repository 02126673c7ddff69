"""Judge four main bearings through the service.

    python3 service.py http://127.0.0.1:8417

It needs Python 3.8 or later and nothing else. Figures stay texts and fractions: no float touches them.
"""
import json
import sys
import urllib.error
import urllib.request
from fractions import Fraction

SERVICE = sys.argv[1].rstrip("/")


class Refused(Exception):
    """The question has no answer; the message says what was found and what to write instead."""


def ask(question, **asked):
    body = json.dumps({"closefit": 1, **asked}).encode()
    request = urllib.request.Request(f"{SERVICE}/v1/{question}", body, {"Content-Type": "application/json"})
    try:
        with urllib.request.urlopen(request, timeout=30) as reply:
            return json.load(reply)["answer"]
    except urllib.error.HTTPError as error:
        raise Refused(json.load(error)["error"]["message"]) from None


def number(text):
    """The number of a text with a unit: "0.0384174 mm" is 192087/5000000."""
    return Fraction(text.split()[0])


def gauge(name, uncertainty, set_on=None):
    return {"kind": "gauge", "name": name, "uncertainty": uncertainty, "repeats": "0.002 mm", "common": None,
            "k": None, "freedom": None, "limit_of_error": None, "set_on": set_on}



def term(symbol, times, name, instrument, read):
    return {"symbol": symbol, "times": times, "name": name, "with": instrument, "how": "shown", "read": [read],
            "stated": [], "needs": []}


def clearance(place, bore, journal):
    return ask("judge", name=f"main {place}, running clearance", limits="0.024..0.052 mm", unit="mm",
               instruments=[gauge("micrometer", "0.004 mm"), gauge("bore gauge", "0.003 mm", set_on="micrometer")],
               terms=[term("D", "1", "bore, shells in", "bore gauge", bore), term("d", "-1", "journal", "micrometer", journal)],
               non_negative=True, at_worst=False, direct=None, wanted=[])


READ = [("1", "62.014 mm", "61.973 mm"), ("2", "62.016 mm", "61.971 mm"),
        ("3", "62.019 mm", "61.968 mm"), ("4", "62.025 mm", "61.966 mm")]

for place, bore, journal in READ:
    answer = clearance(place, bore, journal)
    low, high = (number(answer["measured"][end]) for end in ("lo", "hi"))
    limits = [number(answer["limits"][end]) for end in ("lo", "hi")]
    share = (high - low) / (limits[1] - limits[0])
    print(f'main {place}: {answer["measured"]["lo"]} to {answer["measured"]["hi"]}: {answer["verdict"]};',
          f"the doubt fills {round(100 * share)} % of the limits")
    if answer["settles"]:
        print(f'  a reading good to ±{answer["settles"]} would probably settle it')

try:
    clearance("5", "62.014", "61.973 mm")
except Refused as refusal:
    print("main 5:", refusal)
