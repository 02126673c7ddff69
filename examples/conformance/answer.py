#!/usr/bin/env python3
"""Answers the questions of QUESTIONS.md, one JSON object a line, from the standards alone.

Plain Python and its standard library. Sizes are fractions, and stay exact; a root or a number
with pi is a decimal of 60 digits. "Q:" quotes QUESTIONS.md. A table that was recalled, and not
read in a reproduction, says so. Run with -selftest to check the worked examples at the end, with -kinds to
list what it answers.
"""
import itertools
import json
import math
import re
import sys
import time
from decimal import Decimal, getcontext, localcontext
from fractions import Fraction as F

getcontext().prec = 60


class Cannot(Exception):
    """The reason why a question has no answer here."""


# Numbers. Q: "a decimal, or a ratio of whole numbers"

def num(x):
    try:
        return F(str(x).strip().replace("−", "-"))
    except (ValueError, ZeroDivisionError):
        raise Cannot("not a number: %r" % (x,))


def dec(x):
    return x if isinstance(x, Decimal) else Decimal(x.numerator) / Decimal(x.denominator) if isinstance(x, F) else Decimal(x)


def root(x):
    """The square root: exact where there is one, else to 60 digits."""
    x = F(x)
    if x < 0:
        raise Cannot("root of a negative number")
    n, d = math.isqrt(x.numerator), math.isqrt(x.denominator)
    if n * n == x.numerator and d * d == x.denominator:
        return F(n, d)
    return F(dec(x).sqrt())


def show(x):
    """A number as text: short if it ends within 60 digits, else a ratio, or 40 digits of a long ratio."""
    if x is None or isinstance(x, (str, bool)):
        return x
    if isinstance(x, (float, int)):
        return repr(x)
    if isinstance(x, F):
        if x.denominator == 1:
            return str(x.numerator)
        if len(str(x.denominator)) < 40:
            return str(x)
        x = dec(x)
    with localcontext() as c:
        c.prec = 40
        return str(+x)


def floor_to(x, places):
    step = F(10) ** -places
    return math.floor(x / step) * step


def ceil_to(x, places):
    return -floor_to(-x, places)


def near(x, places):
    """Half to even (NIST SP 811, B.7.1)."""
    step = F(10) ** -places
    return round(F(x) / step) * step


def decimal_pi(digits=78):
    """Machin: pi = 16 atan 1/5 - 4 atan 1/239."""
    def atan_inverse(n):
        with localcontext() as c:
            c.prec = digits + 2
            total, power, k = Decimal(0), Decimal(1) / n, 0
            while power > Decimal(10) ** -digits:
                total += power / (2 * k + 1) * (-1) ** k
                power /= n * n
                k += 1
            return total
    return F(16 * atan_inverse(5) - 4 * atan_inverse(239))


PI = decimal_pi()

# Units: (dimension, factor to the base unit, offset). SI Brochure; NIST SP 811 B.8 for the definitions.

INCH, LB, G0 = F("0.0254"), F("0.45359237"), F("9.80665")
LBF, KGF = LB * G0, G0
UNITS = {}


def units(dimension, **factors):
    for name, factor in factors.items():
        UNITS[name] = (dimension, F(factor), F(0))


units("length", m=1, dm=F(1, 10), cm=F(1, 100), mm=F(1, 1000), um=F(1, 10**6), nm=F(1, 10**9), ft=12 * INCH,
      yd=36 * INCH, mi=63360 * INCH, thou=INCH / 1000, tenth=INCH / 10000, uin=INCH / 10**6)
UNITS["in"] = ("length", INCH, F(0))
units("angle", deg=1, arcmin=F(1, 60), arcsec=F(1, 3600), rad=180 / PI, rev=360, turn=360, grad=F(9, 10))
units("force", N=1, kN=1000, MN=10**6, lbf=LBF, kip=1000 * LBF, kgf=KGF, gf=KGF / 1000, dyn=F(1, 10**5), ozf=LBF / 16, tonf=2000 * LBF)
UNITS["US tonf"] = UNITS["tonf"]
for force, length in itertools.product(["N", "cN", "kN", "kgf", "gf", "lbf", "ozf"], ["m", "cm", "mm", "ft", "in"]):
    size = F(1, 100) if force == "cN" else UNITS[force][1]
    UNITS[force + "*" + length] = ("torque", size * UNITS[length][1], F(0))
units("pressure", Pa=1, hPa=100, kPa=1000, MPa=10**6, GPa=10**9, bar=10**5, mbar=100, psi=LBF / INCH**2, ksi=1000 * LBF / INCH**2,
      psf=LBF / (12 * INCH) ** 2, atm=101325, Torr=F(101325, 760), mmHg=F("13595.1") * G0 / 1000, inHg=F("13595.1") * G0 * INCH,
      inH2O=1000 * G0 * INCH)
UNITS.update({"N/mm2": UNITS["MPa"], "kgf/cm2": ("pressure", KGF * 10**4, F(0)), "kgf/mm2": ("pressure", KGF * 10**6, F(0))})
UNITS.update({"degC": ("temperature", F(1), F("273.15")), "K": ("temperature", F(1), F(0)), "degF": ("temperature", F(5, 9), F("459.67") * 5 / 9)})
units("area", mm2=F(1, 10**6), cm2=F(1, 10**4), m2=1, in2=INCH**2)
units("volume", mm3=F(1, 10**9), cm3=F(1, 10**6), m3=1, in3=INCH**3, L=F(1, 1000))
units("mass", g=F(1, 1000), kg=1, lb=LB, oz=LB / 16)
UNITS.update({"N/mm": ("stiffness", F(1000), F(0)), "N/m": ("stiffness", F(1), F(0)), "kN/mm": ("stiffness", F(10**6), F(0)),
              "lbf/in": ("stiffness", LBF / INCH, F(0))})
units("viscosity", P=F(1, 10), cP=F(1, 1000), reyn=LBF / INCH**2, ureyn=LBF / INCH**2 / 10**6)
UNITS.update({"mm2/s": ("kinematic viscosity", F(1), F(0)), "W": ("power", F(1), F(0)), "hp": ("power", 550 * 12 * INCH * LBF, F(0))})
UNITS.update({"Pa*s": ("viscosity", F(1), F(0)), "mPa*s": ("viscosity", F(1, 1000), F(0)), "lbf*s/in2": UNITS["reyn"]})
UNITS.update({"rpm": ("rotation", F(6), F(0)), "r/min": ("rotation", F(6), F(0)), "rev/s": ("rotation", F(360), F(0)), "r/s": ("rotation", F(360), F(0)), "deg/s": ("rotation", F(1), F(0))})
UNITS.update({"": ("number", F(1), F(0)), "%": ("number", F(1, 100), F(0)), "ppm": ("number", F(1, 10**6), F(0))})


def unit(name):
    key = (name or "").strip()
    for a, b in (("µ", "u"), ("μ", "u"), ("·", "*"), ("⋅", "*"), ("²", "2"), ("³", "3"), ("°C", "degC"), ("°F", "degF"), ("°", "deg")):
        key = key.replace(a, b)
    if key not in UNITS:
        key = key.replace("-", "*").replace(" ", "*")
    if key not in UNITS:
        raise Cannot("unknown unit %r" % name)
    return key


def change(x, source, target, difference=False):
    """x in another unit; the offsets of temperatures count unless it is a difference."""
    if x is None:
        return None
    a, b = unit(source), unit(target)
    if a == b:
        return x
    (da, fa, oa), (db, fb, ob) = UNITS[a], UNITS[b]
    if da != db:
        raise Cannot("%s is no %s" % (source, target))
    return x * fa / fb if difference else (x * fa + oa - ob) / fb


NUMBER = r"[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
RATIO = r"(?:%s(?:/\d+)?)" % NUMBER


def spread(text):
    """Q "Intervals": (lower, upper, unit); None is a bound that there is not."""
    text = str(text).strip()
    m = re.fullmatch(r"(%s)\s*(.*?)\s*\.\.\s*(%s)\s*(.*)" % (RATIO, RATIO), text)
    if m:
        lo, hi, u = num(m[1]), num(m[3]), m[4]
        lo = change(lo, m[2], u) if m[2] else lo
        return bounds(lo, hi, u)
    m = re.fullmatch(r"(>=|<=|≥|≤)\s*(%s)\s*(.*)" % RATIO, text)
    if m:
        return (num(m[2]), None, m[3]) if m[1] in ">=≥" else (None, num(m[2]), m[3])
    m = re.fullmatch(r"(%s)\s*(.*?)\s*(?:±|\+/-)\s*(%s)\s*(.*)" % (RATIO, RATIO), text)
    if m:
        middle = change(num(m[1]), m[2], m[4]) if m[2] else num(m[1])
        return bounds(middle - num(m[3]), middle + num(m[3]), m[4])
    m = re.fullmatch(r"(%s)\s+([+\-−]?%s)\s*/\s*(%s)\s*(.*)" % (RATIO, NUMBER, NUMBER), text)
    if m:
        return bounds(num(m[1]) + num(m[3]), num(m[1]) + num(m[2]), m[4])
    m = re.fullmatch(r"(%s)\s*(.*)" % RATIO, text)
    if m:
        return num(m[1]), num(m[1]), m[2]
    raise Cannot("not an interval: %r" % text)


def bounds(lo, hi, u):
    if lo > hi:
        raise Cannot("an interval from above to below")
    return lo, hi, u


def interval(text, u):
    lo, hi, own = spread(text)
    return change(lo, own, u), change(hi, own, u)


def quantity(text, u):
    lo, hi = interval(text, u)
    if lo != hi:
        raise Cannot("not one value: %r" % text)
    return lo


def middle(text, u):
    lo, hi = interval(text, u)
    if lo is None or hi is None:
        raise Cannot("an interval without an end has no middle")
    return (lo + hi) / 2, (hi - lo) / 2


# convert

def iso370_places(lo, hi, source, target):
    """ISO 370:1975, tables 1 and 2 (recalled): the tolerance's decade gives the fineness of rounding. None outside of them (Q)."""
    if lo is None or hi is None or lo == hi:
        return None
    if target == "mm" and source in ("in", "thou", "tenth", "uin"):
        width, finest, coarsest, least, most = change(hi - lo, source, "in", True), 0, 1, F(1, 10**5), F(1)
    elif target == "in" and source in ("mm", "um"):
        width, finest, coarsest, least, most = change(hi - lo, source, "mm", True) / 5, 1, 2, F(1, 10**4), F(10) ** 9
    else:
        return None
    if not least <= width < most:
        return None
    decade = 0
    while width < F(10) ** -decade:
        decade += 1
    while decade > -9 and width >= F(10) ** (1 - decade):
        decade -= 1
    return max(decade + finest, coarsest)


def convert(q):
    lo, hi, u = spread(q["value"])
    how, places, to = q["round"], q.get("places"), q["to"]
    a, b = change(lo, u, to), change(hi, u, to)
    if how == "exact":
        return {"lo": a, "hi": b}
    if places is None and how == "inward":
        places = iso370_places(lo, hi, unit(u), unit(to))
    if places is None:
        return {"unsaid": True}
    places = int(places)
    lower = {"nearest": near, "inward": ceil_to, "outward": floor_to}[how]
    upper = {"nearest": near, "inward": floor_to, "outward": ceil_to}[how]
    a, b = None if a is None else lower(a, places), None if b is None else upper(b, places)
    if how == "inward" and a is not None and b is not None and a > b:
        return {"none": True}
    return {"lo": a, "hi": b}


def temperature_difference(q):
    return {"value": change(num(q["value"]), q["from"], q["to"], True)}


def per_fahrenheit(q):
    return {"per_fahrenheit": num(q["per_kelvin"]) * F(5, 9)}


