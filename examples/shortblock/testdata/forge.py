#!/usr/bin/env python3
"""forge.py FILE…: makes verdicts by other formulas than their lines have, or from other statements, and prints
which of them checkrecord accepts. Unlike alter.py it works out what follows: the bounds, the words and the item
are those of the forgery, and the verdict still holds. So nothing but the formula is wrong. Each forgery is a
change of the checker that works the verdict out; another, which was not changed, judges the record.
"""
import sys
from fractions import Fraction as F
from os.path import abspath, dirname

sys.path.insert(0, dirname(dirname(abspath(__file__))))
import checkrecord as c  # noqa: E402


def instead(k, method, by):
    """Puts by, which gets what the method returns and its arguments, in the place of a method."""
    was = getattr(k, method)
    setattr(k, method, lambda *of: by(was(*of), *of))


def term(symbol, factor=None, reading=None):
    """Another factor, or another reading, of a term."""
    def other(row):
        f, s, of, names = row
        return row if s != symbol else (f if factor is None else F(factor), s, of, {reading} if reading else names)
    return lambda k: instead(k, "rule", lambda rule, line, place: list(map(other, rule)))


def made(what, **to):
    """Another bound of what stands in a sum and was not read."""
    def other(r, line, place):
        (f, a), = r.acts
        ends = dict(lo=a.bracket[0], hi=a.bracket[1])
        ends.update({k: c.q(text) for k, text in to.items()})
        return r if line != what else r._replace(acts=[(f, a._replace(bracket=(ends["lo"], ends["hi"])))])
    return lambda k: instead(k, "made_of", other)


def elsewhere(what, there):
    """What a line is at another place."""
    return lambda k: instead(k, "value", lambda r, line, place: type(k).value(k, line, there) if line == what else r)


def named(what, there):
    """Another reading under a name."""
    return lambda k: k.named.update({what: k.named[there]})


def warmer(part, **to):
    """Another temperature, or another metal, of a part."""
    return lambda k: instead(k, "body", lambda b, name, when: b._replace(**to) if name == part else b)


def stated(key, text):
    """Something else that the job states."""
    return lambda k: k.stated.update({key: text})


def unsaid(name):
    """A reading that does not state its conditions; the verdict is as if it did."""
    def change(k):
        for r in k.d["readings"]:
            if r["name"] == name:
                r["stations"][0][0]["conditions"] = None
    return change


ICE_HOUSE = {  # by the verdict
    "crankshaft end play": [("one washer twice", term("w2", reading="rear thrust washer thickness"))],
    "rod left-right side play": [("one rod twice", term("w2", reading="big end left width"))],
    "crankshaft middle bow": [("less of the swing", term("s", factor="0.4")),
                              ("an oval that was not measured", made("=oval", hi="0.002 mm"))],
    "main bore middle alignment": [("one neighbour twice", term("h2", reading="main bore front height"))],
    "main shells middle crush": [("by another π", made("=main crush", lo="0.028 mm"))],
    "main cap front register fit": [("the cap of another place", term("D", reading="main cap middle width"))],
    "deck left piston height": [("the rod of another", elsewhere("rod length", "right"))],
    "piston left ovality": [("another piston", term("D", reading="piston right diameter"))],
    "top ring left side clearance": [("another factor", term("D", factor="1.01"))],
    "oil pump body clearance": [("a rotor that is too small", term("d", factor="-1.001"))],
    "crankpin left-right bobweight": [("one rod twice", term("m2", reading="rod left big end mass")),
                                      ("another share", term("m3", factor="0.51")),
                                      ("less oil", made("=oil", lo="2 g"))],
    "rods mass spread": [("of one rod alone", named("rod right mass", "rod left mass"))],
    "fan shaft float": [("another formula", term("w", factor="-0.49"))],
    "middle of rod left reach": [("the rod of another", elsewhere("rod length", "right"))],
}
WELL_PUMP = {
    "main bearing 1 warm clearance": [("a cooler block", warmer("block", temperature=(F(60), F(75)))),
                                      ("another metal", warmer("crankshaft", per_kelvin=(F("0.0000115"), F("0.000012"))))],
    "cylinder 1 compression ratio": [("another chamber", stated("compression.chambers.1", "33.9 ±0.1 cm³")),
                                     ("another gasket", stated("compression.gasket_bore", "81.2 ±0.1 mm"))],
}
FORGED = {"ice-house": ICE_HOUSE, "well-pump": WELL_PUMP, "mill-race": {"rod 1 bend": [("no condition", unsaid("rod 1 bend"))]}}


def forge(d, n, change):
    """Works the n-th verdict out by the change, and writes all that follows from it. Returns whether it is another."""
    v, r = d["verdicts"][n], sum((g["readings"] for g in d["groups"]), [])[n]
    name = c.called(v["group"], v["location"], v["quantity"])
    k = c.Checker(d)
    k.check_stated()
    k.check_readings()
    change(k)
    (lo, hi), _ = c.known(k.judged(v["group"], v["location"], v["quantity"])[0])
    unit = (v["measured"]["lo"] or v["measured"]["hi"]).partition(" ")[2]
    places = len(r["measured"].split("..")[0].partition(".")[2].split()[0])

    def rounded(x, n, up):
        x = x / c.UNITS[unit] * 10**n
        x = -(-x // 1) if up else x // 1
        return "%s%d.%0*d" % ("-" * (x < 0), abs(x) // 10**n, n, abs(x) % 10**n)
    was = v["measured"], r["measured"]
    v["measured"] = {"lo": (rounded(lo, 9, False) + " " + unit).strip(), "hi": (rounded(hi, 9, True) + " " + unit).strip()}
    shown = [rounded(F(text.split()[0]) * c.UNITS[unit], places, up) for text, up in ((v["measured"]["lo"], False), (v["measured"]["hi"], True))]
    r["measured"] = ("..".join(shown) + " " + unit).strip()
    for i in d["items"]:
        if i["name"] == name:
            i["why"] = i["why"].replace(was[1], r["measured"])
    return [c.q(was[0][end]) for end in ("lo", "hi")] != [c.q(v["measured"][end]) for end in ("lo", "hi")]


def main(names):
    tried = 0
    for name in names:
        text = open(name, encoding="utf-8").read()
        for n, v in enumerate(c.load(text)["verdicts"]):
            called = c.called(v["group"], v["location"], v["quantity"])
            for what, change in FORGED[name.rpartition("/")[2].partition(".")[0]].get(called, ()):
                d, tried = c.load(text), tried + 1
                if not forge(d, n, change) and what != "no condition":
                    print("accepted: %s: %s: it changes nothing" % (called, what))
                try:
                    k = c.Checker(d).run()
                    print("accepted: %s: %s%s" % (called, what, "; not checked" if k.open else ""))
                except c.Refused as e:
                    print("refused: %s: %s: %s" % (called, what, e))
    print("%d forged" % tried)


if __name__ == "__main__":
    main(sys.argv[1:])
