#!/usr/bin/env python3
"""Works a build record out again, without closefit: shortblock -format json | checkrecord.py

Reads records in JSON from the files named, or standard input, and follows each claim to
what was read: readings to verdicts, verdicts to items, items to gates, purchases to their
proofs. All arithmetic is in whole numbers and fractions. Exit status 0: everything that the
record claims proven follows; 1: something does not follow; 3: something that is claimed
proven was not checked. -unsealed leaves the digest unchecked.
"""
import hashlib, json, re, sys
from collections import Counter
from fractions import Fraction as F
from math import gcd, isqrt

UNITS = {"mm": F(1), "µm": F(1, 1000), "in": F("25.4"), "thou": F("0.0254"), "ft": F("304.8"), "kPa": F(1), "bar": F(100), "Pa": F(1, 1000),
         "MPa": F(1000), "psi": F("4.4482216152605") / F("0.64516"), "g": F(1), "kg": F(1000), "oz": F("28.349523125"), "lb": F("453.59237"), "": F(1), "%": F(1, 100), "‰": F(1, 1000), "ppm": F(1, 10**6)}
GRID = F(1, 10**7)


class Refused(Exception):
    pass


def need(holds, what, *about):
    if not holds:
        raise Refused(what + (": " + "; ".join(map(str, about)) if about else ""))


def q(text):
    number, _, unit = text.partition(" ")
    return F(number.strip("()")) * UNITS[unit]