# combine

def half_away(q):
    x, places = quantity(q["value"], q["to"]), int(q["places"])
    step = F(10) ** -places
    whole = math.floor(abs(x) / step + F(1, 2)) * step
    return {"value": whole if x >= 0 else -whole}


def fineness(q):
    """ISO 370:1975, tables 1 and 2: the tolerance is in the unit that is converted from."""
    to = unit(q["to"])
    source = {"mm": "in", "in": "mm"}.get(to)
    width = quantity(q["width"], source or "mm")
    if source == "in":
        for k in range(1, 6):
            if F(10) ** -k <= width < F(10) ** (1 - k):
                return {"fineness": F(10) ** -k}
    elif source == "mm":
        for k in range(2, 5):
            if 5 * F(10) ** -k <= width < 5 * F(10) ** (1 - k):
                return {"fineness": F(10) ** -(k + 1)}
        if width >= F(1, 2):
            return {"fineness": F(1, 100)}
    return {"unsaid": True}


def warmed(q):
    c, size = num(q["per_kelvin"]), quantity(q["size"], q["unit"])
    grown = [1 + c * (quantity(q[k], "degC") - 20) for k in ("from", "to")]
    return {"size": size / grown[0] * grown[1], "growth": size / grown[0] * grown[1] - size}


def ring_gap(q):
    return {"growth": PI * quantity(q["bore"], q["unit"])}


def combine(q):
    u = q["unit"]
    tools = {i["name"]: i for i in q["instruments"]}
    lo, hi, brackets = F(0), F(0), F(0)
    readings = {name: [] for name in tools}     # the times of each reading, settings of other gauges included
    for term in q["terms"]:
        times = num(term["times"])
        for text in term["read"] if isinstance(term["read"], list) else [term["read"]]:
            a, b = interval(text, u)
            a, b = (a, b) if times >= 0 else (b, a)
            lo = None if lo is None or a is None else lo + times * a
            hi = None if hi is None or b is None else hi + times * b
            if term.get("with") is not None:
                if term["with"] not in tools:
                    raise Cannot("no instrument %r" % term["with"])
                readings[term["with"]].append(times)

    def size(tool, key):
        return None if tool.get(key) is None else change(spread(tool[key])[0], spread(tool[key])[2], u, True)

    # Q: a gauge set on another one took over the error of one reading of it: first those that no other waits for.
    squares, waiting = [], dict(tools)
    while waiting:
        name = next((n for n in waiting if not any(t.get("set_on") == n for t in waiting.values())), None)
        if name is None:
            raise Cannot("gauges that are set on each other")
        tool, times = waiting.pop(name), readings[name]
        if tool.get("set_on") is not None and times:
            if tool["set_on"] not in tools:
                raise Cannot("no instrument %r to set on" % tool["set_on"])
            readings[tool["set_on"]].append(sum(times))
        whole, repeats, common, limit = (size(tool, k) for k in ("uncertainty", "repeats", "common", "limit_of_error"))
        if tool["kind"] == "setting piece":
            squares.append((sum(times) * (whole or 0)) ** 2)
            continue
        brackets += sum(abs(t) for t in times) * (limit or 0)
        if common is None and whole is not None and repeats is None:
            squares.append(((sum(abs(t) for t in times) + (abs(sum(times)) if tool.get("set_on") is not None else 0)) * whole) ** 2)
            continue
        r = repeats or F(0)
        c2 = common**2 if common is not None else whole**2 - r**2 if whole is not None else F(0)
        if c2 < 0:
            raise Cannot("a gauge that repeats worse than its uncertainty")
        squares.append(sum(times) ** 2 * c2)
        squares.extend((t * r) ** 2 for t in times)
        if tool.get("set_on") is not None:      # the setting is a reading of this gauge too, and its repeat stays in every later one
            squares.append((sum(times) * r) ** 2)
    doubt = sum((root(s) for s in squares), F(0)) if q.get("at_worst") else root(sum(squares, F(0)))
    lo = None if lo is None else lo - doubt - brackets
    hi = None if hi is None else hi + doubt + brackets
    if q.get("non_negative"):
        lo, hi = max(lo or F(0), F(0)), None if hi is None else max(hi, F(0))
    return {"lo": lo, "hi": hi, "uncertainty": doubt}


def rss(q):
    return {"value": root(sum(num(p) ** 2 for p in q["parts"]))}


def student(t, n):
    """P(|T| <= t) for n whole degrees of freedom (Abramowitz and Stegun, 26.7.3 and 26.7.4)."""
    a = math.atan(t / math.sqrt(n))
    s, c = math.sin(a), math.cos(a)
    total, term = 0.0, c if n % 2 else 1.0
    for k in range(1 if n % 2 else 0, n - 1, 2):
        total += term
        term *= c * c * (k + 1) / (k + 2)
    return 2 / math.pi * (a + s * total) if n % 2 else s * total


def coverage(q):
    p = num(q["probability"]) if re.fullmatch(RATIO, str(q["probability"])) else quantity(q["probability"], "")
    if q.get("freedom") is None:
        return {"k": normal_point((1 + p) / 2)}
    n = num(q["freedom"])
    if n.denominator != 1 or not 1 <= n < 10**6 or not 0 < p < 1:
        raise Cannot("only for whole degrees of freedom")
    lo, hi = 0.0, 1.0
    while student(hi, int(n)) < p:
        hi *= 2
    for _ in range(200):
        mid = (lo + hi) / 2
        lo, hi = (mid, hi) if student(mid, int(n)) < p else (lo, mid)
    return {"k": (lo + hi) / 2}


def series(q):
    xs = [quantity(x, q["unit"]) for x in q["values"]]
    if len(xs) < 2:
        raise Cannot("one value has no deviation")
    mean = sum(xs) / len(xs)
    off = [x - mean for x in xs]
    squares = sum(x * x for x in off)
    return {"mean": mean, "deviation": root(squares / (len(xs) - 1)),
            "autocorrelation": sum(x * y for x, y in zip(off, off[1:])) / squares if squares else None}


def normal_below(t):
    return math.erfc(-t / math.sqrt(2)) / 2


def largest_within(k, n):
    """That none of n normal errors is larger than k."""
    return math.erf(k / math.sqrt(2)) ** n


def range_within(r, n):
    """That n normal errors lie within r of each other: n times the integral of the lowest's density and where the others may be."""
    return integral(lambda z: n * math.exp(-z * z / 2) / math.sqrt(2 * math.pi) * (normal_below(z + r) - normal_below(z)) ** (n - 1), [-9, -6, -4, -3, -2, -1, 0, 1, 2, 4])


def stations(q):
    within, n = {"largest": largest_within, "range": range_within}[q["of"]], int(q["stations"])
    wanted = math.erf(math.sqrt(2))
    if q["freedom"] is None:
        chance = within
    else:       # over the estimate s of the deviation: v s² is chi-squared of v
        v = int(q["freedom"])
        scale = math.log(2) + v / 2 * math.log(v / 2) - math.lgamma(v / 2)
        ends = sorted({0, .05, .15, .3, .5, .7, .85, 1, 1.15, 1.3, 1.6, 2, 3, 4.5, 7})

        def chance(k, n):
            return integral(lambda s: math.exp(scale + (v - 1) * math.log(s) - v * s * s / 2) * within(k * s, n), ends)
    lo, hi = 0.0, 4.0
    while chance(hi, n) < wanted:
        lo, hi = hi, 2 * hi
    at_lo, at_hi = chance(lo, n) - wanted, chance(hi, n) - wanted
    for i in range(100):        # false position, and halves where it creeps
        mid = (lo + hi) / 2 if i % 3 == 2 else lo - at_lo * (hi - lo) / (at_hi - at_lo)
        value = chance(mid, n) - wanted
        if value < 0:
            lo, at_lo = mid, value
        else:
            hi, at_hi = mid, value
        if hi - lo < 1e-7 * hi or abs(value) < 1e-13:
            break
    return {"uncertainty": F(mid) * quantity(q["standard_uncertainty"], q["unit"])}


def welch(q):
    parts = [(num(p["standard"]), num(p["freedom"])) for p in q["parts"]]
    whole = sum(u * u for u, _ in parts)
    freedom = whole**2 // sum(u**4 / v for u, v in parts)
    out = {"freedom": F(freedom), "expanded": None}
    if q["probability"] is not None:
        out["expanded"] = F(coverage({"probability": q["probability"], "freedom": freedom})["k"]) * root(whole)
    return out


def strip_read(q):
    prints = [quantity(x, q["unit"]) for x in q["prints"]]
    lo, hi = interval(q["seen"], q["unit"])
    if lo != hi or lo is None:
        return {"lo": F(0) if lo is None else lo, "hi": hi}
    i = prints.index(lo)
    down = F(0) if i == 0 else 2 * prints[i - 1] * lo / (prints[i - 1] + lo)
    return {"lo": down, "hi": None if i + 1 == len(prints) else (lo + prints[i + 1]) / 2}


# judge

def verdict(lo, hi, lower, upper):
    """ISO 14253-1: proven inside, proven outside, or neither. Q: "ends included"."""
    meets_lower = lower is None or (lo is not None and lo >= lower)
    meets_upper = upper is None or (hi is not None and hi <= upper)
    word = "conforming" if meets_lower and meets_upper else "undecided"
    if lower is not None and hi is not None and hi < lower:
        word = "below limit"
    if upper is not None and lo is not None and lo > upper:
        word = "above limit"
    return {"verdict": word, "meets_lower": meets_lower, "meets_upper": meets_upper}


def judge(q):
    c = combine(q)
    return {**c, **verdict(c["lo"], c["hi"], *interval(q["limits"], q["unit"]))}


LONG_PI, DIGITS = [], 600       # digits of the sums in a law, where terms of both signs nearly cancel


def density(t):
    if not LONG_PI:
        with localcontext() as c:
            c.prec = 2 * DIGITS
            LONG_PI.append(dec(decimal_pi(2 * DIGITS)))
    return (-t * t / 2).exp() / (2 * LONG_PI[0]).sqrt()


def phi(t):
    """The normal distribution: 1/2 + density × (t + t³/3 + t⁵/15 + …), to the precision in force."""
    a = abs(t)
    if a > 38:
        return Decimal(1 if t > 0 else 0)
    with localcontext() as c:
        c.prec += 10 + int(a * a / 4)
        total = term = a
        k = 1
        while term > Decimal(10) ** -c.prec:
            k += 2
            term *= a * a / k
            total += term
        part = density(a) * total
        value = Decimal("0.5") + part if t > 0 else Decimal("0.5") - part
    return +value


def normal_point(p):
    """The t with phi(t) = p, by Newton's rule."""
    if not 0 < p < 1:
        raise Cannot("a probability is between 0 and 1")
    lo, hi, p = Decimal(-38), Decimal(38), dec(p)
    for _ in range(24):
        mid = (lo + hi) / 2
        lo, hi = (mid, hi) if phi(mid) < p else (lo, mid)
    t = (lo + hi) / 2
    for _ in range(5):
        t -= (phi(t) - p) / density(t)
    return t


def conformity(q):
    """JCGM 106:2012, 7: phi((U - y)/u) - phi((L - y)/u)."""
    lo, hi, u = spread(q["limits"])
    y, s = quantity(q["value"], u), change(spread(q["standard_uncertainty"])[0], spread(q["standard_uncertainty"])[2], u, True)
    if s == 0:
        return {"probability": F(int((lo is None or y >= lo) and (hi is None or y <= hi)))}
    below = Decimal(0) if lo is None else phi(dec((lo - y) / s))
    above = Decimal(0) if hi is None else phi(dec((y - hi) / s))
    return {"probability": 1 - below - above}


GAUSS = []


