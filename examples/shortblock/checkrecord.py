#!/usr/bin/env python3
"""Works a build record out again, without closefit: shortblock -format json | checkrecord.py

Reads records in JSON from the files named, or standard input, and follows each claim to what was
read. All arithmetic is in whole numbers and fractions. Exit status 0: everything that the record
claims proven follows; 1: something does not follow; 2: a file could not be read; 3: something that
is claimed proven was not checked; of several files the first of 1, 2, 3. -unsealed leaves the digest
unchecked, to find what was altered.

How to read this file: begin at Checker.run, which checks in this order, and look up what it calls.

  stated     what the job states beside its readings: temperatures, walls, formulas of its own
  readings   each text that was typed makes the bracket and the doubts that the record says, by its
             instrument; a part that was not at 20 °C is corrected
  verdicts   each is about a line at a place. The line's formula and conditions stand in FORMULAS and
             CONDITIONS; its terms are what was read there; what they come to is judged by the limits
  shells     those chosen by their sizes, and the proof of each purchase
  items      all that the engine asks for, and how it stands by what was judged, looked at or said
  plan       every bolt is pulled as its group is tightened, and held back while it is not proven
  gates      each is open or shut by the items that it asks for

The sections are: numbers and units; chances; readings, their sums and their doubts; instruments;
warmth; stations; the lines of an engine; the Checker; purchases; the record as a text. A claim that
does not follow raises Refused by need(); what this program cannot work out is NotImplementedError
and is named.
"""
import hashlib, json, re, sys
from collections import Counter, namedtuple
from fractions import Fraction as F
from functools import lru_cache
from math import gcd, isqrt

UNITS = {"mm": F(1), "µm": F(1, 1000), "in": F("25.4"), "thou": F("0.0254"), "ft": F("304.8"),
         "Pa": F(1), "kPa": F(1000), "MPa": F(10**6), "bar": F(10**5),
         "psi": F("4.4482216152605") / F("0.00064516"),
         "g": F(1), "kg": F(1000), "oz": F("28.349523125"), "lb": F("453.59237"),
         "mm³": F(1), "cm³": F(1000), "": F(1), "%": F(1, 100), "‰": F(1, 1000), "ppm": F(1, 10**6)}
GRID = F(1, 10**7)  # what doubts are rounded up to


class Refused(Exception):
    pass


HERE = [""]  # the part of the record that is being checked


def at(place): HERE[0] = place


def need(holds, what):
    if not holds:
        raise Refused("%s: %s" % (what, HERE[0]))


def q(text):
    number, _, unit = text.partition(" ")
    return F(number.strip("()")) * UNITS[unit]


def in_unit(x, unit):
    """A number in a unit; a temperature less 20 °C."""
    offset = {"°C": F(20), "°F": F(68), "K": F("293.15")}.get(unit)
    return x * UNITS[unit] if offset is None else (x - offset) * (F(5, 9) if unit == "°F" else 1)


