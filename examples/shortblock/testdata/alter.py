#!/usr/bin/env python3
"""alter.py EVERY FILE…: alters records in JSON, one thing at a time, and counts what checkrecord
refuses. The digest is left aside, as if whoever altered the record had made a new one. Of
each figure the last digit is changed, of each word its end; elements of a list are taken
out, doubled and exchanged, keys are taken out. Every EVERY-th alteration is tried. What is
accepted is printed by where it stands.
"""
import json, re, sys
from collections import Counter
from os.path import abspath, dirname

sys.path.insert(0, dirname(dirname(abspath(__file__))))
import checkrecord  # noqa: E402


def alterations(x, path):
    """Yields where, what, do and undo."""
    pairs = list(x.items()) if isinstance(x, dict) else list(enumerate(x))
    for k, v in pairs:
        where = path + ("." + k if isinstance(x, dict) else "[%s]" % kind(v))
        for what, w in other(v):
            yield where, what, (lambda k=k, w=w: x.__setitem__(k, w)), (lambda k=k, v=v: x.__setitem__(k, v))
        if isinstance(v, (dict, list)):
            yield from alterations(v, where)
    if isinstance(x, dict):
        for k, v in pairs:
            yield path + "." + k, "key taken out", (lambda k=k: x.pop(k)), (lambda k=k, v=v: x.__setitem__(k, v))
        return
    whole = list(x)

    def put(new):
        x[:] = new
    for i, v in enumerate(whole):
        where = path + "[%s]" % kind(v)
        yield where, "taken out", (lambda i=i: put(whole[:i] + whole[i + 1:])), lambda: put(whole)
        yield where, "doubled", (lambda i=i: put(whole[:i + 1] + whole[i:])), lambda: put(whole)
        if i and v != whole[i - 1]:
            yield where, "exchanged", (lambda i=i: put(whole[:i - 1] + [whole[i], whole[i - 1]] + whole[i + 1:])), lambda: put(whole)


class Noted(dict):
    """What is stated, and which keys of it were looked up."""

    def __init__(self):
        self.looked_up = set()

    def __setitem__(self, key, text):
        super().__setitem__(key, text)
        self.looked_up.discard(key)  # that it was not there is all that was asked

    def __getitem__(self, key):
        self.looked_up.add(key)
        return super().__getitem__(key)

    def __contains__(self, key):
        self.looked_up.add(key)
        return super().__contains__(key)

    def get(self, key, default=None):
        return self[key] if key in self else default


READ = set()  # what the checker looked up before anything was altered


def kind(v):
    """What is stated is told apart: walls of shells, conditions of a job's own fits, and what nothing was worked out with."""
    key = v.get("key", "") if isinstance(v, dict) else ""
    if ".walls." in key:
        return "walls"
    if key.startswith("fits[") and ".needs." in key:
        return "needs"
    return "unread" if key.startswith(("temperatures.", "materials.", "warmth.", "compression.")) and key not in READ else ""


def other(v):
    if isinstance(v, bool):
        yield "turned", not v
    elif isinstance(v, int):
        yield "figure", v + 1
    elif v is None:
        yield "filled", "1 mm"
    elif isinstance(v, str):
        for m in re.finditer(r"\d+", v):
            i = m.end() - 1
            yield "figure", v[:i] + str((int(v[i]) + 1) % 10) + v[i + 1:]
        for m in re.finditer(r"[^\W\d_]+", v):
            yield "word", v[:m.end()] + "x" + v[m.end():]
        if not v:
            yield "filled", "x"


def main(every, names):
    tried, refused, accepted = 0, 0, Counter()
    for name in names:
        d = checkrecord.load(open(name, encoding="utf-8").read())
        c = checkrecord.Checker(d)
        c.stated = Noted()
        before = Counter(c.run().open)
        READ.clear()
        READ.update(c.stated.looked_up)
        for n, (where, what, do, undo) in enumerate(alterations(d, "")):
            if n % every:
                continue
            tried += 1
            do()
            try:
                c = checkrecord.Checker(d).run()
                if Counter(c.open) != before:
                    refused += 1  # it says that it did not check something, where it did before
                else:
                    accepted[where, what] += 1
            except Exception:  # of whatever kind: the program refuses with all of them
                refused += 1
            undo()
    print("%d records, %d altered, %d refused without their digest" % (len(names), tried, refused))
    for (where, what), n in sorted(accepted.items()):
        print("accepted: %s: %s: %d" % (where.lstrip("."), what, n))


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