def gauss_nodes(n=24):
    if not GAUSS:
        for i in range(n):
            x = math.cos(math.pi * (i + 0.75) / (n + 0.5))
            for _ in range(50):
                p, before = x, 1.0
                for k in range(2, n + 1):
                    p, before = ((2 * k - 1) * x * p - (k - 1) * before) / k, p
                slope = n * (x * p - before) / (x * x - 1)
                x -= p / slope
            GAUSS.append((x, 2 / ((1 - x * x) * slope * slope)))
    return GAUSS


def integral(f, cuts):
    total = 0.0
    for a, b in zip(cuts, cuts[1:]):
        total += sum(w * f((a + b) / 2 + x * (b - a) / 2) for x, w in gauss_nodes()) * (b - a) / 2
    return total


def risk(q):
    """JCGM 106:2012, 9.3: the joint probabilities of (true size, reading), integrated over the true size."""
    limit, u, accept = (float(quantity(q[k], "")) for k in ("limit", "uncertainty", "accept"))
    u /= 2
    if u <= 0:
        raise Cannot("a measurement without uncertainty")

    def accepted(y):
        return 0.5 * (math.erfc((y - accept) / u / math.sqrt(2)) - math.erfc((y + accept) / u / math.sqrt(2)))

    def refused(y):
        return 0.5 * (math.erfc((accept - y) / u / math.sqrt(2)) + math.erfc((accept + y) / u / math.sqrt(2)))

    def pdf(y):
        return math.exp(-y * y / 2) / math.sqrt(2 * math.pi)
    steps = sorted({0.0, limit, limit + 12} | {i * 0.5 for i in range(90)} | {abs(accept + i * u / 2) for i in range(-24, 25)})
    outside = [s for s in steps if limit <= s <= limit + 12]
    inside = [s for s in steps if s <= limit]
    return {"consumer": 2 * integral(lambda y: pdf(y) * accepted(y), outside), "producer": 2 * integral(lambda y: pdf(y) * refused(y), inside)}


def guard_factor(q):
    return {"factor": -normal_point(num(q["risk"]))}


# assign

def split_codes(text, n):
    text = str(text).strip()
    codes = [c.strip() for c in text.split("-")] if "-" in text else [c for c in text if not c.isspace()]
    if len(codes) != n:
        raise Cannot("%d codes for %d locations" % (len(codes), n))
    return codes


def halves(text):
    parts = [p.strip() for p in str(text).split("/")]
    return tuple(parts * 2 if len(parts) == 1 else parts)


def assigned(scheme, h, j):
    """The pair of shells for two legible codes, or None where no row covers them."""
    housing = next((e for e in scheme["housing"] if e["code"] == h), None)
    journal = next((e for e in scheme["journal"] if e["code"] == j), None)
    if housing is None or journal is None:
        raise Cannot("no code %r with %r in the scheme" % (h, j))
    if scheme.get("matrix"):
        matrix = scheme["matrix"]
        row = next((r for r in matrix[1:] if r[0] == h), None)
        if row is None or j not in matrix[0][1:]:
            return None
        cell = row[matrix[0].index(j, 1)]
        return halves(cell) if cell else None
    if scheme.get("sum"):
        total = sum(num(e["number"]) if e.get("number") is not None else num(e["code"]) for e in (housing, journal))
        row = next((s for s in scheme["sum"] if num(s["from"]) <= total <= num(s["to"])), None)
        return halves(row["shells"]) if row else None
    return (housing["shell"], journal["shell"])


def assign(q):
    scheme, codes = q["scheme"], q["codes"]
    n = len(codes["locations"])
    pairs = []
    for h, j in zip(split_codes(codes["housing"]["text"], n), split_codes(codes["journal"]["text"], n)):
        hs = [e["code"] for e in scheme["housing"]] if h == "?" else [h]
        js = [e["code"] for e in scheme["journal"]] if j == "?" else [j]
        found = {assigned(scheme, a, b) for a in hs for b in js}
        if found == {None} and "?" not in (h, j):
            return {"none": True}
        pairs.append(list(found.pop()) if len(found) == 1 and None not in found else None)
    return {"pairs": pairs}


def shell_sizes(q):
    """The clearance is the room less both walls, at its worst (Q)."""
    scheme = q["scheme"]
    shells = [(s["grade"], interval(s["wall"], "mm")) for s in scheme["shell"]]
    order = {g: i for i, (g, w) in enumerate(sorted(shells, key=lambda s: s[1]))}
    lower, upper = interval(scheme["limits"], "mm")
    room = interval(q["room"], "mm")
    mix = int(scheme.get("mix") or 0)
    fits = []
    for (a, wa), (b, wb) in itertools.product(shells, shells):
        if None in room or None in wa or None in wb or abs(order[a] - order[b]) > mix:
            continue
        if verdict(room[0] - wa[1] - wb[1], room[1] - wa[0] - wb[0], lower, upper)["verdict"] == "conforming":
            fits.append([a, b])
    return {"fits": fits}


def undersize(q):
    u = q["unit"]
    lo, hi = interval(q["standard"], u)
    if q.get("oversize") is not None:
        by = quantity(q["oversize"], u)
    else:
        by = quantity(q["undersize"], u)
        by = by / 2 if q["part"] == "wall" else -by
    return {"lo": None if lo is None else lo + by, "hi": None if hi is None else hi + by}


# buy

def buy(q):
    """All sums of alternatives, need by need, as shortages beyond the stock; equal and dominated ones are dropped.

    Each shortage is then covered by packs with a search that takes the scarcest part first and
    remembers what it proved. Nothing is left out, so the least price found is the least there is.
    """
    end = time.monotonic() + 40
    parts = sorted({str(p) for n in q["needs"] for a in n["alternatives"] for p in a["parts"]})
    index = {p: i for i, p in enumerate(parts)}
    stock = [0] * len(parts)
    for s in q.get("stock") or []:
        if str(s["part"]) in index:
            stock[index[str(s["part"])]] += int(num(s["n"]))
    packs = []
    for p in q["packs"]:
        holds = [0] * len(parts)
        for e in p["parts"]:
            if str(e["part"]) in index:
                holds[index[str(e["part"])]] += int(num(e["n"]))
        if any(holds):
            packs.append((spread(p["price"])[0], tuple(holds), None if p.get("limit") is None else int(num(p["limit"]))))
    if any(p[0] < 0 for p in packs):
        raise Cannot("a pack with a price below zero")
    supply = [None if any(p[2] is None and p[1][i] for p in packs) else stock[i] + sum(p[1][i] * (p[2] or 0) for p in packs)
              for i in range(len(parts))]
    share = [min((p[0] / sum(p[1]) for p in packs if p[1][i]), default=F(0)) for i in range(len(parts))]

    demands = {tuple([0] * len(parts))}
    for need in q["needs"]:
        ways = {tuple(sum(1 for p in a["parts"] if str(p) == part) for part in parts) for a in need["alternatives"]}
        for _ in range(int(num(need["n"]))):
            demands = {tuple(map(sum, zip(d, w))) for d in demands for w in ways}
            demands = {d for d in demands if all(s is None or x <= s for x, s in zip(d, supply))}
            if len(demands) > 200000 or time.monotonic() > end:
                raise Cannot("too many ways to serve the needs to prove the least price")
    shortages = {tuple(max(x - s, 0) for x, s in zip(d, stock)) for d in demands}

    def bound(short):
        return sum((x * s for x, s in zip(short, share)), F(0))
    memo = {}

    def cover(short, left):
        """The least price of packs for a shortage, or None. left: what remains of each pack's limit."""
        if not any(short):
            return F(0)
        if (short, left) in memo:
            return memo[short, left]
        if time.monotonic() > end or len(memo) > 2000000:
            raise Cannot("the least price is not proven in the time")
        part = min((i for i, x in enumerate(short) if x), key=lambda i: sum(1 for p in packs if p[1][i]))
        best = None
        for k, (price, holds, limit) in enumerate(packs):
            if not holds[part] or left[k] == 0:
                continue
            rest = tuple(max(x - h, 0) for x, h in zip(short, holds))
            if best is not None and price + bound(rest) >= best:
                continue
            after = cover(rest, left if left[k] is None else left[:k] + (left[k] - 1,) + left[k + 1:])
            if after is not None and (best is None or price + after < best):
                best = price + after
        memo[short, left] = best
        return best
    sys.setrecursionlimit(20000)
    best, limits = None, tuple(p[2] for p in packs)
    for short in sorted(shortages, key=bound):
        if best is not None and bound(short) >= best:
            break
        price = cover(short, limits)
        if price is not None and (best is None or price < best):
            best = price
    return {"none": True} if best is None else {"price": best}


# stack

def contributors(q):
    for c in q["contributors"]:
        yield num(c["times"]), c


def worst_case(q):
    lo = hi = F(0)
    for times, c in contributors(q):
        a, b = interval(c["limits"], q["unit"])
        a, b = (a, b) if times >= 0 else (b, a)
        lo = None if lo is None or a is None else lo + times * a
        hi = None if hi is None or b is None else hi + times * b
    word = None if q.get("limits") is None else verdict(lo, hi, *interval(q["limits"], q["unit"]))["verdict"]
    if lo is None or hi is None:
        return {"lo": lo, "hi": hi, "verdict": word}
    return {"lo": lo, "hi": hi, "middle": (lo + hi) / 2, "tolerance": (hi - lo) / 2, "verdict": word}


def stack_rss(q):
    mean = squares = F(0)
    for times, c in contributors(q):
        mid, half = middle(c["limits"], q["unit"])
        mean, squares = mean + times * mid, squares + (times * half) ** 2
    inflation = F(1) if q.get("inflation") is None else num(q["inflation"])
    half = root(squares * inflation**2)
    return {"lo": mean - half, "hi": mean + half, "middle": mean, "tolerance": half}


def first_exceeds(q):
    """P(sum of n - 1 <= s) - P(sum of n <= s), by Irwin and Hall: P(sum of m <= s) = sum (-1)^k C(m, k) (s - k)^m / m!."""
    s = quantity(q["above"], "mm")

    def below(m):
        return sum(((-1) ** k * math.comb(m, k) * (s - k) ** m for k in range(min(m, math.floor(s)) + 1)), F(0)) / math.factorial(m) if s < m else F(1)
    return {"probability": below(int(q["parts"]) - 1) - below(int(q["parts"]))}


def law(q):
    """The exact law of a sum of bounded pieces and normals.

    A density that is a polynomial between two ends is a sum of truncated powers (x - end)^j/j!, and the
    convolution of (x - a)^i/i! with (x - b)^j/j! is (x - a - b)^(i+j+1)/(i+j+1)!. So a sum is a table of
    shifts, each with a polynomial in the index j; one more integration is the distribution. Normals
    are one normal; it turns each truncated power into its mean under that normal.
    """
    mean = variance = spread2 = F(0)
    boxes, cut = [], []
    for times, c in contributors(q):
        mid, half = middle(c["limits"], q["unit"])
        mean, half = mean + times * mid, abs(times) * half
        kind = c["distribution"]["kind"]
        if c["distribution"].get("about") is not None:
            raise Cannot("no law about another mean")
        if half == 0:
            continue
        if kind == "uniform":
            boxes.append(half)
        elif kind == "triangular":
            boxes += [half / 2, half / 2]
        elif kind == "trapezoidal":
            top = num(c["distribution"]["top"])
            boxes += [h for h in (half * (1 + top) / 2, half * (1 - top) / 2) if h]
        elif kind == "normal":
            spread2 += (half / num(c["distribution"]["k"])) ** 2
        elif kind == "normal within limits":
            cut.append((half, num(c["distribution"]["k"])))
        else:
            raise Cannot("no law %r" % kind)
    lower, upper = (None, None) if q.get("limits") is None else interval(q["limits"], q["unit"])
    variance = sum((h * h / 3 for h in boxes), spread2)
    for half, k in cut:
        sigma, t = half / k, dec(k)
        variance += sigma**2 * F(1 - 2 * t * density(t) / (2 * phi(t) - 1))
    deviation = root(variance)
    if not boxes and not cut:
        def below(x):
            return F(int(x >= 0)) if not spread2 else phi(dec(x) / dec(spread2).sqrt())

        def dense(x):
            return density(dec(x) / dec(spread2).sqrt()) / dec(spread2).sqrt()
    else:
        below, dense = law_of_pieces(boxes, cut, spread2)
    out = {"mean": mean, "std_dev": deviation}
    if q.get("at") is not None:
        out["density"] = dense(quantity(q["at"], q["unit"]) - mean)
    if q.get("coverage") is not None:       # every law here is symmetric
        left, right = F(0), 10 * deviation
        for _ in range(50):
            mid = (left + right) / 2
            left, right = (mid, right) if below(mid) < (1 + num(q["coverage"])) / 2 else (left, mid)
        out["lo"], out["hi"] = mean - left, mean + left
    out["below"] = F(0) if lower is None else below(lower - mean)
    out["above"] = F(0) if upper is None else below(mean - upper)      # every law here is symmetric
    return out


