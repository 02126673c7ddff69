#!/usr/bin/env python3
"""forge.py FILE…: makes verdicts of other formulas than their lines have, and prints which of them
checkrecord accepts. Unlike alter.py it works out what follows: the bounds, the words and the item are
those of the forged sum, and the verdict still holds. So nothing but the formula is wrong.
"""
import copy, json, sys
from fractions import Fraction as F
from os.path import abspath, dirname

sys.path.insert(0, dirname(dirname(abspath(__file__))))
import checkrecord as c  # noqa: E402


def term(symbol, **to):
    """Another factor, or another reading, of a term."""
    def change(b):
        next(t for t in b["sum"]["terms"] if t["symbol"] == symbol).update(to)
    return change


def volume(name, **to):
    def change(b):
        b["volumes"][name].update(to)
    return change


def made(symbol, **to):
    """Another bracket of a reading that was made of others."""
    def change(b):
        next(t for t in b["sum"]["terms"] if t["symbol"] == symbol)["reading"]["acts"][0]["bracket"].update(to)
    return change


def warmer(symbol, **to):
    def change(b):
        next(t for t in b["sum"]["terms"] if t["symbol"] == symbol)["body"].update(to)
    return change


def unasked(b):
    """Nothing asks for the conditions of the reading."""
    b["needs"] = None


ICE_HOUSE = {  # by the verdict
    "crankshaft end play": [("one washer twice", term("w2", reading="rear thrust washer thickness"))],
    "rod left-right side play": [("one rod twice", term("w2", reading="big end left width"))],
    "crankshaft middle bow": [("less of the swing", term("s", factor="0.4")),
                              ("an oval that was not measured", made("o", hi="0.002 mm"))],
    "main bore middle alignment": [("one neighbour twice", term("h2", reading="main bore front height"))],
    "main shells middle crush": [("by another π", made("δ", lo="0.028 mm"))],
    "main cap front register fit": [("the cap of another place", term("D", reading="main cap middle width"))],
    "deck left piston height": [("the rod of another", None)],
    "piston left ovality": [("another piston", term("D", reading="piston right diameter"))],
    "top ring left side clearance": [("another factor", term("D", factor="1.01"))],
    "oil pump body clearance": [("a rotor that is too small", term("d", factor="-1.001"))],
    "crankpin left-right bobweight": [("one rod twice", term("m2", reading="rod left big end mass")),
                                      ("another share", term("m3", factor="0.51")),
                                      ("less oil", made("o", lo="2 g"))],
    "rods mass spread": [("of one rod alone", lambda b: b["stations"].update(of=["rod left mass", "rod left mass"]))],
    "fan shaft float": [("another formula", term("w", factor="-0.49"))],
    "middle of rod left reach": [("another piston", term("k", reading="piston right compression height"))],
}
WELL_PUMP = {
    "main bearing 1 warm clearance": [("a cooler block", warmer("D", temperature=["80 °C", "95 °C"])),
                                      ("another metal", warmer("d", per_kelvin={"lo": "0.0000115", "hi": "0.000012"}))],
    "cylinder 1 compression ratio": [("another chamber", volume("chamber", lo="33800 mm³")),
                                     ("another gasket", volume("gasket_bore", hi="81.3 mm"))],
}
FORGED = {"ice-house": ICE_HOUSE, "well-pump": WELL_PUMP, "mill-race": {"rod 1 bend": [("no condition", unasked)]}}


def forge(d, n, change):
    """Changes what the n-th verdict rests on, and all that follows from it."""
    v, b = d["verdicts"][n], d["rests_on"][n]
    r = sum((g["readings"] for g in d["groups"]), [])[n]
    if change is None:  # the rod of a piston's height is made of others
        other = next(x for w, x in zip(d["verdicts"], d["rests_on"]) if w["quantity"] == v["quantity"] and w["location"] != v["location"])
        b["sum"]["terms"][2]["reading"] = copy.deepcopy(other["sum"]["terms"][2]["reading"])
    else:
        change(b)
    k = c.Checker(d)
    for step in ("check_stated", "check_readings"):
        getattr(k, step, lambda: None)()
    c.at(c.called(v["group"], v["location"], v["quantity"]))
    k.place = v["location"]
    for w, x in zip(d["verdicts"][:n], d["rests_on"]):  # what a compression ratio is made of
        if not x["volumes"]:
            k.made[c.called(w["group"], w["location"], w["quantity"])] = k.judged(x, x["stations"] and k.stations_of(**x["stations"]))[0]
    k.ratio = ratio
    (lo, hi), _ = c.known(k.judged(b, b["stations"] and k.stations_of(**b["stations"]))[0])
    unit = (v["measured"]["lo"] or v["measured"]["hi"]).partition(" ")[2]
    places = len(r["measured"].split("..")[0].partition(".")[2].split()[0])

    def rounded(x, n, up):
        x = x / c.UNITS[unit] * 10**n
        x = -(-x // 1) if up else x // 1
        return "%s%d.%0*d" % ("-" * (x < 0), abs(x) // 10**n, n, abs(x) % 10**n)
    v["measured"] = {"lo": (rounded(lo, 9, False) + " " + unit).strip(), "hi": (rounded(hi, 9, True) + " " + unit).strip()}
    shown = [rounded(F(text.split()[0]) * c.UNITS[unit], places, up) for text, up in ((v["measured"]["lo"], False), (v["measured"]["hi"], True))]
    was, r["measured"] = r["measured"], ("..".join(shown) + " " + unit).strip()
    for i in d["items"]:
        if i["name"] == c.called(v["group"], v["location"], v["quantity"]):
            i["why"] = i["why"].replace(was, r["measured"])


def ratio(**v):  # as Checker.ratio, of volumes that are not compared with anything
    v.pop("from")
    b = {k: c.bounds(x) for k, x in v.items()}
    pi = F(314159265358979, 10**14), F(314159265358980, 10**14)

    def cylinder(diameter, height):
        all_ = [p / 4 * d * d * h for p in pi for d in diameter for h in height]
        return min(all_), max(all_)
    over = b["chamber"]
    for x in (b["dish"], cylinder(b["gasket_bore"], b["gasket_thickness"]), cylinder(b["bore"], b["deck"])):
        over = c.add(over, x)
    swept = cylinder(b["bore"], b["stroke"])
    return c.given("", (swept[0] / over[1] + 1, swept[1] / over[0] + 1))


def main(names):
    tried = 0
    for name in names:
        text = open(name, encoding="utf-8").read()
        for n, v in enumerate(c.load(text)["verdicts"]):
            called = c.called(v["group"], v["location"], v["quantity"])
            for what, change in FORGED[name.rpartition("/")[2].partition(".")[0]].get(called, ()):
                d, tried = c.load(text), tried + 1
                forge(d, n, change)
                try:
                    k = c.Checker(d).run()
                    print("accepted: %s: %s%s" % (called, what, "; not checked" if k.open else ""))
                except c.Refused as e:
                    print("refused: %s: %s: %s" % (called, what, e))
    print("%d forged" % tried)


if __name__ == "__main__":
    main(sys.argv[1:])