def ceil(x, step=GRID):
    return -((-x) // step) * step


def root(squares):  # √ of their sum, up to the grid
    s = sum(squares) / GRID**2
    r = isqrt(s.numerator * s.denominator)
    r += r * r != s.numerator * s.denominator
    return -(-r // s.denominator) * GRID


# Quantiles in whole numbers: a number x stands for x/ONE. Sums of series are good to some 30 places.
ONE = 10**40
PI = 31415926535897932384626433832795028841972
SQRT2, TICK = isqrt(2 * ONE * ONE), ONE // 10**6


def mul(a, b): return a * b // ONE
def div(a, b): return a * ONE // b


def erf(x):
    if abs(x) > 9 * ONE:
        return ONE if x > 0 else -ONE
    term, total, n, square = x, x, 0, mul(x, x)
    while term:
        n += 1
        term = -mul(term, square) // n
        total += term // (2 * n + 1)
    return div(2 * total, isqrt(PI * ONE))


def exp(x):
    if x < -80 * ONE:
        return 0
    x, term, total, n = x // 64, ONE, ONE, 0
    while term and term != -1:
        n += 1
        term = mul(term, x) // n
        total += term
    for _ in range(6):
        total = mul(total, total)
    return total


def power(x, n):
    y = ONE
    for _ in range(n):
        y = mul(y, x)
    return y


def normal(z): return (ONE + erf(div(z, SQRT2))) // 2


def nth(inside, n):  # the n-th root
    lo, hi = 0, ONE
    while hi - lo > 1:
        mid = (lo + hi) // 2
        lo, hi = (mid, hi) if power(mid, n) < inside else (lo, mid)
    return hi


def student(freedom, t):  # how much of Student's distribution lies within ±t
    s2 = div(mul(t, t), mul(t, t) + freedom * ONE)  # sin² of the angle whose tangent is t/√freedom
    sin, cos2 = isqrt(s2 * ONE), ONE - s2
    cos, term, total = isqrt(cos2 * ONE), ONE, 0
    if freedom % 2 == 0:
        for k in range(0, freedom // 2):
            total += term
            term = mul(term, cos2) * (2 * k + 1) // (2 * k + 2)
        return mul(sin, total)
    angle, x, n = 0, sin, 0  # arcsin by its series, of an angle halved until it is small
    halved = 0
    while x > ONE // 10:
        x, halved = isqrt((ONE - isqrt((ONE - mul(x, x)) * ONE)) // 2 * ONE), halved + 1
    part = x
    while part:
        angle += part // (2 * n + 1)
        part = mul(mul(part, x), x) * (2 * n + 1) // (2 * n + 2)
        n += 1
    term = cos
    for k in range(1, freedom // 2 + 1):
        total += term
        term = mul(term, cos2) * (2 * k) // (2 * k + 1)
    return div(2 * ((angle << halved) + mul(sin, total)), PI)


def ranged(n, r):  # the chance that the range of n standard normal errors is at most r
    step, total = ONE // 8, 0
    for i in range(-8 * 9, 8 * 9 + 8 * (r // ONE + 1)):
        z = i * step
        total += mul(exp(-mul(z, z) // 2), power(max(0, normal(z) - normal(z - r)), n - 1))
    return div(n * total // 8, isqrt(2 * PI * ONE))


KNOWN = {}


def quantile(kind, n, freedom, inside):
    """Where the chance rises to inside, rounded up to six places."""
    key = (kind, n, freedom, inside)
    if key not in KNOWN:
        if kind != "student" and freedom:
            raise NotImplementedError("the studentized range and modulus of limited degrees of freedom")
        chance = {"student": lambda x: student(freedom, x), "modulus": lambda x: power(erf(div(x, SQRT2)), n), "range": lambda x: ranged(n, x)}[kind]
        lo, hi = 0, 4
        while chance(hi * ONE) < inside:
            lo, hi = hi, 2 * hi
        lo, hi = lo * 10**6, hi * 10**6
        while hi - lo > 1:
            mid = (lo + hi) // 2
            lo, hi = (mid, hi) if chance(mid * TICK) < inside else (lo, mid)
        KNOWN[key] = F(hi, 10**6)
    return KNOWN[key]


LEVEL = erf(SQRT2)  # of k = 2


def expand(twice, freedom, inside=LEVEL):
    if inside == LEVEL and not freedom or not twice:
        return twice
    return ceil(twice * quantile("student" if freedom else "modulus", 1, freedom, inside) / 2)


# Readings. A part is a factor and an act; a reading here is (parts, flags).
def content(act):
    return json.dumps({k: act[k] for k in ACT}, sort_keys=True)


ACT = "means by at setting seen count bracket stated freedom doubts".split()


def gathered(parts):
    into = []
    for f, a in parts:
        for p in into:
            if a["at"] and content(p[1]) == content(a):
                p[0] += f
                break
        else:
            into.append([f, a])
    return into


def parts_of(r):
    for p in r["acts"]:
        need(set(p) == set(ACT) | {"factor"} and len(p["seen"]) == 2, "an act of reading", p["at"])
    return [[q(p["factor"]), p] for p in r["acts"]]


def bounds(b, sign=1):
    lo, hi = (None if b[k] is None else q(b[k]) for k in ("lo", "hi"))
    need(lo is None or hi is None or lo <= hi, "bounds that cross")
    return (lo, hi) if sign > 0 else (neg(hi), neg(lo))


def neg(x): return None if x is None else -x


def add(a, b, f=F(1)):  # a + f·b
    if f == 0:
        return a
    lo, hi = b if f > 0 else (b[1], b[0])
    return (None if a[0] is None or lo is None else a[0] + f * lo, None if a[1] is None or hi is None else a[1] + f * hi)


def named(d): return d["of"] != "" if d["kind"] in ("common", "piece") else d["kind"] in ("repeat", "scatter") and d["act"] != ""
def source(d): return d["kind"], d["of"], d["act"]
def shares(d): return d["kind"] not in ("piece", "scatter")


def ident(a):
    if not a["at"]:
        return ""
    s = "reading " + a["at"]
    for join, x in zip((", ", " and "), a["seen"]):
        s += join + x if q(x) else ""
    return s + (", mean of %d" % a["count"] if a["count"] else "") + (", " + a["setting"] if a["setting"] else "")


def common(a):  # the common part of an instrument that states its parts; None for another
    d = a["doubts"] or []
    if not d or d[0]["of"] != a["by"] or d[0]["kind"] not in ("common", "repeat"):
        return None
    return q(d[0]["lo"]) if d[0]["kind"] == "common" else 0


def tally(parts):
    twice, every = set(), []
    for i, (_, a) in enumerate(parts):
        for _, b in parts[:i]:
            if a["by"] and a["by"] == b["by"] and None not in (common(a), common(b)) and common(a) != common(b):
                twice.add(a["by"])
    for f, a in parts:
        own = [dict(kind="not split", of=a["by"], act=ident(a), lo=a["stated"], hi=a["stated"], freedom=a["freedom"])] if q(a["stated"]) else []
        for d in own + (a["doubts"] or []):
            need(d["kind"] in ("repeat", "scatter", "common", "not split", "piece") and (d["kind"] == "piece" or q(d["lo"]) == q(d["hi"])), "a doubt that cannot be")
            if not f:
                continue
            lo, hi = q(d["lo"]) * f, q(d["hi"]) * f
            d = dict(d, lo=lo, hi=hi) if f > 0 else dict(d, lo=hi, hi=lo)
            if (d["act"] or named(d)) and (d["kind"] == "scatter" or d["of"] not in twice):
                for o in every:
                    if source(o) == source(d) and o["freedom"] == d["freedom"]:
                        o["lo"], o["hi"] = o["lo"] + d["lo"], o["hi"] + d["hi"]
                        break
                else:
                    every.append(d)
            else:
                every.append(d)
    for i, d in enumerate(every):
        if shares(d) and d["of"] and (d["kind"] == "not split" or any(source(o) == source(d) for o in every[:i])):
            twice.add(d["of"])
    for d in every:
        if shares(d) and d["of"] in twice:
            d["kind"] = "not split"
    return every


def groups(every):
    out = []
    for d in every:
        if d["kind"] == "piece" or not named(d) and not d["lo"]:
            continue
        key = source(d)
        if not named(d):
            key = (d["kind"] if d["of"] or d["kind"] == "scatter" else "not split", d["of"], "")
            for g in out:
                if g[0] == key:
                    g[1].append(d)
                    break
            else:
                out.append((key, [d]))
        else:
            out.append((key, [d]))
    return out


def by_freedom(ds):
    c = {}
    for d in ds:
        c[d["freedom"]] = c.get(d["freedom"], 0) + abs(d["lo"])
    return c


def expanded(parts, worst=False, inside=LEVEL):
    terms = [sum(expand(t, f, inside) for f, t in by_freedom(ds).items()) for _, ds in groups(tally(parts))]
    terms = [t for t in terms if t]
    return sum(terms) if worst or len(terms) < 2 else root(t * t for t in terms)


def bracket(parts):
    total = (F(0), F(0))
    for f, a in parts:
        total = add(total, bounds(a["bracket"]), f)
    pieces = [d for d in tally(parts) if d["kind"] == "piece"]
    return add(total, (-sum(abs(d["lo"]) for d in pieces), sum(abs(d["hi"]) for d in pieces)))


def above(b):
    return (max(F(0), b[0]) if b[0] is not None else F(0), None if b[1] is None else max(F(0), b[1]))


def known(r):
    """The interval as if every condition were met, and whether it may prove something."""
    parts = gathered(parts_of(r))
    b, u = bracket(parts), expanded(parts, r["at_worst"])
    contrary = r["non_negative"] and b[1] is not None and b[1] + u < 0
    cut = above if r["non_negative"] else lambda x: x
    return cut(add(cut(b), (-u, u))), not contrary and not r["unmet"]


def interval(r):
    if r is None:
        return None
    i, proves = known(r)
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


def unmet(needs, conditions):
    return [n for n in needs or [] if n not in (conditions or [])]


def summed(s):
    """A sum as a reading; None while a term is missing."""
    if not s or not s["terms"] or any(t["reading"] is None for t in s["terms"]):
        return None
    parts, missing, worst = [], [], s["at_worst"]
    for t in s["terms"]:
        r = t["reading"]
        missing += unmet(t["needs"], r["conditions"]) + (r["unmet"] or [])
        worst = worst or r["at_worst"] or len(s["terms"]) > 1 and r["of_stations"]
        parts += [[q(t["factor"]) * f, a] for f, a in parts_of(r)]
    acts = [dict(a, factor="%s" % f) for f, a in gathered(parts)]
    return dict(acts=acts, words=s["name"], unmet=missing, of_stations=any(t["reading"]["of_stations"] for t in s["terms"]), non_negative=s["non_negative"], at_worst=worst, conditions=None)


def less(a, b): return summed(dict(name="", non_negative=False, at_worst=False, terms=[dict(factor=f, reading=r, needs=None) for f, r in (("1", a), ("-1", b))]))
def freedoms(r): return [d["freedom"] for _, ds in groups(tally(gathered(parts_of(r)))) for d in ds if d["freedom"] and d["lo"]]


def best(d, s):
    if d is None or s is None:
        return d or s
    if s["unmet"]:
        return d
    apart = interval(less(d, s))
    if apart is None or apart[0] is not None and apart[0] > 0 or apart[1] is not None and apart[1] < 0:
        return dict(d, unmet=["two readings that do not agree"])
    doubtful = [expanded(gathered(parts_of(r)), r["at_worst"]) for r in (d, s)]
    if all(doubtful) and (freedoms(d) or freedoms(s)):
        return d
    a, b = interval(d), interval(s)
    return s if None not in b and (None in a or b[1] - b[0] < a[1] - a[0]) else d


# Stations: MEASURE, "several stations".
def spreads(stations):
    every, count = [], Counter()
    for r in stations:
        parts = gathered(parts_of(r))
        g = groups(tally(parts))
        if r["at_worst"] or r["of_stations"]:
            u, f = expanded(parts, r["at_worst"]), min(freedoms(r) or [0])
            u = u * 2 / quantile("student", 1, f, LEVEL) if f else u
            g = [(("not split", "", ""), [dict(kind="not split", of="", act="", lo=u, hi=u, freedom=f)])]
        every.append(g)
        count.update(k for k, ds in g if named(dict(kind=k[0], of=k[1], act=k[2])))
    out = {k: {} for k in ("common", "own", "estimated", "open")}
    for g in every:
        here = {k: {} for k in out}
        for key, ds in g:
            c = by_freedom(ds)
            twice, f = sum(c.values()), min([x for x in c if x] or [0])
            if not twice:
                continue
            same = len(stations) > 1 and count[key] == len(stations) and all(o["lo"] == ds[0]["lo"] for h in every for k, os in h if k == key for o in os[:1])
            isnamed = named(dict(kind=key[0], of=key[1], act=key[2]))
            kind = "common" if isnamed and same else "estimated" if key[0] == "scatter" and count[key] == 1 else "own" if key[0] == "repeat" and count[key] == 1 else "open"
            old = here[kind].get(f)
            here[kind][f] = twice if old is None else root([old * old, twice * twice])
        for kind in out:
            for f, t in here[kind].items():
                out[kind][f] = max(out[kind].get(f, 0), t)
    return out


def reach(s, n, inside, wide):
    """The bound of the largest of n errors, or of their range."""
    terms, opposed = [], wide and (s["open"] or s["estimated"])
    for kind in s:
        for f, t in s[kind].items():
            if kind == "common" and wide:
                continue
            if kind == "estimated":
                k = quantile("student", 1, f, nth(inside, n)) * (2 if wide else 1)
            elif wide and kind == "own" and not opposed:
                k = quantile("range", n, f, inside)
            else:
                k = quantile("modulus", n, f, inside) * (2 if wide else 1)
            terms.append(ceil(t * k / 2))
    return sum(terms) if len(terms) < 2 else root(t * t for t in terms)


def outermost(brackets, sign):
    pick = max if sign > 0 else min
    los, his = [b[0] for b in brackets], [b[1] for b in brackets]
    if sign > 0:
        return (pick([x for x in los if x is not None], default=None), None if None in his else max(his))
    return (None if None in los else min(los), min([x for x in his if x is not None], default=None))


def magnitude(b):
    if b[0] is not None and b[0] >= 0:
        return b
    if b[1] is not None and b[1] <= 0:
        return (-b[1], neg(b[0]))
    return (F(0), None if None in b else max(-b[0], b[1]))


def shown(claim, planes, claims):
    """The bracket, the doubt and its fewest degrees of freedom of what stations show."""
    kinds = {"largest" if c == "smallest" else c for c in claims if c != "mean" and (c != "taper" or len(planes) > 1) and (c != "out-of-round" or len(planes[0]) > 1)}
    outside = (ONE - LEVEL) // len(kinds)
    every = sum(planes, [])
    fewest = lambda rows: min([f for row in rows for ks in spreads(row).values() for f in ks if f] or [0])
    if claim in ("largest", "smallest"):
        return outermost([bracket(gathered(parts_of(r))) for r in every], 1 if claim == "largest" else -1), reach(spreads(every), len(every), ONE - outside, False), fewest([every])
    rows = planes if claim == "out-of-round" else [list(x) for x in zip(*planes)]
    inside = nth(ONE - outside, len(rows)) if len(rows) > 1 else ONE - outside
    wide, u = [], F(0)
    for row in rows:
        pairs = [less(a, b) for i, a in enumerate(row) for b in row[i + 1:]]
        spread = [bracket(gathered(parts_of(r))) for r in row]
        if all(lo is not None and lo == hi for lo, hi in spread):
            wide.append((max(b[0] for b in spread) - min(b[0] for b in spread),) * 2)
        else:
            wide.append(outermost([magnitude(bracket(parts_of(p))) for p in pairs], 1))
        if len(row) == 2 and not any(q(p["factor"]) == 0 for p in pairs[0]["acts"]):
            u = max(u, expanded(parts_of(pairs[0]), pairs[0]["at_worst"], inside))
        else:
            u = max(u, reach(spreads(row), len(row), inside, True))
    return outermost(wide, 1), u, fewest(rows)


def stated(r, i=0):
    return q(r["acts"][i]["stated"])


# What is claimed.
class Checker:
    def __init__(self, d):
        self.d, self.checked, self.open = d, Counter(), []
        self.typed, self.acts = {}, {}

    def readings(self):
        signs = {}
        for r in self.d["readings"]:
            need(r["name"] not in self.typed, "read twice", r["name"])
            self.typed[r["name"]] = r
            need(set(r) == {"name", "text", "sure", "stations", "whole"}, "a reading", r["name"])
            every = [s for row in r["stations"] for s in row]
            self.text(r, [s["acts"][0] for s in every])
            for s in every + [r["whole"]]:
                for _, a in parts_of(s):
                    self.acts.setdefault(content(a), []).append(s)
                    need(not a["at"] or a["at"] == r["name"] or a["at"].startswith(r["name"] + ", ") or s["words"] is not None and a["means"] == "given", "an act of another reading", r["name"], a["at"])
                    own = [(d["kind"], q(d["lo"]), d["freedom"]) for d in a["doubts"] or [] if d["of"] == a["by"] and (d["kind"] == "common" or d["act"] == ident(a))]
                    for d in a["doubts"] or []:
                        need(d["of"] != a["by"] or d["kind"] in ("common", "piece") or d["act"] == ident(a) or d["act"] == a["setting"], "a doubt of another act", r["name"])
                    if a["means"] != "given" and a["count"] == 0:
                        sign = (stated(dict(acts=[a])), a["freedom"], own, a["setting"])
                        need(signs.setdefault(a["by"], sign) == sign, "two doubts of one instrument", a["by"])
            if len(every) == 1:
                need(every[0] == r["whole"], "the whole of one reading", r["name"])
            else:
                need(all(c in (s["conditions"] or []) for s in every for c in r["whole"]["conditions"] or []), "conditions of a whole", r["name"])
                need(len({json.dumps(s["conditions"]) for s in every}) == 1 or any(c["what"] in ("plane", "direction") for c in every[0]["conditions"] or []), "stations read otherwise", r["name"])
                self.hull(r["whole"], r["stations"], ["largest", "smallest"], r["name"])
            self.checked["readings as typed"] += 1

    def text(self, r, acts):
        body = r["text"].partition(":")[2] or r["text"]
        body = re.sub(r"^(\d+) (\d+)/(\d+)\b", lambda m: "%d.%012d" % divmod((int(m[1]) + F(int(m[2]), int(m[3]))) * 10**12 // 1, 10**12), body.strip())
        unit = re.search(r"[^\d\s.]*$", body).group()
        n = [F(x) * UNITS[unit] for x in re.findall(r"(?:(?<=\.\.)|(?<![\w.]))\d+(?:\.\d+)?", body[:len(body) - len(unit)])]
        if " over " in body:
            self.open.append("the text of " + r["name"])
            return
        if acts[0]["means"] == "given":
            lo, hi = bounds(acts[0]["bracket"])
            if "±" in body:
                n = [n[0] - n[1], n[0] + n[1]]
            elif "/" in body:
                signs = [F(s + x) * UNITS[unit] for s, x in re.findall(r"([-+]?)(\d+(?:\.\d+)?)", body)][1:]
                n = [n[0] + min(signs), n[0] + max(signs)]
            need((lo, hi) == (n[0], n[-1]), "a bracket that was not typed", r["name"])
            return
        seen = []
        for a in acts:
            a0, a1 = map(q, a["seen"])
            two = a["means"] in ("travel", "between prints", "blade goes, next does not", "shut, then open")
            seen += [a0, a1] if two else [a0]
            lo, hi = bounds(a["bracket"])
            want = {"value": (a0, a0), "travel": (abs(a1 - a0),) * 2, "blade goes, next does not": (a0, a1), "shut, then open": (a0, a1), "between prints": (a0, a1),
                    "blade goes": (a0, None), "blade does not go": (F(0), a0), "shut": (a0, None), "open": (F(0), a0)}.get(a["means"])
            if a["means"] == "nearest print":
                need(lo < a0 < hi, "a print outside what it is nearest to", r["name"])
            elif want and hi is not None and a["means"] in ("value", "travel"):  # a limit of error widens it
                need(hi + lo == 2 * want[0], "a bracket around another value", r["name"])
            elif want and not a["doubts"]:
                need((lo, hi) == want or a["means"] == "open" and hi == a0, "a bracket that was not seen", r["name"])
        need(n == seen, "what was seen is not what was typed", r["name"])

    def hull(self, reading, planes, claims, name):
        (lo, _), (_, hi) = [add(b, (-u, u)) for b, u, _ in (shown(c, planes, claims) for c in ("smallest", "largest"))]
        if all(s["non_negative"] for row in planes for s in row):
            pass
        i, proves = known(dict(reading, non_negative=False, unmet=None))
        need(i == (lo, hi) or reading["non_negative"] and i == above((lo, hi)), "what lies between the smallest and the largest of several stations", name)

    def origin(self, b, name):
        """Whether every act that a reading is made of was read, or is what stations show."""
        if b["stations"]:
            s, claims = b["stations"], b["stations"]["claims"]
            if s["sums"]:
                planes = [[summed(x) for x in row] for row in s["sums"]]
                for row in s["sums"]:
                    for x in row:
                        self.read(x, name)
                need(all(x and not x["unmet"] for row in planes for x in row), "stations that are not known", name)
            elif len(s["of"]) == 1:
                planes = self.typed[s["of"][0]]["stations"]
            else:
                planes = [[self.typed[n]["whole"] for n in s["of"]]]
            made = (b["sum"]["terms"][0]["reading"] if s["sums"] else b["direct"]) or b["reading"]
            if s["shows"] == ["smallest", "largest"]:
                self.hull(made, planes, claims, name)
            else:
                br, u, f = shown(s["shows"][0], planes, claims)
                need(bounds(made["acts"][0]["bracket"]) == br and expanded(parts_of(made)) in (u, ceil(u)) and made["acts"][0]["freedom"] == f, "what several stations show", name)
            if s["sums"]:
                return
        for r in filter(None, (b["direct"], b["reading"] if not b["sum"] else None)):
            if not b["stations"]:
                self.acted(r, name)
        if b["sum"]:
            self.read(b["sum"], name)

    def acted(self, r, name):
        for _, a in parts_of(r):
            if content(a) in self.acts:
                need(r["words"] is not None or any(all(c in (s["conditions"] or []) or c["what"] in ("plane", "direction", "planes", "directions") for c in r["conditions"] or []) for s in self.acts[content(a)]), "a condition that nobody stated", name)
            else:
                need(a["means"] == "given", "an act that nobody typed", name, a["at"])
                raise NotImplementedError("%s: %s" % (a["by"], a["bracket"]))

    def read(self, s, name):
        for t in s["terms"]:
            if t["reading"]:
                self.acted(t["reading"], name)
                if t["reading"]["words"] is not None and any(abs(f) != 1 for f, _ in parts_of(t["reading"])):
                    raise NotImplementedError("a term that is warmed")

    def verdicts(self):
        rest = iter(self.d["verdicts"])
        self.found = {}
        for g in self.d["groups"]:
            asked = [(b["needs"], [(t["symbol"], t["needs"], t["factor"]) for t in (b["sum"] or {"terms": []})["terms"]] if b["sum"] else None, b["limits"] if g["quantity"] != "grade" else None) for b in (r["rests_on"] for r in g["readings"])]
            need(all(a[0] == asked[0][0] and a[2] == asked[0][2] for a in asked) and len({str(a[1]) for a in asked if a[1]}) < 2 or g["quantity"] in ("stretch", "length", "bobweight", "spread"), "one line asks for different things", g["name"])
            for r in g["readings"]:
                need(r["tolerance"] == g["limits"].partition(" (")[0] or g["limits"] == "by grade", "the limits of a group", g["name"])
                v = next(rest)
                name = called(v["group"], v["location"], v["quantity"])
                need((v["group"], v["quantity"]) == (g["name"], g["quantity"]) and name not in self.found, "a verdict out of its group", name)
                self.found[name] = (v, r)
                try:
                    self.verdict(v, r, name)
                    self.checked["verdicts"] += 1
                except NotImplementedError as e:
                    self.open.append("%s, %s: what it is made from, %s" % (name, v["verdict"], e))
        need(next(rest, None) is None, "a verdict without a reading")

    def verdict(self, v, r, name):
        b = r["rests_on"]
        reading, limits = b["reading"], bounds(b["limits"])
        for end, x, down in (("lo", limits[0], False), ("hi", limits[1], True)):
            self.bound(v["tolerance"][end], x, down, name + ": a limit")
        need(r["taken"] == (reading is not None), "taken or not", name)
        wants = [w for end, ws in NEEDS.items() for w in ws if (v["group"] + " " + v["quantity"]).endswith(end) and b["direct"]]
        wants += [w for t in (b["sum"] or {"terms": []})["terms"] for w in ("bolts", "shells") if t["symbol"] == "D" and v["quantity"] == "clearance" and v["group"].endswith(" bearing")]
        has = [n["what"] for n in b["needs"] or []] + [n["what"] for t in (b["sum"] or {"terms": []})["terms"] for n in t["needs"] or []]
        need(all(w in has for w in wants), "a condition that nobody asks for", name, wants)
        self.words(r["tolerance"], v["tolerance"], False, name)
        self.words(r["measured"], v["measured"], True, name)
        if reading is None:
            need(v["verdict"] == "undecided" and v["measured"] == {"lo": None, "hi": None}, "a verdict on nothing", name)
            return
        shown_, proves = known(reading)
        if b["sum"] and "stretch" in name and not interval(reading):
            shown_, _ = known(dict(reading, non_negative=False))
        self.bound(v["measured"]["lo"], shown_[0], True, name + ": what was measured")
        self.bound(v["measured"]["hi"], shown_[1], False, name + ": what was measured")
        word = judge(shown_ if proves else None, limits)
        if b["end"] is not None:
            need(set(b["end"]) == {"which", "reading"} and word == "undecided" and proves, "an end beside a verdict", name)
            word = judge(interval(b["end"]["reading"]), limits)
            need(word in ("below limit", "above limit") and b["stations"], "an end that is not outside", name)
        if r["slip"]:
            word = "undecided"
            self.checked["slips questioned"] += 1
        need(word == v["verdict"], "the verdict is " + word, name, v["verdict"])
        s = summed(b["sum"])
        d = b["direct"]
        if d:
            missing = unmet(b["needs"], d["conditions"]) + (d["unmet"] or [])
            d = dict(d, unmet=missing, non_negative=d["non_negative"] or reading["non_negative"], conditions=None)
        chosen = best(d, s)
        need(chosen is not None, "a reading of nothing", name)
        need(bool(chosen["unmet"]) == bool(reading["unmet"]), "what was asked of the reading", name, chosen["unmet"])
        if not chosen["unmet"]:
            same = lambda x: (sorted((str(f), content(a)) for f, a in gathered(parts_of(x))), x["at_worst"], x["of_stations"])
            need(same(chosen) == same(reading), "the reading is not what it is said to be made from", name)
        if v["verdict"] != "undecided":
            self.origin(b, name)

    def bound(self, text, x, down, what):
        if text is None or x is None:
            need(text is None and x is None, what)
            return
        number, _, unit = text.partition(" ")
        need(self.rounded(F(number), x / UNITS[unit], down), what, text)

    def words(self, text, b, outward, name):
        """Bounds as they are shown: what was measured rounded outward, limits inward."""
        m = re.fullmatch(r"(at most |at least )?(-?[\d.]+?)(?:\.\.(-?\d[\d.]*))?(?: (\S+))?", text)
        if m is None:
            need(text in ("not measured", "not stated", "not known") and b == {"lo": None, "hi": None}, "bounds in words", name, text)
            return
        lo = None if m[1] == "at most " else m[2]
        hi = None if m[1] == "at least " else m[3] or m[2]
        for shown_, exact_, down in ((lo, b["lo"], outward), (hi, b["hi"], not outward)):
            need((shown_ is None) == (exact_ is None), "bounds in words", name, text)
            if shown_:
                x = F(exact_.partition(" ")[0])
                step = F(1, 10 ** len(shown_.partition(".")[2]))
                need(F(shown_) == (x // step * step if down else ceil(x, step)) and exact_.partition(" ")[2] == (m[4] or ""), "bounds in words", name, text, exact_)

    def rounded(self, got, x, down):
        if got == x:
            return True
        step = F(1, 10**9)
        return got == (x // step * step if down else ceil(x, step))

    def items(self):
        d, items = self.d, self.d["items"]
        names = [i["name"] for i in items]
        need(len(set(names)) == len(names), "an item twice")
        at = {i["name"]: i for i in items}
        e = d["engine"]
        pins = [p["name"] for p in e["pins"]]
        need(sorted(r for p in e["pins"] for r in p["rods"]) == sorted(e["cylinders"]) and e["thrust"] in e["mains"] + [""], "pins and rods")
        asked = [called("passage", x, "") for x in e["passages"] or []] + [called("main bearing", x, "clearance") for x in e["mains"]] + [called("rod bearing", x, "clearance") for x in e["cylinders"]]
        asked += ["crankshaft end play", "tightening plan"] + [called("rod", x, "side play") for x in pins] + [called(r, x, "end gap") for r in e["rings"] or [] for x in e["cylinders"]] + [called("oil jet", x, "opening pressure") for x in e["jets"] or []]
        ends = {i["group"] for i in items if i["quantity"] == "end gap"}
        need(ends == set(e["rings"] or []) and all(len(set(map(str, l or []))) == len(l or []) for k, l in e.items() if k != "thrust"), "a ring that is not the engine's, or a part twice")
        for name in asked:
            need(name in at, "the engine asks for it, and no item does", name)
        lists = [e[k] or [] for k in ("cylinders", "mains", "passages", "jets", "decks", "pumps")] + [pins, e["mains"][1:-1]]
        where = {}
        for i in items:
            need(i["name"] == called(i["group"], i["location"], i["quantity"]), "an item's name", i["name"])
            where.setdefault((i["group"], i["quantity"]), []).append(i)
        for (group, _), some in where.items():
            places = [i["location"] for i in some]
            if not some[0]["bolt"] and places not in ([""], [group]) and not group.endswith(" wall") and not any(places == l for l in lists):
                self.open.append("whether %s is asked for everywhere" % some[0]["name"])
            need(len({i["before"] for i in some}) == 1 or some[0]["bolt"], "a line before several gates", some[0]["name"])
        source = {}
        need(len({called(l["group"], l["location"], l["quantity"]) for l in d["looked"]}) == len(d["looked"]), "looked at twice")
        need(len({(t["phase"], t["group"]) for t in d["tightening"]}) == len(d["tightening"]), "a group tightened twice")
        for l in d["looked"]:
            if l["good_is"]:
                need(l["good"] == (l["state"] == l["good_is"]), "good or not", l["state"])
            elif l["good"]:
                self.open.append("%s, proven: whether the gaps of the rings stand as their rules say" % called(l["group"], l["location"], l["quantity"]))
            source[called(l["group"], l["location"], l["quantity"])] = ("not measured" if l["state"] in ("not looked at", "not said") else "proven" if l["good"] else "wrong", l["state"])
        bolts = {called(b["group"], b["bolt"], ""): b for b in d["bolts"]}
        for name, b in bolts.items():
            source[name] = self.bolt(b)
        pulled = [called(t["group"], b["name"], "") for t in d["tightening"] if t["phase"] == "final assembly" for b in t["bolts"]] if d["tightening"] else []
        need(sorted(pulled) == sorted(bolts), "a bolt of the plan that is not known, or one too many")
        for name, (v, r) in self.found.items():
            if not any(b["judged"] == v["quantity"] and (v["group"], v["location"]) == (b["group"], b["bolt"]) for b in d["bolts"]):
                source[name] = standing(v, r), summary(v, r)
        for s in d["shells"]:
            for l in s["locations"]:
                source[called(s["bearings"], l["location"], "shells")] = l["standing"], l["why"]
        source["tightening plan"] = ("proven", "%d steps" % len(d["plan"])) if d["plan"] else ("not measured", "none; write [[tightening]]")
        for name in source:
            need(name in at, "it was judged, and no item says so", name)
        for i in items:
            want = source.get(i["name"], ("not measured", ""))
            need((i["standing"], i["why"]) == want, "how it stands", i["name"], want)
            need(i["bolt"] == (bolts[i["name"]]["bolt"] if i["name"] in bolts else ""), "the bolt of an item", i["name"])
            if i["excuse"]:
                x = i["excuse"]
                need(i["standing"] != "proven" and not (i["bolt"] and i["standing"] == "wrong") and x["by"] and x["reason"] and (x["what"] == i["name"] or part(i["name"], x["what"])), "an excuse that does not serve", i["name"])
            self.checked["items"] += 1
        need(len(bolts) == len(d["bolts"]), "a bolt twice")
        once = {t["group"]: t["once"] for t in d["tightening"] if t["phase"] == "final assembly"}
        for name, b in bolts.items():
            need(b["single_use"] == once[b["group"]] and b["measured"] == (name + ", length" in self.typed), "what is known of a bolt", name)
        for phase, plan in (("trial assembly", d["trial"]), ("final assembly", d["plan"])):
            need({s["group"] for s in plan} == {t["group"] for t in d["tightening"] if t["phase"] == phase}, "a group of bolts that is not tightened", phase)
            for t in d["tightening"]:
                if t["phase"] == phase:
                    steps = [s for s in plan if s["group"] == t["group"] and s["bolt"] and not s["stage"].endswith("before the first stage")]
                    want = [(b, p["do"]) for p in t["stages"] for b in p["order"]]
                    got = [(s["bolt"], re.sub(r"^turn (.+) further$", r"+\1", re.sub(r" \(.*\)$", "", s["do"]).removeprefix("tighten to "))) for s in steps]
                    need(sorted(b["name"] for b in t["bolts"]) == sorted(set(b for b, _ in want)) and Counter(got) == Counter(want) and (t["cap_by_cap"] or got == want), "a bolt missed, or pulled otherwise", t["group"])
                    self.checked["pulls of bolts"] += len(got)
            if phase == "final assembly":
              for s in plan:
                i = next((i for i in items if s["bolt"] and i["bolt"] == s["bolt"]), None)
                hold = "" if i is None or i["standing"] == "proven" or i["excuse"] else i["why"] if i["standing"] == "wrong" else "prove it good first, or replace it (%s)" % i["why"]
                need(s["hold"] == hold, "what holds a step", s["number"])
        need(all(t["phase"] in ("trial assembly", "final assembly") for t in d["tightening"]), "a tightening of no phase")
        need([s["number"] for s in d["plan"]] == list(range(1, len(d["plan"]) + 1)), "steps out of their order")
        need(d["proven"] == bool(items and all(i["standing"] == "proven" for i in items)), "proven or not")

    def bolt(self, b):
        v, r = self.found.get(called(b["group"], b["bolt"], b["judged"]), (None, None)) if b["judged"] else (None, None)
        if b["said"] == "scrap":
            return "wrong", "scrap: fit a new one"
        if b["said"] == "new":
            return "proven", "new"
        if b["single_use"] and (b["said"] or b["measured"]):
            return "wrong", "used, and its group is used once: fit a new one"
        if v and r["taken"]:
            return ("wrong", "scrap: fit a new one") if v["verdict"] in ("below limit", "above limit") else ("proven" if v["verdict"] == "conforming" else "undecided", summary(v, r))
        if b["said"] == "sound":
            return ("not measured", "sound, and not measured; its group has a limit") if b["judged"] else ("proven", "looked at, and sound")
        key = b["group"] if re.fullmatch(r"[A-Za-z0-9_-]+", b["group"]) else '"%s"' % b["group"]
        return "not measured", "not known to be new or sound; write it under bolts.%s: new, sound, or its length" % key

    def gates(self):
        names = ["inspection", "choosing and buying", "trial assembly", "final assembly", "first oil pressure"]
        worst = ["proven", "to order", "undecided", "not measured", "wrong"]
        need([g["before"] for g in self.d["gates"]] == names, "the gates")
        for n, g in enumerate(self.d["gates"]):
            asked = [i for i in self.d["items"] if names.index(i["before"]) <= n]
            shut = sorted((i for i in asked if i["standing"] != "proven" and not i["excuse"]), key=lambda i: -worst.index(i["standing"]))
            want = dict(before=g["before"], open=not shut and bool(self.d["items"]), proven=sum(i["standing"] == "proven" for i in asked), shut=shut, accepted=[i for i in asked if i["standing"] != "proven" and i["excuse"]])
            need(g == want, "the gate", g["before"])
            self.checked["gates"] += 1
            self.checked["items asked for by gates"] += len(asked)

    def purchases(self):
        for s in self.d["shells"]:
            served, stock = Counter(), Counter()
            for p, of in ((s["purchase"], "purchase"), (s["offer"] and s["offer"]["purchase"], "offer")):
                if p:
                    got = Purchase(p).check()
                    served, stock = (got[0], got[1]) if of == "purchase" else (served, stock)
                    self.checked["purchases"] += 1
            need(sorted(c["location"] for c in s["choices"]) == sorted(2 * [l["location"] for l in s["locations"]]) and set(s["held_back"]) <= {l["location"] for l in s["locations"]}, "a shell for each half")
            for l in s["locations"]:
                halves = {c["half"]: c["grade"] for c in s["choices"] if c["location"] == l["location"]}
                mine = [(h, halves[h]) for h in ("upper", "lower")]
                need((l["standing"] == "wrong") == (l["location"] in s["held_back"]) or not l["by"], "held back", l["location"])
                if l["standing"] not in ("proven", "to order") or "no pack" in l["why"]:
                    continue
                fit = ", ".join("%s %s" % x for x in mine)
                need(l["by"] != "codes" or l["codes"] == fit, "other shells than the codes call for", l["location"])
                need(l["by"] in ("codes", "sizes", "fit", "fitted"), "chosen by nothing", l["location"])
                if l["by"] == "sizes":
                    self.open.append("%s %s shells, proven: that by the sizes these are inside" % (s["bearings"], l["location"]))
                missing = []
                for half, grade in mine:
                    name = grade + " " + half if grade + " " + half in stock or grade + " " + half in served else grade
                    if stock[name] > 0:
                        stock[name] -= 1
                    elif l["by"] != "fitted":
                        missing.append("%s %s" % (half, grade))
                    if l["by"] != "fitted":
                        served[name] -= 1
                        need(served[name] >= 0, "a shell that is needed and was not asked for", l["location"], name)
                if l["by"] != "fitted":
                    need((l["standing"], l["why"]) == (("to order", "to buy: " + ", ".join(missing)) if missing else ("proven", "on hand: " + fit)), "on hand or not", l["location"])
                self.checked["shells chosen"] += 1

    def run(self):
        need(self.d["closefit"] == 1, "another version")
        self.readings()
        self.verdicts()
        self.purchases()
        self.items()
        self.gates()
        return self


class Purchase:
    """A purchase and its proof, checked from the list in the documentation of package purchase."""

    def __init__(self, p):
        self.p, self.o, self.b = p, p["rests_on"]["request"], p["rests_on"]["purchase"]
        self.packs = {k["name"]: k for k in self.o["packs"] or []}
        need(len(self.packs) == len(self.o["packs"] or []), "packs of one name")

    def check(self):
        o, b, p = self.o, self.b, self.p
        have, served, price = counts(o["stock"]), Counter(), F(0)
        stock = Counter(have)
        for x in b["packs"] or []:
            k = x["pack"]
            need(k == self.packs[k["name"]] and x["n"] > 0 and (k["limit"] is None or x["n"] <= k["limit"]), "a pack that is not on sale", k["name"])
            price += F(k["price"]) * x["n"]
            for part, n in counts(k["parts"]).items():
                have[part] += n * x["n"]
        places, away = Counter(), F(0)
        for x in b["served"] or []:
            n = o["needs"][x["need"]]
            a = n["alternatives"][x["alternative"]]
            need(x["parts"] == a["parts"] and x["name"] == n["name"] and x["n"] > 0, "a place served otherwise", x["name"])
            places[x["need"]] += x["n"]
            away += q(a["distance"]) * x["n"]
            for part in a["parts"]:
                served[part] += x["n"]
        need(all(places[i] == n["n"] for i, n in enumerate(o["needs"] or [])), "a need that is not served")
        have.subtract(served)
        need(min(have.values(), default=0) >= 0 and +have == +counts(b["leftover"]), "what is left over")
        need(price == F(b["price"]) and away == q(b["distance"]), "the price, or the distance")
        self.prove(b["proof"])
        need(price - F(b["gap"]) == F(b["proof"]["least"]) and F(b["gap"]) >= 0, "the price is not that which is proven", b["price"], b["proof"]["least"])
        money = lambda t: F(t.split(" ")[0])
        need([(x["pack"], x["count"], money(x["each"]), money(x["sum"])) for x in p["lines"]] == [(x["pack"]["name"], x["n"], F(x["pack"]["price"]), F(x["pack"]["price"]) * x["n"]) for x in b["packs"] or []], "the lines to buy")
        need(money(p["total"]) == price and [(x["part"], x["count"]) for x in p["left_over"]] == [(x["part"], x["n"]) for x in b["leftover"] or []] and [(x["part"], x["count"]) for x in p["on_hand"]] == [(x["part"], x["n"]) for x in o["stock"] or []], "what is bought")
        coin = p["total"].partition(" ")[2]
        need(all(t.partition(" ")[2] == coin for x in p["lines"] for t in (x["each"], x["sum"])), "two currencies")
        if not F(b["gap"]):
            need(re.fullmatch(r"Proven: nothing on sale serves for less than (\S+)( .+)?\.", p["proof"]) and money(p["proof"].rpartition("than ")[2].rstrip(".")) == price and p["proof"].endswith("%s." % p["total"]), "the words of the proof")
        else:
            need(p["proof"].startswith("Not proven"), "the words of the proof")
        return served, stock

    def prove(self, proof):
        used, least = set(), F(0)
        for c in proof["components"] or []:
            lines = c["lines"] or []
            for name in sum(lines, []):
                need(name in self.packs and name not in used, "a pack twice", name)
                used.add(name)
            for k in self.packs.values():
                need(k["name"] in sum(lines, []) or k["limit"] == 0 or not set(counts(k["parts"])) & set(c["parts"]), "a pack left out", k["name"])
            self.c, self.unit = c, F(c["unit"])
            need(self.unit > 0 and (c["prices"] is None) != (c["cases"] is None), "not one of cases and a table")
            self.demand()
            self.numbers(lines)
            if c["prices"] is not None:
                need(self.table() == c["least"], "the table says otherwise")
            else:
                bound, rest = self.cases(c["cases"])
                need(bound == c["least"] and not rest and not (c["counted"] or c["lot"] or c["missing"] or c["stages"]), "the cases say otherwise")
            least += self.unit * c["least"]
        need(least == F(proof["least"]), "the least price in all")

    def holds(self, pack, part): return counts(self.packs[pack]["parts"])[part]
    def cost(self, pack):
        n = F(self.packs[pack]["price"]) / self.unit
        need(n.denominator == 1, "a price that is no multiple of the unit")
        return n.numerator

    def demand(self):
        alike = lambda x: [(a["parts"], a["distance"]) for a in x["alternatives"]]
        self.choices = self.c["choices"] or []
        needs = [n for n in self.o["needs"] or [] if n["n"] > 0]
        for k, c in enumerate(self.choices):
            same = [n for n in needs if alike(n) == alike(c)]
            name = same[0]["name"] + (" and %d alike" % (len(same) - 1) if len(same) > 1 else "") if same else None
            need(len(c["alternatives"]) > 1 and same and sum(n["n"] for n in same) == c["n"] and name == c["name"] and all(alike(x) != alike(c) for x in self.choices[:k]), "a choice")
        stock = counts(self.o["stock"])
        self.fixed = [sum(n["n"] * n["alternatives"][0]["parts"].count(p) for n in needs if len(n["alternatives"]) == 1) - stock[p] for p in self.c["parts"]]
        self.most = [f + sum(c["n"] * max(a["parts"].count(p) for a in c["alternatives"]) for c in self.choices) for f, p in zip(self.fixed, self.c["parts"])]

    def useful(self, pack): return max([-(-m // self.holds(pack, p)) for p, m in zip(self.c["parts"], self.most) if self.holds(pack, p)] + [0])
    def limit(self, pack):
        n = self.packs[pack]["limit"]
        return self.useful(pack) if n is None else min(n, self.useful(pack))

    def numbers(self, lines):
        self.lines, self.lo, self.hi = [], [], []
        for line in lines:
            counted, most, enough = 0, 0, False
            for i, pack in enumerate(line):
                last = line[max(counted - 1, 0)]
                for p in self.c["parts"]:
                    n = self.holds(last, p) - self.holds(pack, p)
                    need(n == 0 or n > 0 and enough, "packs that are not alike", last, pack)
                need(F(self.packs[last]["price"]) <= F(self.packs[pack]["price"]), "a dearer pack first", last)
                if not enough:
                    counted, most, enough = i + 1, most + self.limit(pack), self.limit(pack) == self.useful(pack)
            self.lines.append(line[:counted])
            self.lo.append(0)
            self.hi.append(most)
        for c in self.choices:
            for _ in c["alternatives"]:
                self.lo.append(0)
                self.hi.append(c["n"])

    def cases(self, rest):
        k, rest = rest[0], rest[1:]
        if k["at_most"] is None:
            need(k["of"] == 0, "an end that is divided")
            return self.bound(k), rest
        need(all(not k[x] for x in ("scale", "worth", "missing", "dearer", "bought", "served", "sum", "least")), "a division with a bound")
        of, lo, hi = k["of"], self.lo[k["of"]], self.hi[k["of"]]
        need(lo <= k["at_most"] < hi and of >= 0, "a division of what is not there")
        self.hi[of] = k["at_most"]
        fewer, rest = self.cases(rest)
        self.lo[of], self.hi[of] = k["at_most"] + 1, hi
        more, rest = self.cases(rest)
        self.lo[of] = lo
        return min([x for x in (fewer, more) if x is not None], default=None), rest

    def bound(self, b):
        parts, worth, scale = self.c["parts"], b["worth"], b["scale"]
        need(scale >= 0 and len(worth) == len(parts) and min(worth, default=0) >= 0, "worths")
        missing, lack, dearer, bought, served = [], [], [], [], []
        for i, p in enumerate(parts):
            m, v, most, opened = self.fixed[i] - sum(lo * self.holds(l[0], p) for l, lo in zip(self.lines, self.lo)), len(self.lines), 0, 0
            for l, lo, hi in zip(self.lines, self.lo, self.hi):
                opened = gcd(opened, self.holds(l[0], p)) if lo < hi else opened
            chosen = False
            for c in self.choices:
                takes = [a["parts"].count(p) for a in c["alternatives"]]
                most += min(sum(t * h for t, h in zip(takes, self.hi[v:])), max(takes) * c["n"])
                chosen, v = chosen or max(takes) > 0, v + len(takes)
            m = -(-m // opened) * opened if not chosen and opened else m
            missing.append(m)
            lack.append(m + most)
        for k, line in enumerate(self.lines):
            gives = sum(w * max(0, min(self.holds(line[0], p), n)) for w, p, n in zip(worth, parts, lack))
            total, before = 0, 0
            for pack in line:
                most = self.limit(pack)
                low, high = (max(0, min(x - before, most)) for x in (self.lo[k], self.hi[k]))
                total += low * self.cost(pack) * scale + (high - low) * min(0, self.cost(pack) * scale - gives)
                before += most
            dearer.append(self.cost(line[0]) * scale - gives)
            bought.append(total)
        v = len(self.lines)
        for c in self.choices:
            left, total, each = c["n"], 0, []
            for a in c["alternatives"]:
                cost = sum(w * a["parts"].count(p) for w, p in zip(worth, parts))
                total, left = total + self.lo[v] * cost, left - self.lo[v]
                each.append((cost, self.hi[v] - self.lo[v]))
                v += 1
            for cost, most in sorted(each, key=lambda x: x[0]):
                n = max(0, min(left, most))
                total, left = total + n * cost, left - n
            served.append(total + (max(0, left) if scale == 0 else 0))
        s = sum(w * m for w, m in zip(worth, missing)) + sum(bought) + sum(served)
        least = -(-s // scale) if scale else 0
        need((missing, dearer, bought, served, s, least) == tuple(b[k] for k in ("missing", "dearer", "bought", "served", "sum", "least")), "the figures of a bound")
        need(scale > 0 or s > 0, "a case that something serves")
        return least if scale else None

    def table(self):
        c, every, lot = self.c, sum(self.lines, []), 0
        part = c["parts"][c["counted"]]
        for pack in every:
            lot = gcd(lot, self.holds(pack, part))
        points = c["missing"] + 1
        need(not self.choices and c["counted"] >= 0 and c["lot"] == lot and c["missing"] == -(-self.fixed[c["counted"]] // lot), "another shortage")
        need(sorted(every) == sorted(sum((s or [] for s in c["stages"]), [])) and len(c["stages"]) == len(c["prices"]), "the stages")
        for k, prices in enumerate(c["prices"]):
            stage = c["stages"][k] or []
            need(len(prices) == points and prices[0] == 0 and (k == 0 or len(stage) == 1), "lines left out")
            need(k > 0 or all(self.limit(x) == self.useful(x) for x in stage), "a limit in the first stage")
            for p in range(1, points):
                after = lambda pack, n: max(0, p - n * self.holds(pack, part) // lot)
                if k == 0:
                    tries = [(prices[after(x, 1)], self.cost(x)) for x in stage if after(x, 1) < p]
                else:
                    tries = [(c["prices"][k - 1][after(x, n)], n * self.cost(x)) for x in stage for n in range(self.limit(x) + 1)]
                need(prices[p] == min([a + b for a, b in tries if a >= 0], default=-1), "a price of the table", p)
        return c["prices"][-1][-1]


def counts(list_):
    c = Counter()
    for x in list_ or []:
        need(x["n"] >= 0, "fewer than none", x["part"])
        c[x["part"]] += x["n"]
    return c


NEEDS = {"bearing clearance": ["bolts", "crankshaft", "oil"], "crankshaft end play": ["crankshaft"], "ring end gap": ["ring", "depth"]}


def called(group, location, quantity):
    return group + (" " + location if location not in ("", group) else "") + (" " + quantity if quantity else "")


def part(item, line):
    words = line.split()
    return any(item.startswith(" ".join(words[:n]) + " ") and (n == len(words) or item.endswith(" " + " ".join(words[n:]))) for n in range(1, len(words) + 1))


def standing(v, r):
    if not r["taken"] or v["tolerance"] == {"lo": None, "hi": None}:
        return "not measured"
    return {"conforming": "proven", "undecided": "undecided"}.get(v["verdict"], "wrong")


def summary(v, r):
    s, free = standing(v, r), v["tolerance"] == {"lo": None, "hi": None}
    if s == "not measured":
        if r["taken"]:
            return r["measured"] + "; " + (r["advice"] or "no limits are stated")
        return "no limits are stated" if free else "the limits are " + r["tolerance"]
    if s == "proven":
        return r["measured"]
    return "%s, limits %s" % (r["measured"], r["tolerance"]) + ("" if s == "undecided" else ": " + v["verdict"])


def unsealed(text):
    """The text of a record without its blanks and its digest, and the digest."""
    text = re.sub(r'("(?:[^"\\]|\\.)*")|\s+', lambda m: m.group(1) or "", text)
    head, digest, tail = text.rpartition(',"digest":"')
    return head, tail


def load(text):
    def once(pairs):
        need(len(dict(pairs)) == len(pairs), "a key twice")
        return dict(pairs)
    d = json.loads(text, object_pairs_hook=once, parse_float=lambda s: "≈" + s)
    return d


def check(text, sealed=True):
    """A Checker of a record; Refused if something in it does not follow."""
    try:
        d = load(text)
        if sealed:
            head, tail = unsealed(text)
            need(tail == 'sha256:%s"}' % hashlib.sha256(head.encode()).hexdigest(), "the digest is not that of the record")
        return Checker(d).run()
    except Refused:
        raise
    except (AttributeError, IndexError, KeyError, RecursionError, TypeError, ValueError, ZeroDivisionError) as e:
        raise Refused("it is not written as a record is: %s: %s" % (type(e).__name__, e))


def main(args):
    sealed, status, total, open_ = "-unsealed" not in args, 0, Counter(), Counter()
    names = [a for a in args if a != "-unsealed"] or ["-"]
    for name in names:
        text = sys.stdin.read() if name == "-" else open(name, encoding="utf-8").read()
        try:
            c = check(text, sealed)
        except Refused as e:
            print("%s: refused: %s" % (name, e))
            status = 1
            continue
        total.update(c.checked)
        total["records"] += 1
        for what in c.open:
            print("%s: not checked: %s" % (name, what))
            open_[what] += 1
            if any(word in what for word in (" conforming:", " limit:", " proven:")):
                status = max(status, 3) if status != 1 else 1
    print("checked: " + ", ".join("%d %s" % (n, k) for k, n in total.items()) + "; not checked: %d" % sum(open_.values()))
    print("never checked: whether the readings are true; advice, remedies, workings, drawings, films and the steps of the plan, which the digest alone binds")
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