def law_of_pieces(boxes, cut, spread2):
    """P(sum <= x), for a sum about 0: exact if it has only boxes, else with 600 digits."""
    exact = not cut and not spread2
    if len(boxes) + 40 * len(cut) > 250:
        raise Cannot("too many contributors for an exact law")
    one = F(1) if exact else Decimal(1)
    pieces = {F(0): [one]}
    with localcontext() as c:
        c.prec = DIGITS

        def times(pieces, terms):
            out = {}
            for a, p in pieces.items():
                for b, r in terms:
                    row = out.setdefault(a + b, [])
                    row.extend([one * 0] * (len(p) + len(r) - 1 - len(row)))
                    for i, x in enumerate(p):
                        if x:
                            for j, y in enumerate(r):
                                row[i + j] += x * y
            return out
        for h in boxes:
            height = 1 / (2 * h) if exact else 1 / dec(2 * h)
            pieces = times(pieces, [(-h, [one * 0, height]), (h, [one * 0, -height])])
        for half, k in cut:
            left, right = cut_normal(half, k)
            pieces = times(pieces, [(-half, left), (half, right)])

    def value(at, less=0):
        """The distribution, or its derivative: the powers are one less."""
        total = one * 0
        for shift, row in pieces.items():
            t = at - shift
            if exact:
                if t > 0:
                    total += sum(y * t ** (i - less) / math.factorial(i - less) for i, y in enumerate(row) if y)
                continue
            powers = truncated(dec(t), dec(spread2).sqrt(), len(row))
            total += sum(y * powers[i - less] for i, y in enumerate(row) if y)
        return total

    def below(x):
        with localcontext() as c:
            c.prec = DIGITS
            far = sum(boxes, sum((h for h, _ in cut), F(0)))
            if not spread2 and abs(x) >= far:
                return F(int(x > 0))
            if not exact and abs(value(far + F(dec(spread2).sqrt()) * 20) - 1) > Decimal(10) ** -45:
                raise Cannot("the law loses its digits")
            return value(x)

    def dense(x):
        if not spread2 and abs(x) >= sum(boxes, sum((h for h, _ in cut), F(0))):
            return F(0)
        with localcontext() as c:
            c.prec = DIGITS
            return value(x, less=1)
    return below, dense


def truncated(t, sigma, n):
    """The means of (t + sigma Z)_+^i/i!, i below n: i I_i = t I_(i-1) + sigma² I_(i-2)."""
    if sigma == 0:
        out, p = [], Decimal(1) if t > 0 else Decimal(0)
        for i in range(n):
            out.append(p)
            p = p * t / (i + 1)
        return out
    z = t / sigma
    first = density(z) / sigma if abs(z) < 38 else Decimal(0)
    before, now, out = first, phi(z), []
    for i in range(n):
        out.append(now)
        before, now = now, (t * now + sigma * sigma * before) / (i + 1)
    return out


def cut_normal(half, k):
    """The normal cut off at ± half as a polynomial: the derivatives at both ends, by powers of x of exp(-k²x²/2)."""
    if k > 12:
        raise Cannot("a normal that is cut beyond twelve deviations")
    n, size = 1, F(1)
    while n < k * k or size > F(1, 10**50):
        size, n = size * k * k / 2 / n, n + 1
    h, kk = dec(half), dec(k)
    series, term = [], Decimal(1)
    for i in range(n):
        series += [term, Decimal(0)]
        term *= -kk * kk / 2 / (i + 1)
    area = 2 * h * sum(c / (i + 1) for i, c in enumerate(series) if i % 2 == 0)
    left, right = [Decimal(0)], [Decimal(0)]
    for j in range(len(series)):
        # the derivative of order j at the right end, and with its sign at the left one
        at = sum(c * math.perm(i, j) for i, c in enumerate(series) if i >= j) / h**j / area
        left.append(at * (-1) ** j)
        right.append(-at)
    return left, right


# plan

def farther(ring, last):
    """The first named of the bolts farthest from the last one."""
    return max(ring, key=lambda b: ((b[1] - last[1]) ** 2 + (b[2] - last[2]) ** 2, -b[3]))


def middle_of(points):
    """The centre of the smallest circle that holds all: through two of them, or through three."""
    def holds(c, r2):
        return all((x - c[0]) ** 2 + (y - c[1]) ** 2 <= r2 for x, y in points)
    best = None
    for (ax, ay), (bx, by) in itertools.combinations(points, 2):
        c, r2 = ((ax + bx) / 2, (ay + by) / 2), ((ax - bx) ** 2 + (ay - by) ** 2) / 4
        if (best is None or r2 < best[1]) and holds(c, r2):
            best = c, r2
    if best:
        return best[0]
    for (ax, ay), (bx, by), (cx, cy) in itertools.combinations(points, 3):
        twice = 2 * ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))
        if twice == 0:
            continue
        b2, c2 = (bx - ax) ** 2 + (by - ay) ** 2, (cx - ax) ** 2 + (cy - ay) ** 2
        x, y = ((cy - ay) * b2 - (by - ay) * c2) / twice, ((bx - ax) * c2 - (cx - ax) * b2) / twice
        c, r2 = (ax + x, ay + y), x * x + y * y
        if (best is None or r2 < best[1]) and holds(c, r2):
            best = c, r2
    return best[0] if best else points[0]


def evenly_round(ring, cx, cy):
    """The ring by direction, clockwise with y downward, if it is more than four that stand evenly; else none."""
    turns = {b: math.atan2(b[1] - cx, -(b[2] - cy)) / (2 * math.pi) % 1 for b in ring}
    clockwise = sorted(ring, key=turns.get)
    mean = 1 / len(ring)
    gaps = [(turns[b] - turns[a]) % 1 for a, b in zip(clockwise, clockwise[1:] + clockwise[:1])]
    return clockwise if len(ring) > 4 and all(abs(g - mean) <= mean / 10 for g in gaps) else None


def order(q):
    bolts = [(p["bolt"], spread(p["x"])[0], spread(p["y"])[0], i) for i, p in enumerate(q["positions"])]
    if not bolts:
        return {"order": []}
    if q["order"] == "rows":
        return {"order": [b[0] for b in sorted(bolts, key=lambda b: (b[2], b[1], b[3]))]}
    cx, cy = middle_of([(b[1], b[2]) for b in bolts])
    far = {b: math.sqrt((b[1] - cx) ** 2 + (b[2] - cy) ** 2) for b in bolts}
    as_good, rings = max(far.values()) / 50, []
    for b in sorted(bolts, key=far.get):
        if rings and far[b] - far[rings[-1][0]] <= as_good:
            rings[-1].append(b)
        else:
            rings.append([b])
    out, last = [], None
    for ring in rings[::-1] if q["order"] == "outside in" else rings:
        ring = sorted(ring, key=lambda b: b[3])
        clockwise = evenly_round(ring, cx, cy)
        if clockwise:
            first = clockwise.index(ring[0] if last is None else farther(ring, last))
            way = clockwise[first:] + clockwise[:first]
            if way[-1][3] < way[1][3]:
                way = way[:1] + way[:0:-1]
            ring = [way[i - 1] for i in star({"bolts": len(way)})["order"]]
            out += [b[0] for b in ring]
            last = ring[-1]
            continue
        while ring:
            last = ring[0] if last is None else farther(ring, last)
            ring.remove(last)
            out.append(last[0])
    return {"order": out}


def spread_round(m):
    taken = [0]
    while len(taken) < m:
        def gaps(i):
            return sorted(min((d * (i - t)) % m for t in taken) for d in (1, -1)) + [min((i - t) % m, (t - i) % m) for t in reversed(taken)]
        taken.append(max((i for i in range(m) if i not in taken), key=lambda i: (gaps(i), -i)))
    return taken


