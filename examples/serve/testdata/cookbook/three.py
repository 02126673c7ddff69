"""Three questions to the service: a dial, a strip beside a micrometer, and two sizes of one lathe.

    python3 three.py http://127.0.0.1:8417

It needs Python 3.8 or later and nothing else. Each function writes every key once, so that a question says only
what is its own.
"""
import json
import sys
import urllib.error
import urllib.request

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


def judge(name, limits, instruments, terms, direct=None, wanted=()):
    return ask("judge", name=name, limits=limits, unit="mm", instruments=instruments, terms=terms, non_negative=True,
               at_worst=False, direct=direct, wanted=list(wanted))


def gauge(name, uncertainty, repeats=None, set_on=None):
    return {"kind": "gauge", "name": name, "uncertainty": uncertainty, "repeats": repeats, "common": None,
            "k": None, "freedom": None, "limit_of_error": None, "set_on": set_on}


def term(symbol, times, name, instrument, *read, how="shown", stated=(), needs=()):
    def conditions(pairs):
        return [{"what": what, "is": state} for what, state in pairs]
    return {"symbol": symbol, "times": times, "name": name, "with": instrument, "how": how, "read": list(read),
            "stated": conditions(stated), "needs": conditions(needs)}


def size(name, times, limits, k, lathe=None):
    return {"name": name, "times": times, "limits": limits, "distribution": {"kind": "normal", "k": k, "mean": None},
            "exact": False, "sources": [] if lathe is None else [{"name": "setting of the lathe", "part": lathe}]}


# 1. The crankshaft is pushed to one end and to the other, and a dial shows how far it went.
play = judge("end play", "0.10..0.25 mm", [gauge("dial", "0.01 mm")],
             [term("E", "1", "end play", "dial", "-0.03 mm", "0.14 mm", how="travel")])
print("end play:", play["measured"]["lo"], "to", play["measured"]["hi"], play["verdict"])

# 2. A clearance from its sizes and on a strip. The bore proves something only if its bolts were tightened.
strip = {"kind": "crush strip", "name": "strip", "prints": ["0.025 mm", "0.038 mm", "0.051 mm"], "tolerance": None, "batch": None}
tight = [("bolts", "tightened to 60 N·m")]
for bolts in ("loose", "tightened to 60 N·m"):
    answer = judge("main 3, running clearance", "0.024..0.050 mm",
                   [gauge("micrometer", "0.004 mm", "0.002 mm"), gauge("bore gauge", "0.003 mm", "0.002 mm", set_on="micrometer"), strip],
                   [term("D", "1", "housing bore", "bore gauge", "66.014 mm", stated=[("bolts", bolts)], needs=tight),
                    term("t", "-2", "wall", None, "2.000 ±0.0005 mm"),
                    term("d", "-1", "journal", "micrometer", "61.972 mm")],
                   direct={"name": "crush strip", "with": "strip", "how": "shown", "read": ["0.038..0.051 mm"], "stated": []})
    print(f"main 3, bolts {bolts}:", answer["verdict"], "by", answer["measured"]["lo"], "to", answer["measured"]["hi"],
          "| do strip and sizes agree?", answer["compared"]["agree"])

# 3. Bush and shaft are turned in one setting, so that both are large or both small: how often is there too little clearance?
for lathe in (None, 0.8):
    answer = ask("stack", name="bush", limits=">= 0.06 mm", unit="mm", inflation=None, quantiles=[], histogram=False,
                 correlations=None, simulation=None,
                 contributors=[size("bore", "1", "40 ±0.03 mm", 3, lathe), size("shaft", "-1", "39.9 ±0.03 mm", 3, lathe)])
    law = answer["law"]
    print("lathe", lathe, "| deviation", law["std_dev"], "| too tight", f'{1e6 * law["outside"]["value"]:.0f} of a million')

try:
    ask("stack", name="bush", contributors=[], unit="mm", quantile=[0.5])
except Refused as refusal:
    print(refusal)