def split_unit(body):
    """What somebody typed, without its unit and with decimals for fractions of an inch, and the unit."""
    inches = lambda m: "%d.%012d" % divmod((int(m[1] or 0) + F(int(m[2]), int(m[3]))) * 10**12 // 1, 10**12)
    unit = re.search(r"[^\d\s.]*$", body).group()
    if unit not in UNITS and unit not in ("°C", "°F", "K"):
        raise NotImplementedError("the text %r" % body)
    return re.sub(r"^(?:(\d+) )?(\d+)/(\d+)\b", inches, body[:len(body) - len(unit)].strip()), unit


def numbers(body):
    """The numbers in a text of one unit."""
    figures, unit = split_unit(body)
    return [in_unit(F(x), unit) for x in re.findall(r"(?:(?<=\.\.)|(?<![\w.]))-?\d+(?:\.\d+)?", figures)]


def bounds_of(body):
    """The bounds of a size that was given: "60 +0.019/0 mm", "2.5 ±0.002 mm", "20..24 °C", "2.5 mm"."""
    figures, unit = split_unit(body)
    if not re.fullmatch(r"[-+±/.\d\s]+", figures):
        raise NotImplementedError("the text %r" % body)
    first, *more = [F(x) for x in re.findall(r"[-+]?\d+(?:\.\d+)?", figures.replace("..", " "))]
    if "±" in figures:
        first, more = first - more[0], [first + more[0]]
    elif "/" in figures:
        first, more = first + min(more), [first + max(more)]
    return in_unit(first, unit), in_unit((more or [first])[-1], unit)


def ceil(x, step=GRID):
    return -(-x // step) * step


def root(squares):  # √ of their sum, up to the grid
    s = sum(squares) / GRID**2
    r = isqrt(s.numerator * s.denominator)
    r += r * r != s.numerator * s.denominator
    return -(-r // s.denominator) * GRID


# Chances, in whole numbers: x stands for x/ONE. Sums of series are good to some 30 places.
ONE = 10**40
PI = 31415926535897932384626433832795028841972
PI_BOUNDS = F(314159265358979, 10**14), F(314159265358980, 10**14)  # of the arithmetic of sizes
SQRT2, TICK = isqrt(2 * ONE * ONE), ONE // 10**6


def mul(a, b): return a * b // ONE
def div(a, b): return a * ONE // b


def power(x, n):
    y = ONE
    for _ in range(n):
        y = mul(y, x)
    return y


def density(z):
    """exp(-z²/2), by the series of its reciprocal, of which all terms are above zero."""
    half, term, total, n = mul(z, z) // 2, ONE, ONE, 0
    while term:
        n += 1
        term = mul(term, half) // n
        total += term
    return div(ONE, total)


def erf(x):
    if abs(x) > 9 * ONE:
        return ONE if x > 0 else -ONE
    term, total, square, n = x, x, mul(x, x), 0
    while term:
        n += 1
        term = -mul(term, square) // n
        total += term // (2 * n + 1)
    return div(2 * total, isqrt(PI * ONE))


def normal(z): return (ONE + erf(div(z, SQRT2))) // 2


def beta(a, b, x):
    """The incomplete beta function I_x(a/2, b/2) where a or b is 1, by its series."""
    term, total, n = ONE, ONE, 0
    while term:
        term = mul(term, x) * (a + b + 2 * n) // (a + 2 + 2 * n)
        total, n = total + term, n + 1
    whole = PI if a * b % 2 else 2 * ONE
    for k in range(1 if a * b % 2 else 2, a * b, 2):
        whole = whole * k // (k + 1)
    ends = mul(power(isqrt(x * ONE), a), power(isqrt((ONE - x) * ONE), b))
    return div(mul(2 * ends // a, total), whole)


def student(freedom, t):  # how much of Student's distribution lies within ±t
    x = div(mul(t, t), mul(t, t) + freedom * ONE)
    return beta(1, freedom, x) if 2 * x < ONE else ONE - beta(freedom, 1, ONE - x)


def ranged(n, r):  # the chance that the range of n standard normal errors is at most r
    step, total = ONE // 8, 0
    for z in range(-9 * ONE, (r // ONE + 10) * ONE, step):
        total += mul(density(z), power(max(0, normal(z) - normal(z - r)), n - 1))
    return div(n * total // 8, isqrt(2 * PI * ONE))


def least(lo, hi, reached):  # the least whole number above lo that is there; hi is
    while hi - lo > 1:
        mid = (lo + hi) // 2
        lo, hi = (lo, mid) if reached(mid) else (mid, hi)
    return hi


def nth(inside, n): return least(0, ONE, lambda x: power(x, n) >= inside)  # the n-th root


@lru_cache(500)
def quantile(kind, n, freedom, inside):
    """Where the chance rises to inside, rounded up to six places."""
    if kind != "student" and freedom:
        raise NotImplementedError("the studentized range and modulus of limited degrees of freedom")
    chance = {"student": lambda x: student(freedom, x), "range": lambda x: ranged(n, x),
              "modulus": lambda x: power(erf(div(x, SQRT2)), n)}[kind]
    hi = 4
    while chance(hi * ONE) < inside:
        hi *= 2
    return F(least(0, hi * 10**6, lambda x: chance(x * TICK) >= inside), 10**6)


LEVEL = erf(SQRT2)  # of k = 2


def expand(twice, freedom, inside=LEVEL):
    if inside == LEVEL and not freedom or not twice:
        return twice
    return ceil(twice * quantile("student" if freedom else "modulus", 1, freedom, inside) / 2)


# A reading is a sum of acts of reading, each with a factor. An act has a bracket, which is
# certain, and doubts by their sources.
Doubt = namedtuple("Doubt", "kind of act lo hi freedom")
Act = namedtuple("Act", "means by at setting seen count bracket stated freedom doubts")
Reading = namedtuple("Reading", "acts words unmet of_stations non_negative at_worst conditions")
TWO = ["travel", "between prints", "blade goes, next does not", "shut, then open",
       "nearest first print", "nearest last print"]  # the acts that see two figures


def bounds(b):
    lo, hi = (None if b[k] is None else q(b[k]) for k in ("lo", "hi"))
    need(lo is None or hi is None or lo <= hi, "bounds that cross")
    return lo, hi


def ends_of(numbers_):
    list_ = list(numbers_)
    return min(list_), max(list_)


def neg(x): return None if x is None else -x
def turned(b): return neg(b[1]), neg(b[0])


def add(a, b, f=F(1)):  # a + f·b
    if f == 0:
        return a
    ends = zip(a, b if f > 0 else (b[1], b[0]))
    return tuple(None if x is None or y is None else x + f * y for x, y in ends)


def named(kind, of, act):  # whether two doubts of this source are one
    return of != "" if kind in ("common", "piece") else kind == "repeat" and act != ""


def gathered(parts):
    into = {}
    for f, a in parts:
        key = a if a.at else len(into)
        into[key] = (into[key][0] + f if key in into else f, a)
    return list(into.values())


def conditions_of(list_):
    return list_ and tuple((c["what"], c["is"]) for c in list_ if row_of(c, "what is"))


def reading_of(r):
    """A reading in its exchange form, of one act."""
    row, = r["acts"]
    doubts = tuple(Doubt(**dict(d, lo=q(d["lo"]), hi=q(d["hi"]))) for d in row["doubts"] or ())
    row = dict(row, bracket=bounds(row["bracket"]), stated=q(row["stated"]), doubts=doubts, seen=tuple(row["seen"]))
    said = conditions_of(r["conditions"])
    first, second = map(q, row["seen"])
    need((not second or row["means"] in TWO) and (not first or row["means"] != "given"), "an act that saw otherwise")
    need(row.pop("factor") == "1" and len(set(said or ())) == len(said or ()),
         "a share of an act, or a condition twice")
    return Reading(**dict(r, acts=[(F(1), Act(**row))], conditions=said))


def given(by, bracket, stated=F(0), freedom=0, doubts=(), **more):
    a = Act("given", by, "", "", ("0 mm", "0 mm"), 0, bracket, stated, freedom, doubts)
    return Reading([(F(1), a)], None, None, False, False, False, None)._replace(**more)


def lacking(needs, conditions):
    """What is asked for, (what, is), and not stated; None is any word."""
    return [(what, is_) for what, is_ in needs or () if not any(
        what == said and is_ in (None, word) for said, word in conditions or ())]


def combined(terms, non_negative=False, worst=False):
    """The sum of readings: (factor, reading, what it must state). None while one is missing."""
    if not terms or any(r is None for _, r, _ in terms):
        return None
    return Reading(
        gathered((f * g, a) for f, r, _ in terms for g, a in r.acts), None,
        [x for _, r, needs in terms for x in lacking(needs, r.conditions) + (r.unmet or [])],
        any(r.of_stations for _, r, _ in terms), non_negative,
        worst or any(r.at_worst or len(terms) > 1 and r.of_stations for _, r, _ in terms), None)


def less(a, b): return combined([(1, a, ()), (-1, b, ())])


def ident(a):
    if not a.at:
        return ""
    seen = "".join(join + x for join, x in zip((", ", " and "), a.seen) if q(x))
    return "reading " + a.at + seen + (", " + a.setting if a.setting else "")


def common(a):  # the common part of an instrument that states its parts; None for another
    d = a.doubts[0] if a.doubts else None
    if d is None or d.of != a.by or d.kind not in ("common", "repeat"):
        return None
    return d.lo if d.kind == "common" else 0


def tally(parts):
    """The doubts of acts times their factors. Those of one source are added with their signs;
    of an instrument of which it is not known how its doubts hang together, none is split."""
    own = {}  # what each instrument states as its common part
    for _, a in parts:
        if a.by and common(a) is not None:
            own.setdefault(a.by, set()).add(common(a))
    mixed, every = {by for by, stated in own.items() if len(stated) > 1}, {}
    for f, a in parts:
        whole = [Doubt("not split", a.by, ident(a), a.stated, a.stated, a.freedom)] if a.stated else []
        for d in whole + list(a.doubts) if f else ():
            lo, hi = (d.lo * f, d.hi * f) if f > 0 else (d.hi * f, d.lo * f)
            one = (d.act or named(*d[:3])) and d.of not in mixed
            key = (d[:3], d.freedom) if one else len(every)
            old = every.get(key, d._replace(lo=0, hi=0))
            every[key] = d._replace(lo=old.lo + lo, hi=old.hi + hi)
    before = set()
    for d in every.values():
        if d.kind != "piece" and d.of and (d.kind == "not split" or d[:3] in before):
            mixed.add(d.of)
        before.add(d[:3])
    return [d._replace(kind="not split") if d.kind != "piece" and d.of in mixed else d for d in every.values()]


def groups(doubts):
    """Doubts that may be the same at their worst stand together: (source, doubts)."""
    out = {}
    for d in doubts:
        kind, of, act = source = d[:3]
        if named(*source) and kind != "piece":
            out[source, len(out)] = (source, [d])
        elif kind != "piece" and d.lo:
            source = (kind if of else "not split", of, "")
            out.setdefault(source, (source, []))[1].append(d)
    return list(out.values())


def by_freedom(doubts):
    c = Counter()
    for d in doubts:
        c[d.freedom] += abs(d.lo)
    return c


def expanded(r, inside=LEVEL):
    """The expanded doubt: worst case in a group, root-sum-square of the groups."""
    terms = [sum(expand(t, f, inside) for f, t in by_freedom(ds).items()) for _, ds in groups(tally(r.acts))]
    terms = [t for t in terms if t]
    return sum(terms) if r.at_worst or len(terms) < 2 else root(t * t for t in terms)


def bracket(r):
    total = (F(0), F(0))
    for f, a in r.acts:
        total = add(total, a.bracket, f)
    pieces = [d for d in tally(r.acts) if d.kind == "piece"]
    return add(total, (-sum(abs(d.lo) for d in pieces), sum(abs(d.hi) for d in pieces)))


def above(b): return max(F(0), b[0] or F(0)), None if b[1] is None else max(F(0), b[1])


def known(r):
    """The interval as if every condition were met, and whether it may prove something."""
    b, u = bracket(r), expanded(r)
    contrary = r.non_negative and b[1] is not None and b[1] + u < 0
    cut = above if r.non_negative else tuple
    return cut(add(cut(b), (-u, u))), not contrary and not r.unmet


def interval(r):
    i, proves = known(r) if r else (None, False)
    return i if proves else None


def judge(m, limits):
    if m is None or limits == (None, None):
        return "undecided"
    (lo, hi), (a, b) = m, limits
    if (a is None or lo is not None and lo >= a) and (b is None or hi is not None and hi <= b):
        return "conforming"
    if a is not None and hi is not None and hi < a:
        return "below limit"
    return "above limit" if b is not None and lo is not None and lo > b else "undecided"


def freedoms(r): return [d.freedom for _, ds in groups(tally(r.acts)) for d in ds if d.freedom and d.lo]


def best(d, s):
    """The closer one of a direct reading and a sum, which must agree."""
    if d is None or s is None:
        return d or s
    if s.unmet:
        return d
    apart = interval(less(d, s))
    if apart is None or judge(apart, (F(0), F(0))) in ("below limit", "above limit"):
        return given("", (None, None), unmet=["two readings that do not agree"])
    if expanded(d) and expanded(s) and (freedoms(d) or freedoms(s)):
        return d
    a, b = interval(d), interval(s)
    return s if None not in b and (None in a or b[1] - b[0] < a[1] - a[0]) else d


# Instruments: what one makes of what was seen.
MARKED = ["crush strip", "feeler blades"]
KINDS = MARKED + ["micrometer", "bore gauge", "dial", "caliper", "depth gauge", "gauge",
                  "pressure gauge", "scale", "setting piece"]


def marked(i, a):
    """What a strip or blades showed, which are compared with their marks."""
    need(a.by == i["kind"] and not a.setting, "another kind of instrument")
    marks, (seen, other), tolerance = [q(m) for m in i["marks"]], map(q, a.seen), i["tolerance"]
    at, last, micron = marks.index(seen), len(marks) - 1, F(1, 10**6)
    # A strip nearest to a print lies half-way to its neighbours at most: in its width, which
    # goes with the clearance inverted, below; in the clearance above.
    below = 2 * marks[at - 1] * seen / (marks[at - 1] + seen) // micron * micron if at else F(0)
    beyond = (seen + marks[at + 1]) / 2 if at < last else None
    b, holds = {
        "between prints": ((seen, other), marks[at:at + 2] == [seen, other]),
        "nearest print": ((below, beyond), 0 < at < last),
        "nearest first print": ((below, beyond), at == 0 and marks[1:2] == [other]),
        "nearest last print": ((below, beyond), at == last and marks[at - 1] == other),
        "wider than the first print": ((F(0), seen), at == 0),
        "narrower than the last print": ((seen, None), at == last),
        "blade goes, next does not": ((seen, other), other in marks and seen < other),
        "blade goes": ((seen, None), True),
        "blade does not go": ((F(0), seen), True)}[a.means]
    need(holds, "another mark")
    if a.means.startswith("blade"):
        blade = lambda m: "%s, the %s blade, ±%s" % (i["name"], i["marks"][marks.index(m)], tolerance)
        pieces = [(blade(b[0]), 1, 0)] if "goes" in a.means else []
        pieces += [(blade(b[1]), 0, 1)] if "not" in a.means else []
    else:
        name, place, _ = a.at.rpartition(", place ")
        pieces = [("%s, its scale, ±%s" % (name, tolerance) if place else "", 1, 1)]
    off = q(tolerance) if tolerance else F(0)
    return b, F(0), 0, [Doubt("piece", of, "", lo * off, hi * off, 0) for of, lo, hi in pieces if off]


def label(instruments, name):
    master = instruments[instruments[name]["set_on"]]
    return master["name"] if master["kind"] == "setting piece" else "setting of " + name


def set_on(instruments, name):
    """What an act of setting is called."""
    if not instruments[name]["set_on"]:
        return ""
    most = instruments[instruments[name]["set_on"]]["limit_of_error"]
    least_ = most.replace("(", "(-") if most[:1] == "(" else "-" + most
    return "set on %s, %s" % (label(instruments, name), "%s to %s" % (least_, most) if most else "0 mm")


def showed(instruments, name, a):
    """Bracket, stated uncertainty, its degrees of freedom and doubts of an act by an instrument."""
    i = instruments[name]
    if i["marks"]:
        return marked(i, a)
    need(a.by == name, "an act by another instrument")
    whole, repeats, most = (q(i[k]) if i[k] else F(0) for k in ("uncertainty", "repeats", "limit_of_error"))
    k, freedom, both, doubts = 2 / F(i["k"] or 2), i["freedom"] if i["freedom"] < 10**6 else 0, F(0), []
    if repeats or i["kind"] == "setting piece":
        whole, both = F(0), root([whole * whole - repeats * repeats])

    def doubt(kind, act, u):
        if u:
            doubts.append(Doubt(kind, name, act, u * k, u * k, freedom))
    doubt("common", "", both)
    doubt("repeat", ident(a), repeats)
    setting = "" if a.means == "travel" else set_on(instruments, name)
    need(a.setting == setting, "set on something else")
    if setting:
        master = i["set_on"]
        m = Act("indication", master, label(instruments, name), set_on(instruments, master),
                ("0 mm", "0 mm"), 0, None, F(0), 0, ())
        off, stated, f, ds = showed(instruments, master, m)
        m = m._replace(stated=stated, freedom=f, doubts=ds)
        doubts += [d for d in tally([(F(1), m)]) if d.lo or d.hi]
        doubt("repeat", setting, repeats)
        doubt("not split", setting, whole)
        if off[1]:
            doubts.append(Doubt("piece", name, setting, off[1], off[1], 0))
    one, two = map(q, a.seen)
    b = {"value": (one, one), "indication": (one, one), "travel": (abs(two - one),) * 2,
         "shut, then open": (one, two), "shut": (one, None), "open": (F(0), one)}[a.means]
    return add(b, (-most, most)), whole * k, freedom if whole else 0, doubts


# Warmth. A size changes by a factor; each doubt of it belongs to a material or a temperature
# that other sizes may share, or is the size's own.
def middle(b):
    lo, hi = b
    return (lo + hi) / 2, (hi - lo) / 2


Body = namedtuple("Body", "material per_kelvin with_ temperature")  # temperatures less 20 °C


def growth(body, at=None): return middle(body.per_kelvin)[0] * middle((at or body).temperature)[0]


def row_of(row, names):
    need(set(row) == set(names.split()), "other keys than " + names)
    return row


class Change:
    def __init__(self, factor):
        self.factor, self.shared, self.own = factor, Counter(), F(0)

    def grows(self, weight, body, at=None):
        """Adds weight times the doubt of a body's growth, at its own or another temperature."""
        (alpha, alpha_off), (theta, theta_off) = middle(body.per_kelvin), middle((at or body).temperature)
        material = body.material and "expansion of " + body.material
        with_ = (at or body).with_ and "temperature of " + (at or body).with_
        doubts = [(with_, alpha * theta_off), (material, theta * alpha_off),
                  (material and with_ and material + " at the " + with_, alpha_off * theta_off)]
        for name, x in doubts:
            if name:
                self.shared[name] += weight * x
            else:
                self.own += abs(weight * x)
        return sum(abs(weight * x) for _, x in doubts)

    def of(self, r):
        """The reading times the change."""
        mid, radius = middle(bracket(r))
        most = self.own + sum(map(abs, self.shared.values()))
        terms = [(self.factor, r, ())]
        for name, x in sorted(self.shared.items()):
            doubt = Doubt("piece", name, "", mid * x, mid * x, 0)
            terms.append((1, given("", (F(0), F(0)), doubts=(doubt,)), ()))
        rest = abs(mid) * self.own + (radius + 5 * expanded(r)) * most
        terms.append((1, given("", (-rest, rest)), ()))
        return combined(terms)._replace(conditions=r.conditions)


def warming(body, whole=F(1)):
    """The change from a size at 20 °C to the warm one; of whole 0 to what it grows by."""
    c = Change(whole + growth(body))
    c.grows(1, body)
    return c


def at_reference(part, instrument, master):
    """The change from what an instrument showed to the size at 20 °C."""
    standard, grown = 1 + growth(master), 1 + growth(part)
    since = 1 + growth(instrument) - growth(instrument, master)
    f = standard * since / grown
    c = Change(f)
    first = (c.grows(f / standard, master) + c.grows(f / since, instrument)
             + c.grows(-f / since, instrument, master) + c.grows(-f / grown, part))
    c.own += 3 * first * first
    return c


# Several stations of a part: MEASURE, "several stations".
def fewest(freedoms): return min([f for f in freedoms if f], default=0)


def split(r):  # the groups of one station's doubts
    if not (r.at_worst or r.of_stations):
        return groups(tally(r.acts))
    u, f = expanded(r), fewest(freedoms(r))
    u = u * 2 / quantile("student", 1, f, LEVEL) if f else u
    return [(("not split", "", ""), [Doubt("not split", "", "", u, u, f)])]


def spreads(stations):
    """Of what kind the doubts of stations are, and how large at most: {kind: {freedom: twice}}."""
    every = [split(r) for r in stations]
    count = Counter(source for gs in every for source, _ in gs if named(*source))
    out = {kind: {} for kind in ("common", "own", "open")}
    for gs in every:
        here = {kind: {} for kind in out}
        for source, ds in gs:
            c = by_freedom(ds)
            twice, f = sum(c.values()), fewest(c)
            if not twice:
                continue
            alike = all(os[0].lo == ds[0].lo for h in every for k, os in h if k == source)
            kind = "open"
            if named(*source) and alike and 1 < len(stations) == count[source]:
                kind = "common"
            elif count[source] == 1 and source[0] == "repeat":
                kind = "own"
            old = here[kind].get(f)
            here[kind][f] = twice if old is None else root([old * old, twice * twice])
        for kind in out:
            for f, t in here[kind].items():
                out[kind][f] = max(out[kind].get(f, 0), t)
    return out


def reach(stations, inside, wide):
    """The bound of the largest of the errors of stations, or of their range."""
    s, n, terms = spreads(stations), len(stations), []
    for kind in s:
        for f, t in s[kind].items():
            if kind == "common" and wide:
                continue
            if kind == "own" and wide and not s["open"]:
                k = quantile("range", n, f, inside)
            else:
                k = quantile("modulus", n, f, inside) * (2 if wide else 1)
            terms.append(ceil(t * k / 2))
    return sum(terms) if len(terms) < 2 else root(t * t for t in terms)


def outermost(brackets):  # where the largest of several may lie
    los, his = zip(*brackets)
    return max((x for x in los if x is not None), default=None), None if None in his else max(his)


def magnitude(b):
    if b[0] is not None and b[0] >= 0:
        return b
    return turned(b) if b[1] is not None and b[1] <= 0 else (F(0), None if None in b else max(-b[0], b[1]))


def shown(claim, planes, claims):
    """The bracket, the doubt and its fewest degrees of freedom of what stations show."""
    kinds = {"largest" if c == "smallest" else c for c in claims
             if (c != "taper" or len(planes) > 1) and (c != "out-of-round" or len(planes[0]) > 1)}
    outside = (ONE - LEVEL) // len(kinds)
    every = sum(planes, [])
    free = lambda rows: fewest(f for row in rows for ks in spreads(row).values() for f in ks)
    if claim in ("largest", "smallest"):
        turn = turned if claim == "smallest" else tuple
        wide = turn(outermost([turn(bracket(r)) for r in every]))
        return wide, reach(every, ONE - outside, False), free([every])
    rows = planes if claim == "out-of-round" else [list(x) for x in zip(*planes)]
    inside = nth(ONE - outside, len(rows)) if len(rows) > 1 else ONE - outside
    wide, u = [], F(0)
    for row in rows:
        pairs = [less(a, b) for i, a in enumerate(row) for b in row[i + 1:]]
        points = [bracket(r) for r in row]
        if all(lo is not None and lo == hi for lo, hi in points):
            wide.append((max(points)[0] - min(points)[0],) * 2)
        else:
            wide.append(outermost([magnitude(bracket(p)) for p in pairs]))
        two = len(row) == 2 and all(f for f, _ in pairs[0].acts)
        u = max(u, expanded(pairs[0], inside) if two else reach(row, inside, True))
    return outermost(wide), u, free(rows)


PLACES = ("plane", "direction", "planes", "directions")


def spread_of(shows, planes, claims):
    """The reading of a part that was read at several stations."""
    every = sum(planes, [])
    said = [dict(s.conditions or ()) for s in every]
    common = [c for c in said[0].items() if c[0] not in PLACES and all(c in s.items() for s in said)]
    common += [(way + "s", "named") for way in ("plane", "direction") if all(way in s for s in said)]
    if shows == ENDS:
        (lo, _), (_, hi) = [add(b, (-u, u)) for b, u, _ in (shown(c, planes, claims) for c in shows)]
        return given("", (lo, hi), conditions=common, non_negative=all(s.non_negative for s in every))
    claim, = shows
    b, u, f = shown(claim, planes, claims)
    stated = u * 2 / quantile("student", 1, f, LEVEL) if f else u
    return given("", b, stated, f, of_stations=True, non_negative=True, conditions=common)


# The lines of an engine: a part, and what is measured of it. * is main or rod, "ring" any ring, "bolts" any
# group of bolts and "wall" any wall of a shell. A reading is called after its line and its place: "main bore 2".

# What a line is the sum of: factor, symbol, line, each at the same place. A place is named where it is
# another: @before and @after are the next mains, @each is every rod of the pin. # counts. What stands
# behind = is not read: see Checker.made_of. "by its bore" and "without washers" are sums in the place of others.
FORMULAS = {
    "* bearing clearance": "1 D * bore; -1 t1 * upper wall thickness; -1 t2 * lower wall thickness; -1 d * journal",
    "* bearing clearance by its bore": "1 D * bearing bore; -1 d * journal",
    "wall eccentricity": "1 D wall thickness; -1 d wall joint thickness",
    "* shells crush": "1 δ =* crush",
    "crankshaft end play": "1 L crankshaft thrust width; -1 w# thrust main width;"
                           " -1 w# front thrust washer thickness; -1 w# rear thrust washer thickness",
    "crankshaft end play without washers": "1 L crankshaft thrust width; -1 w# thrust main width",
    "rod side play": "1 L crankpin width; -1 w# big end @each width",
    "rod length": "1 s rod bore distance; 0.5 D rod bore; 0.5 d small end",
    "crankshaft bow": "0.5 s crankshaft bow; -1 o =oval",
    "main cap register fit": "1 D main cap width; -1 d main register width",
    "main bore alignment": "1 h main bore height; -0.5 h1 main bore @before height; -0.5 h2 main bore @after height",
    "deck piston height": "-1 B deck height; 0.5 s crankpin stroke; 1 l rod length; 1 k piston compression height",
    "piston clearance": "1 D cylinder; -1 d piston diameter",
    "piston ovality": "1 D piston diameter; -1 d piston diameter along the pin",
    "pin in piston fit": "1 D pin hole diameter; -1 d piston pin diameter",
    "pin in rod fit": "1 D small end; -1 d piston pin diameter",
    "ring side clearance": "1 D ring groove width; -1 d ring height",
    "ring back clearance": "1 D ring groove depth; -1 d ring thickness",
    "oil pump body clearance": "1 D oil pump body bore; -1 d oil pump rotor diameter",
    "oil pump end clearance": "1 D oil pump body depth; -1 d oil pump rotor height",
    "crankpin bobweight": "1 m# rod @each big end mass; 1 m# rod @each shells mass; share m# rod @each small end mass;"
                          " share m# piston @each mass; share m# piston pin @each mass;"
                          " share m# piston @each rings mass; 1 o =oil",
    "bolts length": "1 L bolts @, length",
    "bolts stretch": "1 L bolts @, length; -1 L0 bolts @, length when new"}

# What the reading of a line must state. Of some it only has to be known how it was: None.
BOLTED = ("bolts", "tightened as for assembly")
CONDITIONS = {
    "* bore": [BOLTED, ("shells", "out")], "* bearing bore": [BOLTED, ("shells", "in")],
    "* bearing clearance": [BOLTED, ("crankshaft", "not turned"), ("oil", "wiped off")],
    "* upper shell crush height": [("load", "as the maker says")],
    "* lower shell crush height": [("load", "as the maker says")],
    "=* crush": [("load", "as the maker says")],
    "main bore height": [BOLTED], "rod bore distance": [BOLTED], "rod length": [BOLTED],
    "rod bend": [BOLTED], "rod twist": [BOLTED], "cylinder": [("torque plate", None)],
    "crankshaft bow": [("supported", None)], "crankshaft end play": [("crankshaft", "levered to its stops")],
    "piston diameter": [("gauge point", "the maker's")],
    "piston diameter along the pin": [("gauge point", "the maker's")],
    "ring end gap": [("ring", "square in its own bore"), ("depth", "as the manual says")]}
# What is not below zero: of those that ask for a condition, the gaps and lengths read where they are;
# and sums of what was read for themselves.
NOT_BELOW_ZERO = (" bearing clearance", "crankshaft end play", "crankshaft bow", "rod length", " end gap")
SUMS_NOT_BELOW_ZERO = ("crankshaft bow", " stretch")

# The part that a line is a size of, which has one temperature.
PARTS = {
    "block": ["main bore", "cylinder", "main cap width", "main register width", "thrust main width", "deck height"],
    "crankshaft": ["* journal", "crankpin width", "crankshaft thrust width", "front thrust washer thickness",
                   "rear thrust washer thickness"],
    "rods": ["rod bore", "big end width", "small end", "rod bore distance"],
    "pistons": ["piston diameter", "piston diameter along the pin", "pin hole diameter"],
    "main shells": ["main %s wall %sthickness" % (half, at_) for half in ("upper", "lower") for at_ in ("", "joint ")],
    "rod shells": ["rod %s wall %sthickness" % (half, at_) for half in ("upper", "lower") for at_ in ("", "joint ")]}
PART_OF = {line.replace("*", kind): part for part, lines in PARTS.items() for line in lines for kind in ("main", "rod")}
FORMS = {"diameter": [], "taper": [("planes", "named")], "out-of-round": [("directions", "named")]}
# By what a size must be named for its form to be judged: its planes, or its directions.
NAMED_BY = {"cylinder": "taper", "* bore": "out-of-round", "* bearing bore": "out-of-round",
            "* journal": "out-of-round", "small end": "out-of-round"}
ENDS = ["smallest", "largest"]
MASS_SPREADS = {"rods mass spread": "rod %s mass", "rods big end mass spread": "rod %s big end mass",
                "rods small end mass spread": "rod %s small end mass", "pistons mass spread": "piston %s mass",
                "piston pins mass spread": "piston pin %s mass"}


def terms_of(formula):
    """The terms of a signed sum that somebody typed: "C = D - 2*t - d/2" has (1, D), (-2, t), (-1/2, d)."""
    text = formula.partition("=")[2]
    for typed, sign in zip("−–·×", "--**"):
        text = text.replace(typed, sign)
    tokens, terms = re.findall(r"\d[\d.]*|[^\W\d][\w.]*|\S", text), []
    factor, symbol, divide = F(1), None, False
    for token in tokens + ["+"]:
        if token in "+-" and symbol:
            terms.append((factor, symbol))
            factor, symbol = F(1), None
        if token == "-":
            factor = -factor
        elif token[0].isdigit():
            factor = factor / F(token) if divide else factor * F(token)
        elif token not in "+*/":
            symbol = token
        divide = token == "/"
    return terms


def called(group, location, quantity):
    return " ".join(filter(None, (group, "" if location == group else location, quantity)))


def at_places(line, places):
    """What readings of a line are called at places; "" is the only one."""
    words = line.split()
    return {" ".join(w for w in words[:n] + [x] + words[n:] if w) for n in range(1, len(words) + 1) for x in places}


def part(item, line):
    words = line.split()
    return any(item.startswith(" ".join(words[:n]) + " ")
               and (n == len(words) or item.endswith(" " + " ".join(words[n:])))
               for n in range(1, len(words) + 1))


def standing(v, r):
    """How what was judged stands, and why."""
    free, limits = v["tolerance"] == {"lo": None, "hi": None}, r["tolerance"]
    if not r["taken"]:
        return "not measured", "no limits are stated" if free else "the limits are " + limits
    if free:
        return "not measured", r["measured"] + "; " + (r["advice"] or "no limits are stated")
    if v["verdict"] == "conforming":
        return "proven", r["measured"]
    why = "%s, limits %s" % (r["measured"], limits)
    return ("undecided", why) if v["verdict"] == "undecided" else ("wrong", why + ": " + v["verdict"])


class Checker:
    """What a record claims, followed to what was read."""

    def __init__(self, d):
        need(d["closefit"] == 2, "another version")
        alike(d)
        self.d, self.checked, self.open = d, Counter(), []
        self.instruments, self.stated, self.fits, self.named, self.planes = {}, {}, {}, {}, {}
        self.found, self.limits, self.ring_rules = {}, {}, None
        self.walls = {}

    def run(self):
        self.check_stated()
        self.check_readings()
        self.check_verdicts()
        self.check_shells()
        self.check_items()
        self.check_plan()
        self.check_gates()
        return self

    def attempt(self, step, *of, **more):
        """Names what a step could not work out."""
        try:
            step(*of, **more)
        except NotImplementedError as e:
            self.open.append("%s, proven: %s" % (HERE[0], e))

    # What was read.
    def check_readings(self):
        d, self.instruments = self.d, {i["name"]: i for i in self.d["instruments"]}
        used = {r["with"] for r in d["readings"]} | {i["set_on"] for i in d["instruments"]}
        need([i["name"] for i in d["instruments"]] == sorted(used - {""}),
             "an instrument that nothing was read with, or one twice")
        for i in d["instruments"]:
            at(i["name"])
            marks = [q(m) for m in i["marks"]]
            figures = [i[f] for f in ("uncertainty", "repeats", "limit_of_error", "k", "freedom", "set_on")]
            need(i["kind"] in KINDS and marks == sorted(set(marks)), "marks out of their order")
            need((i["kind"] in MARKED) == bool(marks) and not (any(figures) if marks else i["tolerance"]),
                 "what an instrument of its kind does not have")
        for r in d["readings"]:
            at(r["name"])
            need(r["name"] not in self.planes, "read twice")
            self.attempt(self.check_reading, **r)
            self.checked["readings as typed"] += 1

    def check_reading(self, name, text, sure, stations, **more):
        """Keeps the whole part by its name, and each of several stations by its place."""
        planes, with_ = [[reading_of(s) for s in row] for row in stations], row_of(more, "with")["with"]
        need(not any(s.unmet or s.of_stations or s.at_worst > self.worst or s.words and not s.at_worst
                     for s in sum(planes, [])), "more than was read")
        places = [(i, k) for i, row in enumerate(planes, 1) for k, _ in enumerate(row, 1)]
        typed, _, far = text.partition(" over ")
        self.attempt(self.check_text, name, typed, with_, [s.acts[0][1] for s in sum(planes, [])], places)
        bodies = self.bodies(name, with_)
        if bodies:
            planes = [[at_reference(*bodies).of(s) for s in row] for row in planes]
        self.planes[name], (first, *rest) = planes, sum(planes, [])
        whole = first
        if far:
            (lo, hi), (near, far) = known(first._replace(non_negative=True))[0], bounds_of(far)
            whole = given("", (lo / far, None if hi is None else hi / near), conditions=first.conditions)
        elif rest:
            for i, row in enumerate(planes):
                for k, s in enumerate(row):
                    said = dict(first.conditions or ())
                    said.update((w, dict(r.conditions)[w]) for w, r in (
                        ("plane", row[0]), ("direction", planes[0][k])) if w in said)
                    need(said == dict(s.conditions or ()), "stations read otherwise")
            try:
                whole = spread_of(ENDS, planes, ENDS)
            except NotImplementedError as e:
                whole = e
        self.named[name] = whole

    def check_text(self, name, text, with_, acts, places):
        """What is typed leads to the acts, one at each station: (plane, direction), from 1."""
        by, colon, body = text.rpartition(":")
        need(not colon or by.strip() == with_, "another instrument than that of the text")
        if not with_:
            (_, a), = given(acts[0].by, bounds_of(body)).acts
            need(acts == [a._replace(seen=acts[0].seen)]
                 and (name.endswith(a.by) or a.by[:9] == "given as " and a.by[9:] in text), "a size that was given")
            return
        seen = []
        for a, (plane, direction) in zip(acts, places):
            seen += map(q, a.seen if a.means in TWO[:4] else a.seen[:1])
            at_ = [", plane %d, direction %d" % (plane, direction)] + [""] * (len(acts) == 1)
            at_ += [", place %d" % plane] if direction == 1 else []
            need(a.at in [name + p for p in at_], "an act of another reading")
            bracket_, stated, freedom, doubts = showed(self.instruments, with_, a)
            made = a._replace(bracket=bracket_, stated=stated, freedom=freedom, doubts=tuple(doubts), count=0)
            need(a == made, "a bracket that was not seen, or other doubts")
        need(numbers(body) == seen, "what was seen is not what was typed")

    # What a line is made of.
    def spell(self):
        """The tables with the words of the engine: {line: (what the table has, word, what stands for it)}."""
        words = {"*": ["main", "rod"], "ring": self.d["engine"]["rings"] or [],
                 "bolts": [b["group"] for b in self.d["bolts"]],
                 "wall": [kind + half + " wall" for kind in ("main ", "rod ") for half in ("upper", "lower")]}
        self.formulas, self.asks, self.named_by = ({
            line.replace(word, name): (x, word, name) for line, x in table.items()
            for word in [line.strip("=").split()[0]] for name in words.get(word, [word])}
            for table in (FORMULAS, CONDITIONS, NAMED_BY))
        for line, (formula, lines, needs) in self.fits.items():  # the job's own
            for own in [line] + [line + " " + symbol for _, symbol in terms_of(formula) if symbol not in lines]:
                self.asks[own] = needs, "", ""

    def names(self, line, place):
        """What a reading of a line may be called that belongs to a place: there, on the pin of the rod,
        on the only rod of the pin, on the only deck, or of the only part."""
        pins, decks = self.d["engine"]["pins"] or [], self.d["engine"]["decks"] or []
        at_ = [place, ""] + [p["name"] for p in pins if place in p["rods"]] + decks * (len(decks) == 1)
        return at_places(line, at_ + [p["rods"][0] for p in pins if p["name"] == place and len(p["rods"]) == 1])

    def rule(self, line, place):
        """The sum that a line is at a place: (factor, symbol, line, names of its reading); none of what is read."""
        if line in self.fits:
            formula, lines, _ = self.fits[line]
            of = [(f, symbol, lines.get(symbol, line + " " + symbol)) for f, symbol in terms_of(formula)]
            return [(f, symbol, l, self.names(l, place)) for f, symbol, l in of]
        if line not in self.formulas:
            return []
        e, (text, word, name), rule, n = self.d["engine"], self.formulas[line], [], 0
        beside = e["mains"].index(place) if place in e["mains"] else 0
        at_ = {"@before": e["mains"][beside - 1:beside], "@after": e["mains"][beside + 1:beside + 2], "@": [place],
               "@each": next((p["rods"] for p in e["pins"] or [] if p["name"] == place), [place])}
        for term in text.split(";"):
            factor, symbol, what = term.replace(word, name).split(None, 2)
            factor = self.size("bobweight.share")[0] if factor == "share" else F(factor)
            where = re.search(r"@\w*", what)
            of = re.sub(r" @\w*", "", what)
            if of in self.without:
                continue
            for called_ in [{what.replace(where[0], x)} for x in at_[where[0]]] if where else [self.names(of, place)]:
                n += "#" in symbol
                rule.append((factor, symbol.replace("#", str(n)), of, called_))
        return rule

    def conditions(self, line):
        """What a reading of a line must state."""
        return self.asks[line][0] if line in self.asks else []

    def read(self, names):
        """What was read by one of these names, of the whole part."""
        r = next((self.named[name] for name in names if name in self.named), None)
        if isinstance(r, Exception):
            raise r
        return r

    def rows(self, line, place):
        """The stations of a part, by plane and direction."""
        return next((self.planes[name] for name in self.names(line, place) if name in self.planes), [])

    def asked(self, line, place, more=(), r=None):
        """What was read of a line, or of its stations: it must state what the line asks for."""
        r = r or self.read(self.names(line, place))
        formula, _, needs = self.fits.get(line, (None, None, None))
        above = formula == "" and needs or formula is None and line.endswith(NOT_BELOW_ZERO)
        return r and r._replace(unmet=lacking([*self.conditions(line), *more], r.conditions) + (r.unmet or []),
                                non_negative=bool(r.non_negative or above or more))

    def sum_of(self, rule, line, place, of_part=None, bodies=None, worst=False):
        """A sum of a line, of whole parts, or at a station: there of_part tells what each symbol was read to."""
        terms = []
        for factor, symbol, of, names in rule:
            r = of_part[symbol] if of_part else self.read(names) or (None if of == line else self.value(of, place))
            r = warming(bodies[symbol]).of(r) if bodies and r else r
            terms.append((factor, r, () if self.rule(of, place) and of != line else self.conditions(of)))
        return combined(terms, line not in self.fits and line.endswith(SUMS_NOT_BELOW_ZERO), worst)

    def value(self, line, place):
        """What is known of a line at a place, of whole parts."""
        return self.made_of(line, place) if line[0] == "=" else best(*self.fit(line, place)[:2])

    def fit(self, line, place):
        """A line as it was read at its place; the sum that it is of whole parts; and of what is judged of it
        the sum, and the rows of stations that it lies between."""
        own, bodies, cold = line in self.fits, None, None
        if line.endswith(" barrel") and not own:
            rows = self.barrels(line.removesuffix(" barrel"), place)
            if rows and len(rows[0]) > 1 and not rows[0][0].unmet:
                return None, None, spread_of(ENDS, rows, ENDS), rows
            one = rows[0][0] if rows else None
            return None, one, one, []
        bearing, warm = re.fullmatch(r"(main|rod) bearing (warm )?clearance", line), " bearing warm " in line
        by = line.replace("warm ", "") if warm else line
        if line == "crankshaft end play" and not any(
                "thrust washer" in name for name in [*self.named, *(i["name"] for i in self.d["items"])]):
            by = line + " without washers"
        rule, direct = self.rule(by, place), None if line == "crankshaft bow" else self.asked(line, place)
        if warm:
            cold = self.fit(by, place)[0]
            bodies = {symbol: self.body(PART_OF[of], "running") for _, symbol, of, _ in rule}
            if None in bodies.values():
                return None, None, None, []
        whole = total = self.sum_of(rule, line, place, bodies=bodies, worst=self.worst)
        if cold:  # it grows by what its sizes do
            grown = [(f, r and warming(bodies[symbol], F(0)).of(r), ())
                     for f, symbol, _, names in rule for r in [self.read(names)]]
            direct = combined([(F(1), cold, ())] + grown, worst=self.worst)
        if not bearing:
            return direct, whole, total, []
        rows = self.clearances(rule, line, place, bodies)
        if rows is not None:
            total = spread_of(ENDS, rows, ENDS) if rows else None
        inside = None if warm else self.sum_of(self.rule(line + " by its bore", place), line, place, worst=self.worst)
        if inside and not total:
            total, rows = inside, None
        elif inside and not (direct and inside.unmet):
            direct = best(direct, inside) if direct and not direct.unmet else inside
        return direct, whole, total, rows or []

    def barrels(self, part, place):
        """How far a part is larger in its middle than at its ends, in each direction of three planes or more."""
        rows = self.rows(part, place)
        n, half = len(rows), F(1, 2)
        middle_ = [(F(1), n // 2)] if n % 2 else [(half, n // 2 - 1), (half, n // 2)]
        at_ = middle_ + [(-half, 0), (-half, n - 1)]
        return [] if n < 3 else [[combined([(f, rows[plane][k], self.conditions(part)) for f, plane in at_], worst=self.worst)
                                  for k in range(len(rows[0]))]]

    def clearances(self, rule, line, place, bodies):
        """The clearance of a bearing in each plane and direction in which its bore and its journal were read, with
        the walls at the crown in one that is called so, and those near the joint. None where it is not known so."""
        bore, journal = self.rows(rule[0][2], place), self.rows(rule[3][2], place)
        where = lambda rows: [[[dict(s.conditions or ()).get(way) for way in ("direction", "plane")]
                               for s in row] for row in rows]
        stations = where(bore)
        if (len(sum(stations, [])) < 2 or stations != where(journal)
                or any(d is None or p is None and len(bore) > 1 for d, p in sum(stations, []))):
            return None
        out, unread = [], False
        for i, row in enumerate(stations):
            out.append([])
            for k, (direction, _) in enumerate(row):
                if ("crown" in direction) == ("joint" in direction):
                    continue
                near = " joint thickness" if "joint" in direction else " thickness"
                of_part = {symbol: self.read(self.names(of.replace(" thickness", near), place))
                           for _, symbol, of, _ in rule}
                of_part.update(D=bore[i][k], d=journal[i][k])
                out[-1].append(self.sum_of(rule, line, place, of_part, bodies))
        if not any("crown" in d for d, _ in stations[0]):
            return None
        every = sum(out, [])
        return [] if None in every else None if any(s.unmet for s in every) else out

    def made_of(self, what, place):
        """What stands in a sum that was not read."""
        if what == "=oil":
            return given("", self.size("bobweight.oil"))
        if what == "=oval":  # see below: a swing of the dial is 2·b at least, and at most 2·b + δ/2
            far, rows = interval(self.named["crankshaft %s bow" % place])[1], self.planes.get("main journal " + place)
            oval = rows and len(rows[0]) > 1 and interval(spread_of(["out-of-round"], rows, ["out-of-round"]))
            far = oval[1] / 4 if oval and oval[1] is not None else far and max(F(0), far / 2)
            return given("", (None, None) if far is None else (F(0), far))
        kind = what[1:].split()[0]  # the crush: (h1 + h2)/π
        upper, lower = (self.read(["%s %s shell %s crush height" % (kind, half, place)]) for half in ("upper", "lower"))
        if not upper or not lower:
            return None
        return given("", ends_of(x / p for x in add(interval(upper), interval(lower)) for p in PI_BOUNDS),
                     conditions=[c for c in upper.conditions or () if not lacking([c], lower.conditions)])

    def judged(self, group, place, quantity):
        """What is judged, and whether of it the smallest or the largest of stations: their rows, and the claims
        that are made of them together."""
        size = quantity in FORMS and group in self.named_by
        line = group if size else called(group, "", quantity)
        spread = lambda claim, rows: spread_of([claim], rows, [claim]) if rows and len(sum(rows, [])) > 1 else None
        if size:
            claims, rows = ENDS + ["taper", "out-of-round"], self.rows(line, place)
            n = {"diameter": len(sum(rows, [])), "taper": len(rows), "out-of-round": len(sum(rows[:1], []))}[quantity]
            if n < 2:
                return self.asked(line, place) if quantity == "diameter" else None, [], claims
            shows = ENDS if quantity == "diameter" else [quantity]
            ways = FORMS[quantity] if self.named_by[group][0] == quantity else []
            r = self.asked(line, place, ways, spread_of(shows, rows, claims))
            return r, rows if quantity == "diameter" else [], claims
        if quantity == "grade":
            return self.read(self.names(group + " thickness", place)), [], ENDS
        if quantity == "compression ratio":
            return self.ratio(line, place), [], ENDS
        if line in MASS_SPREADS:
            every = [self.read([MASS_SPREADS[line] % c]) for c in self.d["engine"]["cylinders"]]
            return None if None in every else spread("out-of-round", [every]), [], ENDS
        if line == "deck height spread":
            return spread("out-of-round", [sum(self.rows("deck height", place), [])]), [], ENDS
        if line.endswith(" bearing clearance taper"):
            part_ = line.removesuffix(" taper")
            rows = self.rows(part_, place)
            r = spread("taper", rows) if len(rows) > 1 else None
            return combined([(F(1), r, self.conditions(part_))], True, self.worst), [], ENDS
        direct, _, total, rows = self.fit(line, place)
        r = best(direct, total)
        if r and quantity == "stretch" and bracket(r)[1] + expanded(r) < 0:
            r = r._replace(unmet=["a bolt that is shorter than when it was new"], non_negative=False)
        if direct and r is direct:
            rows = self.rows(line, place)
            rows = rows if len(sum(rows, [])) > 1 else []
        return r, rows, ENDS

    def ratio(self, line, place):
        """A compression ratio: (V + Vc)/Vc, with V = π/4·B²·S and Vc = chamber + dish + π/4·(G²·s + B²·h)."""
        deck = self.value("deck piston height", place)  # a crown that stands over the deck is below zero here
        v = {"bore": interval(self.asked("cylinder", place)), "stroke": interval(self.value("crankpin stroke", place)),
             "deck": deck and turned(interval(deck) or (None, None))}
        for key in ("bore", "stroke", "deck", "gasket_bore", "gasket_thickness", "chamber", "dish"):
            text = self.stated.get("compression.%ss.%s" % (key, place), self.stated.get("compression." + key))
            v[key] = bounds_of(text) if text else v.get(key)
        if None in v.values() or None in sum(v.values(), ()):
            return None
        cylinder = lambda across, high: ends_of(p / 4 * d * d * h for p in PI_BOUNDS for d in across for h in high)
        swept, over = cylinder(v["bore"], v["stroke"]), v["chamber"]
        for x in (v["dish"], cylinder(v["gasket_bore"], v["gasket_thickness"]), cylinder(v["bore"], v["deck"])):
            over = add(over, x)
        if over[0] <= 0 or min(v[k][0] for k in ("bore", "stroke", "gasket_bore")) <= 0:
            return None
        return given("", (swept[0] / over[1] + 1, swept[1] / over[0] + 1))

    # What else the job states.
    def check_stated(self):
        for x in self.d["stated"]:
            row_of(x, "key text")
            need(x["key"] not in self.stated, "stated twice")
            self.stated[x["key"]] = x["text"]
        under = lambda key: {k[len(key):]: t for k, t in self.stated.items() if k.startswith(key)}
        for key, name in self.stated.items():
            if re.fullmatch(r"fits\[\d+\]\.name", key):
                fit = key.removesuffix("name")
                self.fits[name] = (self.stated.get(fit + "formula", ""), under(fit + "lines."),
                                   sorted(under(fit + "needs.").items()))
            shell = re.fullmatch(r"shells\.(\w+)\.(?:walls|undersizes\.(.+))\.(upper|lower|both)\.(.+)", key)
            if shell:
                self.walls[shell[1], shell[3], " ".join(filter(None, (shell[2], shell[4])))] = key
        self.without = [t for k, t in self.stated.items() if k.startswith("bobweight.without[")]
        self.worst = self.stated.get("combine") == "at worst"
        self.spell()

    def size(self, key):
        """The bounds of a size that the job states."""
        return bounds_of(self.stated[key])

    def body(self, name, when):
        """How warm a part is, or an instrument, and how it grows; None where the job does not say."""
        key = "warmth.%s." % name
        if key + when not in self.stated:
            return None
        material, with_ = self.stated[key + "material"], self.stated[key + when]
        return Body(material, self.size("materials." + material), with_, self.size("temperatures." + with_))

    def bodies(self, name, with_):
        """A part of which a temperature was stated is corrected to 20 °C by what it was measured with: it, the
        instrument and what that was set on. None for another."""
        e = self.d["engine"]
        places = sum((e[k] or [] for k in ("mains", "cylinders", "decks")), [""]) + [p["name"] for p in e["pins"] or []]
        part_ = next((p for line, p in PART_OF.items() if "warmth.%s.measured" % p in self.stated
                      and name in at_places(line, places)), None)
        if not part_ or not with_:
            return None
        instrument, master = self.body(with_, "measured"), self.instruments[with_]["set_on"]
        master = self.body(master, "measured") if master else instrument._replace(with_="", temperature=(F(0), F(0)))
        return self.body(part_, "measured"), instrument, master

    def wall(self, kind, half, grade):
        """The wall of a grade of shell, as it is stated, or thicker by half the undersize; None if it is not."""
        for key in (half or "both", "both"):
            if (kind, key, grade) in self.walls:
                return self.size(self.walls[kind, key, grade])
        for key, by in self.stated.items():  # "0.25 mm oak" is the grade oak of the undersize 0.25 mm
            if key.startswith("shells.%s.undersize" % kind) and grade.startswith(by + " "):
                standard = self.wall(kind, half, grade[len(by) + 1:])
                return standard and tuple(x + bounds_of(by)[0] / 2 for x in standard)
        return None

    # Verdicts.
    def check_verdicts(self):
        d = self.d
        need(len(d["limits"]) == len(d["verdicts"]) == sum(len(g["readings"]) for g in d["groups"]),
             "limits of each verdict")
        rest = iter(zip(d["verdicts"], map(bounds, d["limits"])))
        for g in d["groups"]:
            asked = []
            for r in g["readings"]:
                v, limits = next(rest)
                name = called(v["group"], v["location"], v["quantity"])
                at(name)
                need(r["tolerance"] == g["limits"].partition(" (")[0] or g["limits"] == "by grade",
                     "the limits of a group")
                need((v["group"], v["quantity"]) == (g["name"], g["quantity"]) and name not in self.found,
                     "a verdict out of its group")
                self.found[name], self.limits[name] = (v, r), limits
                asked.append(g["quantity"] == "grade" or limits)
                try:
                    self.check_verdict(v, r, limits)
                    self.checked["verdicts"] += 1
                except NotImplementedError as e:
                    self.open.append("%s, %s: what it is made from, %s" % (name, v["verdict"], e))
            need(len({str(a) for a in asked}) < 2 or g["quantity"] in ("stretch", "length"),
                 "one line with several limits")

    def check_verdict(self, v, r, limits):
        self.check_shown(limits, v["tolerance"], r["tolerance"], False)
        if v["quantity"] == "grade" and limits != (None, None):
            kind, half, _ = v["group"].split()
            need(limits in [self.wall(kind, half, x["grade"]) for s in self.d["shells"] for x in s["choices"]
                            if (s["bearings"], x["location"], x["half"]) == (kind + " bearing", v["location"], half)],
                 "another wall than that of the grade")
        made, rows, claims = self.judged(v["group"], v["location"], v["quantity"])
        need(r["taken"] == (made is not None), "taken or not")
        i, proves = known(made) if made else ((None, None), False)
        self.check_shown(i, v["measured"], r["measured"], True)
        word = judge(i if proves else None, limits)
        for end in ENDS if word == "undecided" and proves and rows else ():
            off, u, _ = shown(end, rows, claims)  # of which one alone may be proven outside
            if word == "undecided":
                word = judge(add(off, (-u, u)), limits)
                word = "undecided" if word == "conforming" else word
        if r["slip"]:
            word = "undecided"
            self.checked["slips questioned"] += 1
        need(word == v["verdict"], "the verdict is " + word)

    def check_shown(self, b, texts, words, outward):
        """Bounds as they are written, to nine places, and as they are shown: what was measured
        is rounded outward, limits inward."""
        m = re.fullmatch(r"(at most |at least )?(-?[\d.]+?)(?:\.\.(-?\d[\d.]*))?(?: (\S+))?", words)
        need(m or words in ("not measured", "not stated", "not known") and b == (None, None), "bounds")
        lo, hi = (m[2], m[3] or m[2]) if m else b
        lo, hi = None if m and m[1] == "at most " else lo, None if m and m[1] == "at least " else hi
        for x, text, word, down in ((b[0], texts["lo"], lo, outward), (b[1], texts["hi"], hi, not outward)):
            need((x is None) == (text is None) == (word is None), "bounds")
            if x is not None:
                number, _, unit = text.partition(" ")
                rounded = lambda x, n: x * 10**n // 1 / F(10**n) if down else -(-x * 10**n // 1) / F(10**n)
                exact, places = x / UNITS[unit], len(word.partition(".")[2])
                need(F(number) in (exact, rounded(exact, 9)), "bounds")
                need(unit == (m[4] or "") and F(word) == rounded(F(number), places), "bounds as shown")

    # Everything that has to be known, and how it stands.
    def check_items(self):
        d, items = self.d, self.d["items"]
        self.items = {i["name"]: i for i in items}
        need(len(self.items) == len(items), "an item twice")
        lists = self.check_engine()
        where = {}
        for i in items:
            need(i["name"] == called(i["group"], i["location"], i["quantity"]), "an item's name")
            where.setdefault((i["group"], i["quantity"]), []).append(i)
        for (group, _), some in where.items():
            places = [i["location"] for i in some]
            if some[0]["bolt"]:
                continue
            if places not in lists + [[""], [group]] and not group.endswith(" wall"):
                self.open.append("whether %s is asked for everywhere" % some[0]["name"])
            need(len({i["before"] for i in some}) == 1, "a line before several gates")
        self.bolts = {called(b["group"], b["bolt"], ""): b for b in d["bolts"]}
        need(len(self.bolts) == len(d["bolts"]), "a bolt twice")
        stands = self.standings()
        for name in stands:
            need(name in self.items, "it was judged, and no item says so")
        for name, i in self.items.items():
            want, x = stands.get(name, ("not measured", "")), i["excuse"]
            need((i["standing"], i["why"]) == want, "how it stands")
            need(i["bolt"] == (self.bolts[name]["bolt"] if name in self.bolts else ""), "the bolt of an item")
            if x:
                need(i["standing"] != "proven" and not (i["bolt"] and i["standing"] == "wrong") and x["by"]
                     and x["reason"] and (x["what"] == name or part(name, x["what"])),
                     "an excuse that does not serve")
            self.checked["items"] += 1
        need(d["proven"] == bool(items and all(i["standing"] == "proven" for i in items)), "proven or not")

    def check_engine(self):
        """What the engine asks for. Returns where its lines may be asked for."""
        e = {k: v or [] for k, v in self.d["engine"].items()}
        pins = [p["name"] for p in e["pins"]]
        need(sorted(r for p in e["pins"] for r in p["rods"]) == sorted(e["cylinders"])
             and all(p["name"] == "-".join(p["rods"]) for p in e["pins"])
             and (not e["thrust"] or e["thrust"] in e["mains"]), "pins and rods")
        asked = [("passage", e["passages"], ""), ("main bearing", e["mains"], "clearance"),
                 ("rod bearing", e["cylinders"], "clearance"), ("rod", pins, "side play"),
                 ("oil jet", e["jets"], "opening pressure"), ("crankshaft", [""], "end play"),
                 ("tightening plan", [""], "")] + [(ring, e["cylinders"], "end gap") for ring in e["rings"]]
        for name in [called(group, place, quantity) for group, places, quantity in asked for place in places]:
            need(name in self.items, "the engine asks for it, and no item does")
        items = self.items.values()
        need({i["group"] for i in items if i["quantity"] == "end gap"} == set(e["rings"])
             and all(i["location"] in e["jets"] for i in items if i["group"] == "oil jet")
             and all(len(set(map(str, l))) == len(l) for k, l in e.items() if k != "thrust"),
             "a ring or a jet that is not the engine's, or a part twice")
        return [e[k] for k in ("cylinders", "mains", "passages", "jets", "decks", "pumps")] + [
            pins, e["mains"][1:-1]]

    def standings(self):
        """How each item stands, and why, by what was judged, looked at, said or chosen."""
        d, stands = self.d, {}
        for l in d["looked"]:
            name = called(l["group"], l["location"], l["quantity"])
            need(name not in stands, "looked at twice")
            if l["good_is"]:
                need(l["rests_on"] is None and l["good"] == (l["state"] == l["good_is"]), "good or not")
            elif l["rests_on"]:
                self.check_rings(l)
            else:
                need(not l["good"], "good by nothing")
            unsaid = l["state"] in ("not looked at", "not said")
            stands[name] = "not measured" if unsaid else "proven" if l["good"] else "wrong", l["state"]
        for name, b in self.bolts.items():
            stands[name] = self.standing_of_bolt(b)
        sizes = {(b["group"], b["bolt"], b["judged"]) for b in d["bolts"]}
        for name, (v, r) in self.found.items():
            if (v["group"], v["location"], v["quantity"]) not in sizes:
                stands[name] = standing(v, r)
        for s in d["shells"]:
            for l in s["locations"]:
                stands[called(s["bearings"], l["location"], "shells")] = l["standing"], l["why"]
        n = len(d["plan"])
        stands["tightening plan"] = ("proven", "%d steps" % n) if n else (
            "not measured", "none; write [[tightening]]")
        return stands

    def check_rings(self, l):
        """The gaps of a piston's rings stand apart, and outside of arcs."""
        rules, angles = l["rests_on"]["rules"], l["rests_on"]["at"]
        self.ring_rules = self.ring_rules or rules
        need(rules == self.ring_rules, "not what is said of it elsewhere")
        degrees = lambda text: F(text.removesuffix(" °").strip("()"))
        apart = lambda a, b: min((a - b) % 360, (b - a) % 360)
        near, any_ = degrees(rules["neighbours"]), degrees(rules["any"])
        gaps = list(map(degrees, angles))
        need(len(gaps) == len(rules["rings"])
             and l["state"] == ", ".join(map("%s %s".__mod__, zip(rules["rings"], angles))), "other gaps")
        good = all(apart(g, degrees(arc["centre"])) >= degrees(arc["reach"])
                   for g in gaps for arc in rules["forbidden"] or [])
        for n, g in enumerate(gaps):
            good = good and all(apart(g, h) >= (max(near, any_) if n == m + 1 else any_)
                                for m, h in enumerate(gaps[:n]))
        need(l["good"] == good, "gaps that are good, or not")

    def standing_of_bolt(self, b):
        name = called(b["group"], b["bolt"], b["judged"])
        v, r = self.found[name] if b["judged"] and name in self.found else (None, None)
        need(b["said"] in ("", "new", "sound", "scrap"), "what is said of a bolt")
        if b["said"] == "scrap":
            return "wrong", "scrap: fit a new one"
        if b["said"] == "new":
            return "proven", "new"
        if b["single_use"] and (b["said"] or b["measured"]):
            return "wrong", "used, and its group is used once: fit a new one"
        if v and r["taken"]:
            stands, why = standing(v, r)
            return ("wrong", "scrap: fit a new one") if stands == "wrong" else (stands, why)
        if b["said"] == "sound":
            return ("not measured", "sound, and not measured; its group has a limit") if b["judged"] else \
                ("proven", "looked at, and sound")
        key = b["group"] if re.fullmatch(r"[A-Za-z0-9_-]+", b["group"]) else '"%s"' % b["group"]
        if b["single_use"]:
            return "not measured", "not known to be new; its group is used once: write it under bolts.%s: new" % key
        return ("not measured",
                "not known to be new or sound; write it under bolts.%s: new, sound, or its length" % key)

    # The bolts are all pulled, in their order.
    def check_plan(self):
        d, plans = self.d, {"trial assembly": self.d["trial"], "final assembly": self.d["plan"]}
        once = {(t["phase"], t["group"]): t["once"] for t in d["tightening"]}
        need(len(once) == len(d["tightening"]) and {p for p, _ in once} <= set(plans),
             "a group tightened twice, or in no phase")
        need(sorted(called(t["group"], b["name"], "") for t in d["tightening"] for b in t["bolts"]
                    if t["phase"] == "final assembly") == sorted(self.bolts),
             "a bolt of the plan that is not known, or one too many")
        for name, b in self.bolts.items():
            need(b["single_use"] == once["final assembly", b["group"]]
                 and b["measured"] == (name + ", length" in self.named), "what is known of a bolt")
        for phase, plan in plans.items():
            need({s["group"] for s in plan} == {g for p, g in once if p == phase},
                 "a group of bolts that is not tightened")
        for t in d["tightening"]:
            want = [(b, p["do"]) for p in t["stages"] for b in p["order"]]
            pulls = [s for s in plans[t["phase"]] if s["group"] == t["group"] and s["bolt"]
                     and not s["stage"].endswith("before the first stage")]
            plain = lambda do: re.sub(r" \(.*\)$", "", do)
            did = lambda do: re.sub(r"^tighten to | further$", "", plain(do)).replace("turn ", "+")
            got = [(s["bolt"], did(s["do"])) for s in pulls]
            need(sorted(b["name"] for b in t["bolts"]) == sorted({b for b, _ in want})
                 and Counter(got) == Counter(want) and (t["cap_by_cap"] or got == want)
                 and all([x for x in got if x[0] == b["name"]] == [x for x in want if x[0] == b["name"]]
                         for b in t["bolts"]),
                 "a bolt missed, or pulled otherwise")
            self.checked["pulls of bolts"] += len(got)
        held = {}
        for i in self.items.values():
            if i["bolt"]:
                hold = i["why"] if i["standing"] == "wrong" else (
                    "prove it good first, or replace it (%s)" % i["why"])
                held.setdefault(i["bolt"], "" if i["standing"] == "proven" or i["excuse"] else hold)
        for n, s in enumerate(d["plan"], 1):
            need((s["number"], s["hold"]) == (n, held.get(s["bolt"], "")), "a number, or what holds a step")

    def check_gates(self):
        names = ["inspection", "choosing and buying", "trial assembly", "final assembly",
                 "first oil pressure"]
        worst = ["wrong", "not measured", "undecided", "to order", "proven"]
        need([g["before"] for g in self.d["gates"]] == names, "the gates")
        for n, g in enumerate(self.d["gates"]):
            asked = [i for i in self.items.values() if names.index(i["before"]) <= n]
            open_ = [i for i in asked if i["standing"] != "proven"]
            accepted = [i["name"] for i in open_ if i["excuse"]]
            open_.sort(key=lambda i: worst.index(i["standing"]))
            shut = [i["name"] for i in open_ if not i["excuse"]]
            need(g == dict(before=g["before"], open=not shut and bool(self.items),
                           proven=len(asked) - len(open_), shut=shut, accepted=accepted), "the gate")
            self.checked["gates"] += 1
            self.checked["items asked for by gates"] += len(asked)

    # The shells of each location, and what is bought.
    def check_shells(self):
        need(len({s["bearings"] for s in self.d["shells"]}) == len(self.d["shells"]), "shells twice")
        for s in self.d["shells"]:
            served, stock = Counter(), Counter()
            if s["offer"] and s["offer"]["purchase"]:
                check_purchase(s["offer"]["purchase"])
                self.checked["purchases"] += 1
            if s["purchase"]:
                served, stock = check_purchase(s["purchase"])
                self.checked["purchases"] += 1
            at_ = [l["location"] for l in s["locations"]]
            need(sorted(c["location"] for c in s["choices"]) == sorted(2 * at_) and set(s["held_back"]) <= set(at_),
                 "a shell for each half")
            for l in s["locations"]:
                where = l["location"]
                at(called(s["bearings"], where, "shells"))
                halves = {c["half"]: c["grade"] for c in s["choices"] if c["location"] == where}
                need((l["standing"] == "wrong") == (where in s["held_back"]) or not l["by"], "held back")
                fit = "upper %(upper)s, lower %(lower)s" % halves
                if l["standing"] not in ("proven", "to order") or "no pack" in l["why"]:
                    continue
                need(l["by"] in ("codes", "sizes", "fit", "fitted"), "chosen by nothing")
                need(l["by"] != "codes" or l["codes"] == fit, "other shells than the codes call for")
                if l["by"] == "sizes":
                    self.attempt(self.check_sizes, s, where, halves)
                missing = []
                for half in ("upper", "lower") if l["by"] != "fitted" else ():
                    grade = halves[half]
                    name = grade + " " + half
                    name = name if name in stock or name in served else grade
                    if not stock[name]:
                        missing.append("%s %s" % (half, grade))
                    stock[name] -= stock[name] > 0
                    served[name] -= 1
                    need(served[name] >= 0, "a shell that is needed and was not asked for")
                want = ("proven", "on hand: " + fit)
                want = ("to order", "to buy: " + ", ".join(missing)) if missing else want
                need(l["by"] == "fitted" or (l["standing"], l["why"]) == want, "on hand or not")
                self.checked["shells chosen"] += 1

    def check_sizes(self, s, location, halves):
        """Shells chosen by sizes are inside with every size that their location and they may have."""
        kind = s["bearings"].split()[0]
        sites = {x["location"]: x for x in s["rests_on"] or []}
        need(location in sites and len(sites) == len(s["rests_on"]), "sizes of another location")
        site, (housing, journal) = sites[location], (
            interval(self.asked("%s %s" % (kind, of), location)) for of in ("bore", "journal"))
        limits, between = self.limits[called(s["bearings"], location, "clearance")], add(housing, journal, F(-1))
        walls = [(w["grade"], w["half"], self.wall(kind, w["half"], w["grade"])) for w in site["walls"]]
        need(len(set(walls)) == len(walls) and all(wall for _, _, wall in walls), "a wall twice, or not stated")
        thin = {grade: min(wall[0] for g, _, wall in walls if g == grade) for grade, _, _ in walls}
        rank, inside = {g: n for n, g in enumerate(sorted(thin, key=thin.get))}, {}
        for u, upper, t1 in walls:
            for w, lower, t2 in walls:
                c = add(add(between, t1, F(-1)), t2, F(-1))
                if (upper != "lower" and lower != "upper" and abs(rank[u] - rank[w]) <= site["mix"]
                        and judge(c, limits) == "conforming"):
                    inside[u, w] = abs(sum(c) / 2 - q(site["wanted"]))
        need((halves["upper"], halves["lower"]) in inside, "shells that the sizes do not prove inside")
        # They were bought from all of these that can be had.
        p = s["purchase"]["rests_on"]["request"] if s["purchase"] else dict(needs=[], packs=[], stock=[])
        stock = {c["part"] for c in p["stock"] or [] if c["n"]}
        had = stock | {c["part"] for x in p["packs"] or [] if x["limit"] != 0 for c in x["parts"]}
        for n in [n for n in p["needs"] if n["name"] == location]:
            part_ = lambda g, half: g if g in had else g + " " + half
            want = {(part_(u, "upper"), part_(w, "lower")): off for (u, w), off in inside.items()}
            want = {k: off for k, off in want.items() if set(k) <= had}
            got = {tuple(a["parts"]): q(a["distance"]) for a in n["alternatives"]}
            need(all(want.get(k) == off for k, off in got.items()),
                 "a pair that is not inside, or another distance")
            stocked = {c["part"] for c in p["stock"] or []}
            # Of two parts that fit either half the order is nothing: they are one pair.
            need(all(k in got or k[::-1] in got for k in want if k[0] != k[1] or k[0] not in stocked),
                 "a pair left out")


# Purchases: see the documentation of package purchase for the proof.
def counts(list_):
    c = Counter()
    for x in list_ or []:
        need(x["n"] >= 0, "fewer than none")
        c[x["part"]] += x["n"]
    return c


def check_purchase(p):
    """What is bought serves, and nothing cheaper does. Returns what is served, and what was there."""
    b, asked = row_of(p["rests_on"], "request served components"), p["rests_on"]["request"]
    packs = {k["name"]: k for k in asked["packs"] or []}
    need(len(packs) == len(asked["packs"] or []), "packs of one name")
    have, served, places, price = counts(asked["stock"]), Counter(), Counter(), F(0)
    coin = p["total"].partition(" ")[2]
    money = lambda text: F(text.removesuffix(" " + coin if coin else ""))
    for x in p["lines"]:
        k, n = packs[x["pack"]], x["count"]
        need(n > 0 and (k["limit"] is None or n <= k["limit"]), "a pack that is not on sale")
        need((money(x["each"]), money(x["sum"])) == (F(k["price"]), F(k["price"]) * n), "the price of a line")
        price += F(k["price"]) * n
        for part_, each in counts(k["parts"]).items():
            have[part_] += each * n
    need(len({x["pack"] for x in p["lines"]}) == len(p["lines"]), "two lines of a pack")
    at_ = [(x["need"], x["alternative"]) for x in b["served"] or []]
    need(at_ == sorted(set(at_)), "places out of their order")
    for n in asked["needs"] or []:
        first, *others = n["alternatives"]
        need(others or len(first["parts"]) > 1 or [n["name"]] == first["parts"], "a need by another name")
    for x in b["served"] or []:
        need(x["n"] > 0 and x["need"] >= 0 and x["alternative"] >= 0, "a place that is served otherwise")
        places[x["need"]] += x["n"]
        for part_ in asked["needs"][x["need"]]["alternatives"][x["alternative"]]["parts"]:
            served[part_] += x["n"]
    need(all(places[i] == n["n"] for i, n in enumerate(asked["needs"] or [])), "a need that is not served")
    have.subtract(served)
    left = {x["part"]: x["count"] for x in p["left_over"]}
    need(min(have.values(), default=0) >= 0 and +have == Counter(left) and len(left) == len(p["left_over"]),
         "what is left over")
    need([dict(part=x["part"], n=x["count"]) for x in p["on_hand"]] == (asked["stock"] or []), "what is there")
    least_ = check_proof(b["components"] or [], packs, asked)
    need(money(p["total"]) == price >= least_, "the price in all")
    need(p["proof"] == "Proven: nothing on sale serves for less than %s." % p["total"] if price == least_
         else p["proof"].startswith("Not proven"), "the words of the proof")
    return served, counts(asked["stock"])


def check_proof(components, packs, asked):
    """The least price that is proven: that of components which share no part."""
    used, total = set(), F(0)
    for c in components:
        mine = sum(c["lines"], [])
        need(len(set(mine)) == len(mine) and not used & set(mine), "a pack twice")
        used |= set(mine)
        for k in packs.values():
            need(k["name"] in mine or k["limit"] == 0 or not set(counts(k["parts"])) & set(c["parts"]),
                 "a pack left out")
        total += F(c["unit"]) * Component(c, packs, asked).least()
    return total


class Component:
    """Parts that are bought together: for each part, what packs hold must not be less than what is
    fixed and what the alternatives that are chosen take. The variables are how many packs of each line
    (packs that hold the same, the cheaper first) and how often each alternative, between lo and hi."""

    def __init__(self, c, packs, asked):
        row_of(c, "unit least parts lines choices counted cases")
        self.c, self.parts, needs = c, c["parts"], [n for n in asked["needs"] or [] if n["n"] > 0]
        self.holds = {name: [counts(k["parts"])[p] for p in self.parts] for name, k in packs.items()}
        # A choice is all needs that have the same alternatives.
        self.choices = [(sum(n["n"] for n in needs if n["alternatives"] == alternatives),
                         [[a["parts"].count(p) for p in self.parts] for a in alternatives])
                        for alternatives in c["choices"] or []]
        need(all(n > 0 and len(takes) > 1 for n, takes in self.choices)
             and len(set(map(str, c["choices"] or []))) == len(self.choices), "a choice")
        self.fixed = [sum(n["n"] * n["alternatives"][0]["parts"].count(p) for n in needs
                          if len(n["alternatives"]) == 1) - counts(asked["stock"])[p] for p in self.parts]
        self.most = [f + sum(n * max(take[i] for take in takes) for n, takes in self.choices)
                     for i, f in enumerate(self.fixed)]
        # Of each pack: the price in units, how many are useful at most, how many there are of those.
        self.cost, self.useful, self.limit, self.lines, self.lo, self.hi = {}, {}, {}, [], [], []
        for name in sum(c["lines"], []):
            self.cost[name], limit = F(packs[name]["price"]) / F(c["unit"]), packs[name]["limit"]
            self.useful[name] = max([-(-m // h) for h, m in zip(self.holds[name], self.most) if h] + [0])
            self.limit[name] = self.useful[name] if limit is None else min(limit, self.useful[name])
        for line in c["lines"]:
            self.number(line)
        for n, takes in self.choices:
            self.lo += [0] * len(takes)
            self.hi += [n] * len(takes)

    def number(self, line):
        """The packs of a line are alike, and dearer ones follow. Those behind enough are not counted."""
        counted, most, enough = [], 0, False
        for pack in line:
            last = counted[-1] if counted else pack
            for n, before in zip(self.holds[pack], self.holds[last]):
                need(n == before or n < before and enough, "packs that are not alike")
            need(self.cost[last] <= self.cost[pack], "a dearer pack first")
            if not enough:
                need(self.cost[pack].denominator == 1, "a price that is no multiple of the unit")
                counted.append(pack)
                most += self.limit[pack]
                enough = self.limit[pack] == self.useful[pack]
        self.lines.append(counted)
        self.lo.append(0)
        self.hi.append(most)

    def least(self):
        least_, rest = self.cases(self.c["cases"]) if self.c["cases"] else (self.table(self.c["counted"]), [])
        need(F(self.c["unit"]) > 0 and least_ == self.c["least"] and not rest, "the cases, or the table")
        return least_

    def cases(self, cases):
        """The least price of the first case, which may be divided in two, and the other cases."""
        of, at_most, scale, worth, total = (cases[0][k] for k in ("of", "at_most", "scale", "worth", "sum"))
        rest = cases[1:]
        if at_most is None:
            need(of == 0, "an end that is divided")
            return self.bound(scale, worth, total), rest
        lo, hi = self.lo[of], self.hi[of]
        need(not scale and not worth and not total and lo <= at_most < hi and of >= 0,
             "a division of what is not there")
        self.hi[of] = at_most
        fewer, rest = self.cases(rest)
        self.lo[of], self.hi[of] = at_most + 1, hi
        more, rest = self.cases(rest)
        self.lo[of] = lo
        return min([x for x in (fewer, more) if x is not None], default=None), rest

    def bound(self, scale, worth, stated):
        """The least price between lo and hi, by what each part is worth: worth times what is missing,
        and for what is bought and chosen the least that it can add. None where nothing serves."""
        need(scale >= 0 and len(worth) == len(self.parts) and min(worth, default=0) >= 0, "worths")
        n, total, most = len(self.lines), F(0), []
        for i, w in enumerate(worth):
            held = [self.holds[line[0]][i] for line in self.lines]
            lack = self.fixed[i] - sum(lo * h for lo, h in zip(self.lo, held))
            step, taken, v = gcd(*(h for lo, hi, h in zip(self.lo, self.hi, held) if lo < hi)), 0, n
            for places, takes in self.choices:
                each = [take[i] for take in takes]
                taken += min(sum(t * hi for t, hi in zip(each, self.hi[v:])), max(each) * places)
                step, v = 0 if max(each) else step, v + len(takes)
            lack = -(-lack // step) * step if step else lack
            most.append(lack + taken)
            total += w * lack
        for line, lo, hi in zip(self.lines, self.lo, self.hi):
            gives = sum(w * max(0, min(h, m)) for w, h, m in zip(worth, self.holds[line[0]], most))
            before = 0
            for pack in line:
                low, high = (max(0, min(x - before, self.limit[pack])) for x in (lo, hi))
                price = self.cost[pack] * scale
                total += low * price + (high - low) * min(0, price - gives)
                before += self.limit[pack]
        v = n
        for left, takes in self.choices:
            free = []
            for take, lo, hi in zip(takes, self.lo[v:], self.hi[v:]):
                cost = sum(w * t for w, t in zip(worth, take))
                total, left = total + lo * cost, left - lo
                free.append((cost, hi - lo))
            for cost, more in sorted(free):
                x = max(0, min(left, more))
                total, left = total + x * cost, left - x
            total, v = total + (max(0, left) if scale == 0 else 0), v + len(takes)
        need(total == stated and (scale > 0 or total > 0), "another sum, or a case that something serves")
        return -(-total // scale) if scale else None

    def table(self, counted):
        """The least price of one part: for each number that is missing, by the packs one after the other."""
        need(not self.choices and counted >= 0, "a table of what is chosen")
        prices = [F(0)] + [None] * max(0, self.fixed[counted])
        for pack in sum(self.lines, []):
            h, cost = self.holds[pack][counted], self.cost[pack]
            prices = [min((before + n * cost for n in range(self.limit[pack] + 1)
                           for before in [prices[max(0, p - n * h)]] if before is not None), default=None)
                      for p in range(len(prices))]
        return prices[-1]


# The record as a text.
def load(text):
    def once(pairs):
        need(len(dict(pairs)) == len(pairs), "a key twice")
        return dict(pairs)
    return json.loads(text, object_pairs_hook=once, parse_float=lambda s: "≈" + s)


def alike(x):
    """Rows of one list have the same keys."""
    for y in x.values() if isinstance(x, dict) else x if isinstance(x, list) else ():
        alike(y)
    rows = [set(y) for y in x if isinstance(y, dict)] if isinstance(x, list) else []
    need(all(r == rows[0] for r in rows), "rows with different keys")


def check(text, sealed=True):
    """A Checker of a record; Refused if something in it does not follow."""
    try:
        d = load(text)
        if sealed:
            bare = re.sub(r'("(?:[^"\\]|\\.)*")|\s+', lambda m: m.group(1) or "", text)  # without its blanks
            head, _, tail = bare.rpartition(',"digest":"')
            need(tail == 'sha256:%s"}' % hashlib.sha256(head.encode()).hexdigest(),
                 "the digest is not that of the record: it was altered since it was written; -unsealed looks for where")
        return Checker(d).run()
    except Refused:
        raise
    except json.JSONDecodeError as e:
        raise Refused("no record in JSON, or not all of it; give what shortblock -format json writes (%s)" % e)
    except (AttributeError, LookupError, RecursionError, TypeError, ValueError, ArithmeticError) as e:
        raise Refused("it is not written as a record is: %s: %s" % (type(e).__name__, e))


def main(args):
    unknown = [a for a in args if a.startswith("-") and a not in ("-", "-unsealed")]
    if unknown:
        print(__doc__ if unknown[0] in ("-h", "-help", "--help") else
              "%s is no option; write checkrecord.py [-unsealed] RECORD.json" % unknown[0])
        return 0 if unknown[0] in ("-h", "-help", "--help") else 2
    sealed, met, total, left = "-unsealed" not in args, {0}, Counter(), 0
    for name in [a for a in args if a != "-unsealed"] or ["-"]:
        try:
            text = sys.stdin.read() if name == "-" else open(name, encoding="utf-8").read()
        except (OSError, UnicodeDecodeError) as e:
            print("%s: not read: %s; name a file that shortblock -format json wrote" % (name, e))
            met.add(2)
            continue
        try:
            c = check(text, sealed)
        except Refused as e:
            print("%s: refused: %s" % (name, str(e).removesuffix(": ")))
            met.add(1)
            continue
        total.update(c.checked, records=1)
        left += len(c.open)
        for what in c.open:
            print("%s: not checked: %s" % (name, what))
            if re.search(" (conforming|limit|proven):", what):
                met.add(3)
    print("checked: " + (", ".join("%d %s" % (n, k) for k, n in total.items()) or "nothing")
          + "; not checked: %d" % left)
    print("never checked: whether the readings are true; advice, remedies, workings, drawings, films and "
          "the steps of the plan, which the digest alone binds")
    return next(status for status in (1, 2, 3, 0) if status in met)  # of several files the worst


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