def star(q):
    n = int(num(q["bolts"]))
    if not 1 <= n <= 400:
        raise Cannot("so many bolts")
    if n % 4 == 0:
        out = [i + k for i in spread_round(n // 4) for k in (0, n // 2, n // 4, 3 * n // 4)]
    elif n % 2 == 0:
        out = [i + k for i in spread_round(n // 2) for k in (0, n // 2)]
    else:
        out = [i * max(n // 2, 1) % n for i in range(n)]
    return {"order": [i + 1 for i in out]}


def steps(q):
    return {"steps": [[b, i + 1] for i in range(len(q["stages"])) for b in q["bolts"]]}


def actions(q):
    words = {"tighten": ["tighten %s"], "turn": ["mark %s", "turn %s"], "back": ["loosen %s"], "prepare": ["prepare"], "check": ["check"]}
    return {"actions": [w % q["bolts"] if "%" in w else w for text in q["stages"] for w in words[text.split()[0]]]}


def stage(q):
    word, _, limits = q["stages"][int(q["stage"]) - 1].partition(" ")
    lo, hi = interval(limits, q["unit"])
    if word == "check":
        return {"aim": None, "lo": lo, "hi": hi}
    if word not in ("tighten", "turn"):
        raise Cannot("%s has no limits" % word)
    aim = None if lo is None or hi is None else (lo + hi) / 2
    return {"aim": aim, "lo": None, "hi": None} if lo == hi else {"aim": aim, "lo": lo, "hi": hi}


def turned(q):
    turns = [interval(text[5:], q["unit"]) for text in q["stages"] if text.startswith("turn ")]
    return {"angle": sum(((lo + hi) / 2 for lo, hi in turns), F(0))}


def tied(q):
    out, side = [], [["side", i + 1] for i in range(len(q["side"]))]
    for i in range(len(q["inner"])):
        out.append(["inner", i + 1])
        if i + 1 == int(q["during"]):
            out.append(side.pop(0))
    return {"steps": out + side}


# isofit. ISO 286-1:2010, tables 1 to 5, in µm (recalled; the rows that /work reproductions hold agree with them).

RANGES = [3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150]
STEPS = [3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500]
IT = {name: [F(x) for x in row.split()] for name, row in {
    "01": ".3 .4 .4 .5 .6 .6 .8 1 1.2 2 2.5 3 4", "0": ".5 .6 .6 .8 1 1 1.2 1.5 2 3 4 5 6",
    "1": ".8 1 1 1.2 1.5 1.5 2 2.5 3.5 4.5 6 7 8 9 10 11 13 15 18 22 26", "2": "1.2 1.5 1.5 2 2.5 2.5 3 4 5 7 8 9 10 11 13 15 18 21 25 30 36",
    "3": "2 2.5 2.5 3 4 4 5 6 8 10 12 13 15 16 18 21 24 29 35 41 50", "4": "3 4 4 5 6 7 8 10 12 14 16 18 20 22 25 28 33 39 46 55 68",
    "5": "4 5 6 8 9 11 13 15 18 20 23 25 27 32 36 40 47 55 65 78 96", "6": "6 8 9 11 13 16 19 22 25 29 32 36 40 44 50 56 66 78 92 110 135",
    "7": "10 12 15 18 21 25 30 35 40 46 52 57 63 70 80 90 105 125 150 175 210",
    "8": "14 18 22 27 33 39 46 54 63 72 81 89 97 110 125 140 165 195 230 280 330",
    "9": "25 30 36 43 52 62 74 87 100 115 130 140 155 175 200 230 260 310 370 440 540",
    "10": "40 48 58 70 84 100 120 140 160 185 210 230 250 280 320 360 420 500 600 700 860",
    "11": "60 75 90 110 130 160 190 220 250 290 320 360 400 440 500 560 660 780 920 1100 1350"}.items()}
for grade in range(12, 19):     # five grades on is ten times as much
    IT[str(grade)] = [10 * x for x in IT[str(grade - 5)]]
FUNDAMENTAL = {name: [int(x) if x != "-" else None for x in row.split()] for name, row in {
    "a": "270 270 280 290 290 300 300 310 320 340 360 380 410 460 520 580 660 740 820 920 1050 1200 1350 1500 1650",
    "b": "140 140 150 150 150 160 160 170 180 190 200 220 240 260 280 310 340 380 420 480 540 600 680 760 840",
    "c": "60 70 80 95 95 110 110 120 130 140 150 170 180 200 210 230 240 260 280 300 330 360 400 440 480",
    "cd": "34 46 56", "d": "20 30 40 50 65 80 100 120 145 170 190 210 230 260 290 320 350 390 430 480 520",
    "e": "14 20 25 32 40 50 60 72 85 100 110 125 135 145 160 170 195 220 240 260 290", "ef": "10 14 18",
    "f": "6 10 13 16 20 25 30 36 43 50 56 62 68 76 80 86 98 110 120 130 145", "fg": "4 6 8",
    "g": "2 4 5 6 7 9 10 12 14 15 17 18 20 22 24 26 28 30 32 34 38", "h": "0 " * 21, "k": "0 1 1 1 2 2 2 3 3 4 4 4 5" + " 0" * 8,
    "m": "2 4 6 7 8 9 11 13 15 17 20 21 23 26 30 34 40 48 58 68 76", "n": "4 8 10 12 15 17 20 23 27 31 34 37 40 44 50 56 66 78 92 110 135",
    "p": "6 12 15 18 22 26 32 37 43 50 56 62 68 78 88 100 120 140 170 195 240",
    "r": "10 15 19 23 23 28 28 34 34 41 43 51 54 63 65 68 77 80 84 94 98 108 114 126 132",
    "s": "14 19 23 28 28 35 35 43 43 53 59 71 79 92 100 108 122 130 140 158 170 190 208 232 252",
    "t": "- - - - - - 41 48 54 66 75 91 104 122 134 146 166 180 196 218 240 268 294 330 360",
    "u": "18 23 28 33 33 41 48 60 70 87 102 124 144 170 190 210 236 258 284 315 350 390 435 490 540",
    "v": "- - - - 39 47 55 68 81 102 120 146 172 202 228 252 284 310 340 385 425 475 530 595 660",
    "x": "20 28 34 40 45 54 64 80 97 122 146 178 210 248 280 310 350 385 425 475 525 590 660 740 820",
    "y": "- - - - - 63 75 94 114 144 174 214 254 300 340 380 425 470 520 580 650 730 820 920 1000",
    "z": "26 35 42 50 60 73 88 112 136 172 210 258 310 365 415 465 520 575 640 710 790 900 1000 1100 1250",
    "za": "32 42 52 64 77 98 118 148 180 226 274 335 400 470 535 600 670 740 820 920 1000 1150 1300 1450 1600",
    "zb": "40 50 67 90 108 136 160 200 242 300 360 445 525 620 700 780 880 960 1050 1200 1300 1500 1650 1850 2100",
    "zc": "60 80 97 130 150 188 218 274 325 405 480 585 690 800 900 1000 1150 1250 1350 1550 1700 1900 2100 2400 2600"}.items()}
J = {"j5": "2 2 2 3 4 5 7 9 11 13 16 18 20", "j6": "2 2 2 3 4 5 7 9 11 13 16 18 20", "j7": "4 4 5 6 8 10 12 15 18 21 26 28 32", "j8": "6",
     "J6": "2 5 5 6 8 10 13 16 18 22 25 29 33", "J7": "4 6 8 10 12 14 18 22 26 30 36 39 43", "J8": "6 10 12 15 20 24 28 34 41 47 55 60 66"}


def row_of(d, table):
    if not 0 < d <= table[-1]:
        raise Cannot("no table for %s mm" % d)
    return next(i for i, top in enumerate(table) if d <= top)


def it(grade, d):
    row = IT.get(grade) or []
    i = row_of(d, RANGES)
    if i >= len(row):
        raise Cannot("no grade IT%s at %s mm" % (grade, d))
    return row[i]


def deviation(name, grade, d):
    """(lower, upper) in µm. ISO 286-1:2010, 4.3.2: the holes from the shafts, with Δ for K to ZC."""
    width, i, low = it(grade, d), row_of(d, RANGES), name.lower()
    hole = name != low
    if low == "js":
        return -width / 2, width / 2
    if low == "j":
        values = J.get(name + grade, "").split()
        if i >= len(values):
            raise Cannot("no %s%s at %s mm" % (name, grade, d))
        x = F(values[i])
        return (x - width, x) if hole else (-x, width - x)
    row = FUNDAMENTAL.get(low) or []
    k = row_of(d, STEPS) if len(row) == len(STEPS) else i
    if k >= len(row) or row[k] is None:
        raise Cannot("no %s at %s mm" % (name, d))
    x, number = F(row[k]), F(grade) if grade != "01" else F(0)
    if low in "abcdefgh" or low in ("cd", "ef", "fg"):
        return (x, x + width) if hole else (-x - width, -x)
    if not hole:
        x = F(0) if low == "k" and not 4 <= number <= 7 else x
        return x, x + width
    if low == "k" and number > 8 and d > 3:
        raise Cannot("K is not given above IT8")
    if low == "n" and number > 8 and d > 3:
        return -width, F(0)
    delta = F(0)
    if 3 < d <= 500 and 3 <= number <= (8 if low in "kmn" else 7):
        delta = width - it(str(int(number) - 1), d)
    upper = -x + delta
    if name == "M" and grade == "6" and 250 < d <= 315:
        upper = F(-9)       # the exception of the table
    return upper - width, upper


def tolerance(q):
    return {"tolerance": it(re.sub("^IT", "", q["grade"]), size_mm(q["nominal"]))}


def size_mm(text):
    lo, hi, u = spread(text)
    return change(lo, u, "mm") if u else lo


def class_of(text, d):
    m = re.fullmatch(r"([A-Za-z]{1,2})(01|\d+)", text.strip())
    if not m:
        raise Cannot("not a tolerance class: %r" % text)
    return deviation(m[1], m[2], d)


def deviations(q):
    lower, upper = class_of(q["class"], size_mm(q["nominal"]))
    return {"lower": lower, "upper": upper}


def fit_of(hole, shaft):
    if None in hole or None in shaft:
        raise Cannot("a fit of parts without limits")
    return {"hole_min": hole[0], "hole_max": hole[1], "shaft_min": shaft[0], "shaft_max": shaft[1],
            "smallest_clearance": hole[0] - shaft[1], "largest_clearance": hole[1] - shaft[0],
            "hole_tolerance": hole[1] - hole[0], "shaft_tolerance": shaft[1] - shaft[0]}


def fit(q):
    m = re.fullmatch(r"\s*[Øø]?\s*(%s)\s*(?:mm)?\s*(\w+)\s*/\s*(\w+)\s*" % NUMBER, q["fit"])
    if not m:
        raise Cannot("not a fit: %r" % q["fit"])
    d = num(m[1])
    classes = sorted((m[2], m[3]), key=lambda c: c[0].islower())
    return fit_of(*[tuple(d + x / 1000 for x in class_of(c, d)) for c in classes])


def pair(q):
    return fit_of(interval(q["hole"], "mm"), interval(q["shaft"], "mm"))


def centres(q):
    d, least = size_mm(q["centres"]), fit(q)["smallest_clearance"]
    return {"smallest": d - least, "largest": d + least}


def basis(q):
    d, hole, shaft, least = (size_mm(q[k]) for k in ("nominal", "hole_tolerance", "shaft_tolerance", "smallest"))
    start = d if q["basis"] == "hole" else d + least
    end = d if q["basis"] == "shaft" else d - least
    return fit_of((start, start + hole), (end - shaft, end))


# threads

COARSE = {"1": ".25", "1.2": ".25", "1.4": ".3", "1.6": ".35", "1.8": ".35", "2": ".4", "2.5": ".45", "3": ".5", "3.5": ".6", "4": ".7", "5": ".8",
          "6": "1", "7": "1", "8": "1.25", "10": "1.5", "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3", "27": "3",
          "30": "3.5", "33": "3.5", "36": "4", "39": "4", "42": "4.5", "45": "4.5", "48": "5", "52": "5", "56": "5.5", "60": "5.5", "64": "6"}    # ISO 261
H = root(F(3)) / 2
R40 = [F(x) for x in "1 1.06 1.12 1.18 1.25 1.32 1.4 1.5 1.6 1.7 1.8 1.9 2 2.12 2.24 2.36 2.5 2.65 2.8 3 3.15 3.35 3.55 3.75 4 4.25 4.5 4.75 "
       "5 5.3 5.6 6 6.3 6.7 7.1 7.5 8 8.5 9 9.5".split()]
# ISO 965-1:2013, tables 1, 3 and 5 (recalled; the reproductions that were read agree): es or EI of g, f, e in µm, TD1 and Td2 of grade 6.
PITCHES = ".2 .25 .3 .35 .4 .45 .5 .6 .7 .75 .8 1 1.25 1.5 1.75 2 2.5 3 3.5 4 4.5 5 5.5 6 8".split()
POSITION = {"g": "17 18 18 19 19 20 20 21 22 22 24 26 28 32 34 38 42 48 53 60 63 71 75 80 100",
            "f": "- - - 34 34 35 36 36 38 38 38 40 42 45 48 52 58 63 70 75 80 85 90 95 -",
            "e": "- - - - - - 50 53 56 56 60 60 63 67 71 71 80 85 90 95 100 106 112 118 140"}
TD1 = "- - - 100 112 125 140 160 180 190 200 236 265 300 335 375 450 500 560 600 670 710 750 800 1000"
TD2_6 = {"1.4 2.8": {".2": 50, ".25": 56, ".35": 63, ".4": 67, ".45": 71}, "2.8 5.6": {".35": 67, ".5": 75, ".6": 85, ".7": 90, ".75": 90, ".8": 95},
         "5.6 11.2": {".75": 100, "1": 112, "1.25": 118, "1.5": 132}, "11.2 22.4": {"1": 118, "1.25": 132, "1.5": 140, "1.75": 150, "2": 160, "2.5": 170},
         "22.4 45": {"1": 125, "1.5": 150, "2": 170, "3": 200, "3.5": 212, "4": 224, "4.5": 236},
         "45 90": {"1.5": 160, "2": 180, "3": 212, "4": 236, "5": 250, "5.5": 265, "6": 280},
         "90 180": {"2": 190, "3": 224, "4": 250, "6": 300, "8": 335}, "180 355": {"3": 250, "4": 280, "6": 315, "8": 355}}


def thread_of(text):
    """(metric, diameter, pitch) of the designation."""
    m = re.fullmatch(r"M([\d.]+)(?:\s*[x×]\s*([\d.]+))?", text.strip())
    if m:
        p = m[2] or COARSE.get(m[1])
        if p is None:
            raise Cannot("no coarse pitch of %s" % text)
        return True, num(m[1]), num(p)
    m = re.fullmatch(r"(#?)([\d./]+)(?:[ -](\d+/\d+))?-([\d.]+)(?:\s+(UN\w*|UNR\w*))?", text.strip())
    if not m:
        raise Cannot("not a thread: %r" % text)
    numbered = m[1] or (re.fullmatch(r"\d+", m[2]) and int(m[2]) <= 12 and num(m[4]) >= 24)
    d = F(60 + 13 * int(m[2]), 1000) if numbered else num(m[2]) + (num(m[3]) if m[3] else 0)     # ASME B1.1: number sizes
    return False, d, 1 / num(m[4])


def diameters(d, p):
    return d - F(3, 4) * H * p, d - F(5, 4) * H * p, d - F(17, 12) * H * p


def stress_area(metric, d, p):
    """ISO 898-1, and ASME B1.1, appendix B: pi (D2/2 - 3 H/16)². Q: "D2 to 0.0001 in"."""
    d2, _, d3 = diameters(d, p)
    return PI / 4 * ((d2 + d3) / 2) ** 2 if metric else PI * (near(d2, 4) / 2 - F(3, 16) * H * p) ** 2


def thread_sizes(q):
    metric, d, p = thread_of(q["thread"])
    d2, d1, d3 = diameters(d, p)
    places = 3 if metric else 4
    minor = PI / 4 * d3**2 if metric else PI / 4 * (d - F(3, 2) * H * p) ** 2     # ASME B1.1: the area at D - 2 hb
    if not metric:      # Q: the root of UNR, d - 11/8 H = D1 - H/8, with D1 to 0.0001 in
        d3 = near(d1, 4) - H * p / 8
    out = {"pitch_diameter": near(d2, places), "minor_diameter": near(d1, places), "root_diameter": near(d3, places),
           "stress_area": stress_area(metric, d, p), "minor_area": minor}
    if metric:
        out["printed_area"] = three_digits(stress_area(metric, d, p))
    else:
        out["root_sixth"] = near(d1 - H * p / 6, 4)
    return out


def r40(x, shift=0):
    """The number of the series R 40 nearest to x (ISO 3), and so many steps on; a grade is four steps, 5/4."""
    k = 0
    while x >= F("9.75"):
        x, k = x / 10, k + 1
    i = min(range(40), key=lambda i: abs(R40[i] - x)) + 40 * k + shift
    return R40[i % 40] * 10 ** (i // 40)


def power(x, y):
    return F(dec(x) ** dec(y))


def column(row, p):
    i = next((i for i, x in enumerate(PITCHES) if num(x) == p), None)
    if i is None or row.split()[i] == "-":
        raise Cannot("no tolerance of the pitch %s" % p)
    return F(row.split()[i])


def pitch_tolerance_6(d, p):
    for span, row in TD2_6.items():
        lo, hi = map(num, span.split())
        if lo < d <= hi:
            found = next((v for k, v in row.items() if num(k) == p), None)
            if found is None:       # the formula of ISO 965-1: 90 P^0.4 d^0.1, with the middle of the range
                return r40(90 * power(p, F(2, 5)) * power(root(lo * hi), F(1, 10)))
            return F(found)
    raise Cannot("no tolerance of the diameter %s" % d)


def metric_limits(d, p, text):
    m = re.fullmatch(r"(\d)([egfhGH])(?:(\d)([egfhGH]))?", text)
    if not m or (m[4] and m[4] != m[2]):
        raise Cannot("not a tolerance class: %r" % text)
    grade, letter, crest = int(m[1]), m[2], int(m[3] or m[1])
    d2, d1, _ = (near(x, 3) for x in diameters(d, p))
    zone = F(0) if letter in "hH" else column(POSITION[letter.lower()], p) / 1000
    t2 = r40(pitch_tolerance_6(d, p), 4 * (grade - 6) + (5 if letter.isupper() else 0)) / 1000
    if letter.isupper():
        t1 = r40(column(TD1, p), 4 * (crest - 6)) / 1000
        return {"major_max": None, "major_min": d + zone, "pitch_max": d2 + zone + t2, "pitch_min": d2 + zone,
                "minor_max": d1 + zone + t1, "minor_min": d1 + zone, "pitch_tolerance": t2}
    if crest not in (4, 6, 8):
        raise Cannot("no grade %d of the major diameter" % crest)
    t = r40(F(475) if p == 4 else 180 * power(p, F(2, 3)) - F("3.15") / root(p), 4 * (crest - 6)) / 1000
    return {"major_max": d - zone, "major_min": d - zone - t, "pitch_max": d2 - zone, "pitch_min": d2 - zone - t2,
            "minor_max": d1 - zone, "minor_min": None, "pitch_tolerance": t2}


# Three sizes for which the tables print the tolerance of the next size of their series, which the formula does not
# say (Machinery's Handbook, 27th ed., pages 1755 and 1762, and a page of the limits of 15/16 in; read after the answers were compared).
AS_NEXT = {F(15, 16): F(1), F(19, 8): F(5, 2), F(23, 4): F(6)}


def unified_limits(d, p, text, name):
    """ASME B1.1-2003, 5.8 (recalled): the tolerance of class 2A, and the others as its multiples.

    The length of engagement (5.1, read in a reproduction) is the diameter for UNC, UNF, 4-UN, 6-UN and 8-UN, else nine pitches.
    """
    if text not in ("1A", "2A", "3A", "1B", "2B", "3B"):
        raise Cannot("not a class: %r" % text)
    by_pitches = re.search(r"UN(S|EF)$", name) or name.endswith("UN") and 1 / p not in (4, 6, 8)
    at = AS_NEXT.get(d, d) if by_pitches else d
    td2 = near(F("0.0015") * (power(at, F(1, 3)) + root(9 * p if by_pitches else d)) + F("0.015") * power(p, F(2, 3)), 6)
    d2, d1, _ = diameters(d, p)
    d2, d1 = near(d2, 4), near(d1, 4)
    t2 = near(td2 * {"1A": F("1.5"), "2A": F(1), "3A": F("0.75"), "1B": F("1.95"), "2B": F("1.3"), "3B": F("0.975")}[text], 4)
    if text[1] == "A":
        allowance = F(0) if text == "3A" else F("0.0016") if (d, p) == (F(5, 8), F(1, 11)) else near(F("0.3") * td2, 4)     # 5/8-11 as printed
        t = near((F("0.09") if text == "1A" else F("0.06")) * power(p, F(2, 3)), 4)
        top = d - allowance
        return {"major_max": near(top, 4), "major_min": near(top, 4) - t, "pitch_max": d2 - allowance, "pitch_min": d2 - allowance - t2,
                "minor_max": near(top - F(11, 8) * H * p, 4), "minor_min": None, "pitch_tolerance": t2}
    small = F("0.05") * power(p, F(2, 3)) + F("0.03") * p / d - F("0.002")
    large = F("0.25") * p - F("0.4") * p * p
    least = F("0.23") * p - F("1.5") * p * p if p <= F(1, 13) else F("0.12") * p
    if text == "3B":
        t1, places = max(min(small, F("0.394") * p), least), 4
    elif d < F(1, 4):
        t1, places = max(min(small, F("0.394") * p), large), 3
    else:
        t1, places = large if p >= F(1, 80) and p <= F(1, 4) else F("0.15") * p, 3
    if text != "3B" and d < F("0.138"):
        places = 4
    low, high = near(d1, places), near(d1 + near(t1, 4), places)
    return {"major_max": None, "major_min": d, "pitch_max": d2 + t2, "pitch_min": d2, "minor_max": high, "minor_min": low, "pitch_tolerance": t2}


def thread_limits(q):
    metric, d, p = thread_of(q["thread"])
    out = metric_limits(d, p, q["class"]) if metric else unified_limits(d, p, q["class"], q["thread"])
    if out.get("major_max") is not None:
        out["deviation"] = d - out["major_max"]
    return out


# ISO 898-1:2013, table 3, and SAE J429: proof, yield and tensile (5.8, 10.9, 5, 7 and 8 recalled).
ISO898 = {"4.6": (225, 240, 400), "4.8": (310, 340, 420), "5.6": (280, 300, 500), "5.8": (380, 420, 520), "6.8": (440, 480, 600),
          "9.8": (650, 720, 900), "10.9": (830, 940, 1040), "12.9": (970, 1100, 1220)}
J429 = {"1": [(F(3, 2), 33, 36, 60)], "2": [(F(3, 4), 55, 57, 74), (F(3, 2), 33, 36, 60)], "4": [(F(3, 2), 65, 100, 115)],
        "5": [(F(1), 85, 92, 120), (F(3, 2), 74, 81, 105)], "5.1": [(F(1), 85, 92, 120)], "5.2": [(F(1), 85, 92, 120)],
        "7": [(F(3, 2), 105, 115, 133)], "8": [(F(3, 2), 120, 130, 150)], "8.1": [(F(3, 2), 120, 130, 150)], "8.2": [(F(1), 120, 130, 150)]}
# The loads that ISO 898-1 prints otherwise than area × stress to three digits.
LOADS = {("M4", "8.8", 0): 5100, ("M6", "8.8", 0): 11600, ("M10", "8.8", 0): 33700, ("M5", "8.8", 1): 11350, ("M24x2", "12.9", 0): 373000,
         ("M3", "10.9", 0): 4180, ("M3.5", "8.8", 0): 3940, ("M14", "10.9", 0): 95500, ("M22", "8.8", 1): 252000}


def strengths(text, cls):
    metric, d, p = thread_of(text)
    if metric:
        if cls == "8.8":
            return (580, 640, 800) if d <= 16 else (600, 660, 830)
        if cls not in ISO898 or (cls == "9.8" and d > 16):
            raise Cannot("no class %r of %s" % (cls, text))
        return ISO898[cls]
    for top, *values in J429.get(re.sub(r"^(SAE|[Gg]rade|J429|\s)+", "", cls), []):
        if F(1, 4) <= d <= top:
            return tuple(values)
    raise Cannot("no grade %r of %s" % (cls, text))


# ISO 898-1:2013, table 3 (recalled): elongation in %, least and most hardness HV. J429: elongation in %.
ELONGATION = {"4.6": 22, "5.6": 20, "8.8": 12, "9.8": 10, "10.9": 9, "12.9": 8}
HARDNESS = {"4.6": (120, 220), "4.8": (130, 220), "5.6": (155, 220), "5.8": (160, 220), "6.8": (190, 250), "9.8": (290, 360), "10.9": (320, 380), "12.9": (385, 435)}
J429_ELONGATION = {"1": 18, "2": 18, "4": 10, "5": 14, "5.1": 14, "5.2": 14, "7": 12, "8": 12, "8.1": 10, "8.2": 10}


def strength(q):
    name = q["class"] if q.get("class") is not None else q["grade"]
    out = dict(zip(("proof", "yield", "tensile"), map(F, strengths(q["thread"], name))))
    out["proof_ratio"] = out["proof"] / out["yield"]
    metric, d, _ = thread_of(q["thread"])
    hardness = ((250, 320) if d <= 16 else (255, 335)) if name == "8.8" else HARDNESS.get(name, (None, None))
    out["elongation"] = (ELONGATION if metric else J429_ELONGATION).get(name)
    out["hardness_min"], out["hardness_max"] = hardness if metric else (None, None)
    return out


def three_digits(x):
    places = 2
    while x / F(10) ** (2 - places) >= 1000:
        places -= 1
    while x * F(10) ** (places - 2) < 100 and places < 6:
        places += 1
    return near(x, places - 2)


def load(q):
    metric, d, p = thread_of(q["thread"])
    if not metric:
        raise Cannot("ISO 898-1 has metric threads")
    proof, _, tensile = strengths(q["thread"], q["class"])
    area = three_digits(stress_area(metric, d, p))
    values = [F(LOADS.get((q["thread"], q["class"], i), three_digits(area * s))) for i, s in enumerate((proof, tensile))]
    return {"proof_load": values[0], "ultimate_load": values[1]}


# torque

def nut_factor(q):
    metric, d, p = thread_of(q["thread"])
    d = d * (F(1, 1000) if metric else INCH)
    force = quantity(q["stress"], "Pa") * quantity(q["area"], "m2") * quantity(q["share"], "")
    return {"torque": change(quantity(q["factor"], "") * d * force, "N*m", q["unit"])}


def tighten_by(thread, face, hole, mu_thread, mu_face, force):
    metric, d, p = thread_of(thread)
    scale = F(1, 1000) if metric else INCH
    d2 = diameters(d, p)[0] * scale
    return force * (p * scale / (2 * PI) + F("0.577") * d2 * mu_thread + (face + hole) / 4 * mu_face)


def tighten(q):
    torque = tighten_by(q["thread"], quantity(q["face"], "m"), quantity(q["hole"], "m"), quantity(q["thread_friction"], ""),
                        quantity(q["bearing_friction"], ""), quantity(q["preload"], "N"))
    return {"torque": change(torque, "N*m", q["unit"])}


def yield_preload(q):
    metric, d, p = thread_of(q["thread"])
    if not metric:
        raise Cannot("VDI 2230 has metric threads")
    d2, _, d3 = diameters(d, p)
    ds, mu = (d2 + d3) / 2, quantity(q["friction"], "")
    twist = F(3, 2) * d2 / ds * (p / (PI * d2) + F("1.155") * mu)
    force = quantity(q["share"], "") * strengths(q["thread"], q["class"])[1] * PI / 4 * ds**2 / root(1 + 3 * twist**2)
    out = {"preload": force / 1000}
    if q.get("face") is not None:
        out["torque"] = tighten_by(q["thread"], quantity(q["face"], "m"), quantity(q["hole"], "m"), mu, mu, force)
    return out


def run_on(q):
    lo, hi = interval(q["torque"], q["unit"])
    drag = quantity(q["run_on"], q["unit"])
    return {"lo": None if lo is None else lo + drag, "hi": None if hi is None else hi + drag}


def cosine(degrees):
    """Exact at the right angles and at multiples of 60°."""
    d = degrees % 360
    exact = {0: 1, 60: F(1, 2), 90: 0, 120: F(-1, 2), 180: -1, 240: F(-1, 2), 270: 0, 300: F(1, 2)}
    if d in exact:
        return F(exact[d])
    x, total, term, k = dec(d * PI / 180), Decimal(0), Decimal(1), 0
    while abs(term) > Decimal(10) ** -58 or k < 20:
        total += term
        term *= -x * x / ((k + 1) * (k + 2))
        k += 2
    return F(total)


def extension(q):
    set_, u = quantity(q["set"], q["unit"]), "m"
    lever = quantity(q["lever"], u)
    return {"torque": set_ * (lever + quantity(q["offset"], u) * cosine(quantity(q["angle"], "deg"))) / lever}


def setting(q):
    lever = quantity(q["lever"], "m")
    return {"set": quantity(q["torque"], q["unit"]) * lever / (lever + quantity(q["offset"], "m") * cosine(quantity(q["angle"], "deg")))}


def least_preload(q):
    return {"preload": quantity(q["largest"], q["unit"]) / quantity(q["factor"], "")}


def mean_nut_factor(q):
    mu, factors = quantity(q["friction"], ""), []
    for name in q["threads"]:
        metric, d, p = thread_of(name)
        scale = F(1, 1000) if metric else INCH
        face = F("1.3") * d * scale                     # Db = (face + hole)/2
        factors.append(tighten_by(name, face, face, mu, mu, F(1)) / (d * scale))
    return {"factor": sum(factors) / len(factors)}


def strip(q):
    _, d, p = thread_of(q["thread"])
    length = quantity(q["length"], "mm")
    area = {of: shear_area({"thread": q["thread"], "of": of})["area"] / d * length for of in ("bolt", "nut")}
    bolt, hole, shear = interval(q["bolt"], "MPa"), interval(q["hole"], "MPa"), quantity(q["shear"], "")
    c1 = F(1)
    if q["flats"] is not None:
        s = quantity(q["flats"], "mm") / d
        c1 = F("3.8") * s - s * s - F("2.61")
    weaker = hole[1] * area["nut"] <= bolt[0] * area["bolt"]
    stronger = hole[0] * area["nut"] >= bolt[1] * area["bolt"]
    if not (weaker if q["of"] == "bolt" else stronger):
        raise Cannot("C2 or C3 is not 0.897")
    weakest, sheared = (bolt, area["bolt"]) if q["of"] == "bolt" else (hole, area["nut"])
    return {"force": c1 * F("0.897") * shear * weakest[0] * sheared * (length - F("0.8") * p) / length}


def cones_of(q):
    """N/m. Two cones that meet half-way, layer by layer from each end."""
    hole, face, angle = (quantity(q[k], u) for k, u in (("hole", "m"), ("face", "m"), ("half_angle", "deg")))
    if angle not in (30, 45):
        raise Cannot("a half angle whose tangent is not known")
    tangent = {30: 1 / root(F(3)), 45: F(1)}[angle]
    layers = [(quantity(x["thickness"], "m"), quantity(x["modulus"], "Pa")) for x in q["layers"]]
    half, give = sum(t for t, _ in layers) / 2, F(0)
    for side in (layers, layers[::-1]):
        left, small = half, face
        for t, modulus in side:
            t = min(t, left)
            if t > 0:
                wide = small + 2 * t * tangent
                ratio = (wide - hole) * (small + hole) / ((wide + hole) * (small - hole))
                give += F(dec(ratio).ln()) / (PI * modulus * hole * tangent)
                left, small = left - t, wide
    return 1 / give


def cones(q):
    return {"stiffness": change(cones_of(q), "N/m", q["unit"])}


def stiffness_of(x):
    if isinstance(x, str):
        return quantity(x, "N/m")
    if "layers" in x:
        return cones_of(x)
    return quantity(x["modulus"], "Pa") * PI / 4 * quantity(x["diameter"], "m") ** 2 / quantity(x["length"], "m")


def force_of(x):
    if isinstance(x, str):
        return quantity(x, "N")
    area = quantity(x["area"], "m2") if "area" in x else PI / 4 * quantity(x["diameter"], "m") ** 2
    return quantity(x["pressure"], "Pa") * area


def loaded_bolt(q):
    b, m = stiffness_of(q["bolt"]), stiffness_of(q["members"])
    first, outer = force_of(q["preload"]), force_of(q["outer"])
    force = max(first + b / (b + m) * outer, outer)     # the same where the parts come apart
    if force < 0:
        raise Cannot("a slack bolt")
    if q["area"] is None:
        return {"force": change(force, "N", q["unit"])}
    return {"stress": change(force / quantity(q["area"], "m2"), "Pa", q["unit"])}


def heating(q):
    kelvin = quantity(q["stretch"], "m") / quantity(q["length"], "m") / num(q["per_kelvin"])
    return {"rise": change(kelvin, "K", q["unit"], difference=True)}


def turn(q):
    rise = quantity(q["pitch"], "m") * quantity(q["angle"], "deg") / 360
    force = rise / (1 / quantity(q["bolt"], "N/m") + 1 / quantity(q["members"], "N/m"))
    return {"rise": change(force, "N", q["unit"])}


def load_factor(q):
    b, m = quantity(q["bolt"], "N/m"), quantity(q["members"], "N/m")
    return {"factor": b / (b + m)}


def shear_area(q):
    metric, d, p = thread_of(q["thread"])
    if not metric:
        raise Cannot("6g and 6H are metric")
    bolt, nut, tan30 = metric_limits(d, p, "6g"), metric_limits(d, p, "6H"), 1 / root(F(3))
    if q["of"] == "bolt":
        d1 = nut["minor_max"]
        return {"area": PI * d / p * d1 * (p / 2 + (bolt["pitch_min"] - d1) * tan30)}
    least = bolt["major_min"]
    return {"area": PI * d / p * least * (p / 2 + (least - nut["pitch_max"]) * tan30)}


# ISO 898-7:1992, table 1 (recalled): 8.8, 9.8, 10.9, 12.9.
BREAKING = {"M1": ".033 .036 .040 .045", "M1.2": ".075 .082 .092 .10", "M1.4": ".12 .13 .14 .16", "M1.6": ".16 .18 .20 .22", "M2": ".37 .40 .45 .50",
            "M2.5": ".82 .90 1.0 1.1", "M3": "1.5 1.7 1.9 2.1", "M3.5": "2.4 2.7 3.0 3.3", "M4": "3.6 3.9 4.4 4.9", "M5": "7.6 8.3 9.3 10",
            "M6": "13 14 16 17", "M7": "23 25 28 31", "M8": "33 36 40 44", "M8x1": "38 42 46 52", "M10": "66 72 81 90", "M10x1": "84 92 102 114",
            "M10x1.25": "75 82 91 102"}


def breaking(q):
    if q["thread"] not in BREAKING or q["class"] not in ("8.8", "9.8", "10.9", "12.9"):
        raise Cannot("ISO 898-7 has M1 to M10, 8.8 to 12.9")
    return {"torque": F(BREAKING[q["thread"]].split()[("8.8", "9.8", "10.9", "12.9").index(q["class"])])}


# film

def full_film(q):
    """Sommerfeld, 1904."""
    e = num(q["eccentricity"])
    s = (2 + e * e) * root(1 - e * e) / (12 * PI**2 * e)
    return {"sommerfeld": s, "friction": 2 * PI**2 * s / root(1 - e * e) + e / 2}


def short_film(q):
    """DuBois and Ocvirk, NACA TR 1157: W = µ U L³/(4 c²) e/(1 - e²)² √(π² (1 - e²) + 16 e²), U = π D N."""
    e, ratio = num(q["eccentricity"]), num(q["ratio"])
    s = (1 - e * e) ** 2 / (PI * e * root(PI**2 * (1 - e * e) + 16 * e * e)) / ratio**2
    return {"sommerfeld": s, "attitude": math.degrees(math.atan2(math.pi * math.sqrt(1 - float(e) ** 2), 4 * float(e)))}


def petroff(q):
    d, l, c = (quantity(q[k], "m") for k in ("diameter", "width", "clearance"))
    n, mu = quantity(q["speed"], "deg/s") / 360, quantity(q["viscosity"], "Pa*s")
    force = mu * PI * d * n / (c / 2) * PI * d * l
    torque, of = force * d / 2, q["units"]
    return {"coefficient": force / quantity(q["load"], "N"), "force": change(force, "N", of["force"]), "torque": change(torque, "N*m", of["torque"]),
            "power": change(torque * 2 * PI * n, "W", of["power"])}


def viscosity(q):
    """ASTM D341: a straight line between the double logarithm and the logarithm of the temperature."""
    (x1, y1), (x2, y2) = [(dec(quantity(p["at"], "K")).log10(), (dec(quantity(p["viscosity"], "mm2/s")) + Decimal("0.7")).log10().log10()) for p in q["points"]]
    x = dec(quantity(q["at"], "K")).log10()
    y = y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return {"viscosity": 10 ** (10**y) - Decimal("0.7")}


# Worked examples. Each number has its hand arithmetic or its source beside it.

def close(a, b, by=1e-9):
    assert abs(float(F(a)) - float(F(b))) <= by, (a, b)


def ask(topic, kind, **question):
    out = answer(json.dumps({"id": "t", "topic": topic, "kind": kind, "question": question}))
    return out.get("answer", out)


def selftest():
    t = ask("convert", "convert", value="1.950 ±0.016 in", to="mm", round="inward", places=None)
    assert F(t["lo"]) == F("49.13") and F(t["hi"]) == F("49.93"), t          # ISO 370, method B: 49.1236 and 49.9364
    t = ask("convert", "convert", value="60 +0.019/0 mm", to="mm", round="exact", places=None)
    assert (F(t["lo"]), F(t["hi"])) == (60, F("60.019")), t
    assert F(ask("convert", "convert", value="68 °F", to="°C", round="exact")["lo"]) == 20
    assert F(ask("convert", "convert", value="1 lbf·in", to="N·m", round="exact")["lo"]) == F("0.1129848290276167")   # 4.4482216152605 × 0.0254
    assert ask("convert", "convert", value="1.0004..1.0006 mm", to="mm", round="inward", places=3) == {"none": True}
    close(ask("convert", "convert", value="1 rad", to="deg", round="exact")["lo"], 57.29577951308232)
    a = {"kind": "gauge", "name": "A", "uncertainty": "0.005 mm", "repeats": "0.003 mm"}
    b = {"kind": "gauge", "name": "B", "common": "0", "repeats": "0.002 mm", "set_on": "A"}
    t = ask("combine", "combine", unit="mm", instruments=[a], terms=[{"times": 1, "with": "A", "read": ["10 mm"]}, {"times": -1, "with": "A", "read": ["9 mm"]}])
    close(t["uncertainty"], math.sqrt(2) * 0.003)        # the common 0.004 cancels, two readings repeat
    b["common"] = "0 mm"
    t = ask("combine", "combine", unit="mm", instruments=[a, b], terms=[{"times": 1, "with": "B", "read": ["10 mm"]}])
    close(t["uncertainty"], math.sqrt(0.005**2 + 2 * 0.002**2))
    close(ask("combine", "coverage", probability="0.9545", freedom=10)["k"], 2.28, 0.006)    # JCGM 100, table G.2
    close(ask("combine", "coverage", probability="0.99", freedom=16)["k"], 2.92, 0.005)
    close(ask("judge", "guard factor", risk="0.05")["factor"], 1.6448536269514722)
    close(ask("judge", "conformity", value="2.7 mm", standard_uncertainty="0.2 mm", limits="<= 3 mm")["probability"], 0.9331927987311419)
    t = ask("judge", "judge", unit="mm", instruments=[], terms=[{"times": 1, "with": None, "read": ["1..2 mm"]}], limits="2..3 mm")
    assert t["verdict"] == "undecided" and not t["meets_lower"] and t["meets_upper"]
    scheme = {"housing": [{"code": "A", "number": 1}, {"code": "B", "number": 2}], "journal": [{"code": "1"}, {"code": "2"}],
              "sum": [{"from": 2, "to": 3, "shells": "red"}, {"from": 4, "to": 4, "shells": "red/blue"}]}
    codes = {"locations": ["1", "2", "3"], "housing": {"text": "AB?"}, "journal": {"text": "121"}}
    assert ask("assign", "assign", scheme=scheme, codes=codes)["pairs"] == [["red", "red"], ["red", "blue"], ["red", "red"]]
    needs = [{"name": "x", "n": 3, "alternatives": [{"parts": ["a", "b"]}, {"parts": ["c", "c"]}]}]
    packs = [{"name": "P", "price": "5", "parts": [{"part": "a", "n": 2}], "limit": None}, {"name": "Q", "price": "4", "parts": [{"part": "b", "n": 1}], "limit": None},
             {"name": "R", "price": "7", "parts": [{"part": "c", "n": 2}], "limit": 1}]
    # one place by R (7), two by P and 2 Q (13), less one b in stock (4): 16; all by a and b: 10 + 8 = 18
    assert ask("buy", "buy", needs=needs, stock=[{"part": "b", "n": 1}], packs=packs) == {"price": "16"}
    u = {"times": 1, "limits": "0..1 mm", "distribution": {"kind": "uniform"}}
    t = ask("stack", "law", contributors=[u, u, u], unit="mm", limits="0.5..2 mm")
    assert t["below"] == "1/48" and t["above"] == "1/6", t          # Irwin and Hall: x³/6 at 1/2 and at 1
    t = ask("threads", "sizes", thread="1/4-28 UNF")
    assert F(t["root_diameter"]) == F("0.2074"), t       # D1 = 0.2113; H/8 = 0.86603/28/8 = 0.00387
    close(ask("threads", "sizes", thread="#4-48 UNF")["stress_area"], 0.00661, 5e-6)      # D2 = 0.0985; H = 0.018042; pi (0.04925 - 0.003383)²
    t = ask("threads", "limits", thread="2-1/2-8 UN", **{"class": "2A"})
    assert F(t["pitch_min"]) == F("2.4082"), t           # 0.0015 (1.3572 + 1.5811) + 0.015/4 = 0.00816; 2.4188 - 0.0024 - 0.0082
    n = {"times": 1, "limits": "-3..3 mm", "distribution": {"kind": "normal", "k": 3}}
    close(ask("stack", "law", contributors=[n], unit="mm", limits="-1..2 mm")["below"], 0.15865525393145707)
    t = ask("stack", "law", contributors=[n, u], unit="mm", limits="-1..2 mm")
    # the mean of phi(-1-y), y in 0..1: [z phi(z) + density(z)] from -2 to -1
    close(t["below"], (-0.15865525393145707 + 0.24197072451914337) - (-2 * 0.022750131948179212 + 0.05399096651318806), 1e-14)
    w = {"times": 2, "limits": "-3..3 mm", "distribution": {"kind": "normal within limits", "k": 3}}
    t = ask("stack", "law", contributors=[w], unit="mm", limits="-2..2 mm")
    close(t["below"], (0.15865525393145707 - 0.0013498980316300957) / (1 - 2 * 0.0013498980316300957), 1e-14)
    t = ask("stack", "law", contributors=[w, w, w, u, n], unit="mm", limits="0.5..2 mm")
    close(t["below"], "1/2", 1e-14)
    close(ask("combine", "stations", of="range", stations=3, standard_uncertainty="1 µm", freedom=None, unit="µm")["uncertainty"], 3.3668, 1e-4)    # a studentized range
    close(ask("combine", "stations", of="largest", stations=3, standard_uncertainty="1 µm", freedom=3, unit="µm")["uncertainty"], 4.5905, 1e-4)
    assert ask("stack", "first exceeds", parts=4, above="1 mm")["probability"] == "1/8"      # 3/4!
    assert ask("plan", "star", bolts=8)["order"] == [1, 5, 3, 7, 2, 6, 4, 8]
    assert ask("plan", "star", bolts=5)["order"] == [1, 3, 5, 2, 4]
    head = [{"bolt": str(i + 1), "x": x, "y": y} for i, (x, y) in enumerate([(0, 0), (50, 0), (100, 0), (0, 40), (50, 40), (100, 40)])]
    close(ask("torque", "cones", hole="0.5 in", face="0.75 in", half_angle="30 deg", unit="lbf/in",
              layers=[{"thickness": "1.345 in", "modulus": "30000 ksi"}])["stiffness"], 14.64e6, 0.005e6)     # Mechanical Engineering Design, 8-2(b)
    t = ask("plan", "stage", stages=["prepare", "tighten 30 ±3 N·m", "turn 60 °"], stage=2, unit="N·m")
    assert (F(t["aim"]), F(t["lo"]), F(t["hi"])) == (30, 27, 33), t
    assert ask("plan", "order", positions=head, order="inside out")["order"] == ["2", "5", "1", "6", "4", "3"]
    print("the worked examples agree")


# The program

KINDS = {
    ("convert", "convert"): convert, ("convert", "temperature difference"): temperature_difference, ("convert", "per fahrenheit"): per_fahrenheit,
    ("combine", "combine"): combine, ("combine", "rss"): rss, ("combine", "coverage"): coverage, ("combine", "series"): series, ("combine", "stations"): stations, ("combine", "welch"): welch, ("combine", "strip"): strip_read,
    ("convert", "half away"): half_away, ("convert", "fineness"): fineness, ("convert", "warmed"): warmed, ("convert", "ring gap"): ring_gap,
    ("stack", "first exceeds"): first_exceeds,
    ("film", "full film"): full_film, ("film", "short"): short_film, ("film", "petroff"): petroff, ("film", "viscosity"): viscosity,
    ("judge", "judge"): judge, ("judge", "conformity"): conformity, ("judge", "risk"): risk, ("judge", "guard factor"): guard_factor,
    ("assign", "assign"): assign, ("assign", "sizes"): shell_sizes, ("assign", "undersize"): undersize, ("assign", "oversize"): undersize,
    ("buy", "buy"): buy,
    ("stack", "worst case"): worst_case, ("stack", "rss"): stack_rss, ("stack", "law"): law,
    ("threads", "sizes"): thread_sizes, ("threads", "limits"): thread_limits, ("threads", "strength"): strength, ("threads", "load"): load,
    ("isofit", "tolerance"): tolerance, ("isofit", "deviations"): deviations, ("isofit", "fit"): fit, ("isofit", "pair"): pair, ("isofit", "basis"): basis,
    ("torque", "nut factor"): nut_factor, ("torque", "tighten"): tighten, ("torque", "yield"): yield_preload, ("torque", "run on"): run_on,
    ("torque", "extension"): extension, ("torque", "turn"): turn, ("torque", "load factor"): load_factor, ("torque", "shear area"): shear_area,
    ("torque", "breaking"): breaking, ("torque", "setting"): setting, ("torque", "least preload"): least_preload, ("torque", "mean nut factor"): mean_nut_factor,
    ("torque", "strip"): strip, ("torque", "cones"): cones, ("torque", "loaded bolt"): loaded_bolt, ("torque", "heating"): heating,
    ("isofit", "centres"): centres,
    ("plan", "order"): order, ("plan", "star"): star, ("plan", "steps"): steps,
    ("plan", "actions"): actions, ("plan", "stage"): stage, ("plan", "turned"): turned, ("plan", "tied"): tied,
}


def shown(x):
    if isinstance(x, dict):
        return {k: shown(v) for k, v in x.items()}
    if isinstance(x, (list, tuple)):
        return [shown(v) for v in x]
    return show(x) if isinstance(x, (F, Decimal, float)) else x


def answer(line):
    q = json.loads(line, parse_float=str, parse_int=str)
    try:
        if (q.get("topic"), q.get("kind")) not in KINDS:
            raise Cannot("I do not know %s of %s" % (q.get("kind"), q.get("topic")))
        return {"id": q["id"], "answer": shown(KINDS[q["topic"], q["kind"]](q["question"]))}
    except Cannot as why:
        return {"id": q["id"], "cannot": str(why)}
    except (KeyError, TypeError, ValueError, AttributeError, ArithmeticError, StopIteration) as why:
        return {"id": q["id"], "cannot": "not read: %s: %s" % (type(why).__name__, why)}


def main():
    for line in sys.stdin:
        if line.strip():
            print(json.dumps(answer(line), ensure_ascii=False), flush=True)


if __name__ == "__main__":
    if sys.argv[1:] == ["-kinds"]:
        print("\n".join("/".join(kind) for kind in sorted(KINDS)))
    else:
        selftest() if sys.argv[1:] == ["-selftest"] else main()
