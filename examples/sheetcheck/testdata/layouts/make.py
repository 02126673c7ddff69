#!/usr/bin/python3
"""Makes the workbooks of this folder, seeds.csv and truth.csv. README.md says what they are.

    /usr/bin/python3 make.py

It needs Debian's libreoffice-calc and python3-openpyxl; the tests do not, they use the files
as kept.
"""
import collections
import csv
import os
import re
import shutil
import tempfile

import bearings
import parts
from kit import HERE, Book, finish, office, openpyxl_book, repack, clean, seed_rows, values, write_text

def without_xlookup(formula):
    """The same by functions that every office program has, to know what it gives."""
    m = re.match(r'=_xlfn\.XLOOKUP\(([^,]+),([^,]+),([^,]+),"none",(-?\d)\)$', formula)
    if not m:
        return formula
    return f"=INDEX({m[3]},MATCH({m[1]},{m[2]},{-int(m[4])}))"


def make_all(made, folder, without=without_xlookup):
    """Makes the books in a folder, with their seeds.csv and truth.csv. without says a formula
    by functions that every office program has."""
    os.makedirs(folder, exist_ok=True)
    versions = []  # (book, wrong)
    for make in made:
        right, wrong = make(), make()
        wrong.spoil()
        versions += [(right, False), (wrong, True)]

    with tempfile.TemporaryDirectory() as scratch:
        calculated = {}
        for ending in ("xlsx", "ods"):
            source, out = os.path.join(scratch, ending + "-in"), os.path.join(scratch, ending + "-out")
            os.mkdir(source)
            files = []
            for book, wrong in versions:
                if ending == "ods" and book.stored != "ods":
                    continue
                name = os.path.join(source, f"{book.name}{'.seeded' if wrong else ''}.xlsx")
                plain = openpyxl_book(book)
                if book.stored == "library":
                    for ws in plain:
                        for row in ws.iter_rows():
                            for c in row:
                                if isinstance(c.value, str) and c.value.startswith("="):
                                    c.value = without(c.value)
                plain.save(name)
                files.append(name)
            office(files, ending, out)
            for book, wrong in versions:
                calculated[ending, book.name, wrong] = os.path.join(out, f"{book.name}{'.seeded' if wrong else ''}.{ending}")

        seeds, truth = [], []
        held = {}
        for book, wrong in versions:
            path = os.path.join(folder, book.file(wrong))
            held[book.name, wrong] = values(calculated["xlsx", book.name, wrong])
            if book.stored == "csv":
                write_text(book, path, held[book.name, wrong][book.sheets[0].title])
            elif book.stored == "library":
                openpyxl_book(book).save(path)
                repack(path, lambda name, data, extra: clean(name, data))
            else:
                shutil.copy(calculated["ods" if book.stored == "ods" else "xlsx", book.name, wrong], path)
                finish(book, path, wrong)
        for book, wrong in versions:
            for row in book.truth:
                truth.append([book.file(wrong)] + (["" if book.stored == "csv" else row[0]] + row[1:]))
            if wrong:
                rows, wrongly = seed_rows(book, held[book.name, False], held[book.name, True])
                for w in wrongly:
                    print("not as meant:", *w)
                if book.stored == "csv":
                    rows = [[r[0], ""] + r[2:8] + [r[8].replace(book.sheets[0].title + "!", "")] for r in rows]
                seeds += rows
    write_csv(folder, "seeds.csv", ["file", "sheet", "cell", "severity", "mistake", "shows", "seed", "also", "from"], seeds)
    write_csv(folder, "truth.csv", ["file", "sheet", "cells", "table", "role", "unit", "kind", "limits"], truth)

    count = collections.Counter()
    for book, wrong in versions:
        if wrong:
            for s in book.seeds:
                count[s.mistake] += 1
    for mistake, n in sorted(count.items()):
        print(f"{n:4} {mistake}")
    print(len(made), "workbooks,", len({b.layout for b, _ in versions}), "layouts,", sum(count.values()), "seeds in", len(seeds), "rows")


def write_csv(folder, name, heads, rows):
    with open(os.path.join(folder, name), "w", newline="", encoding="utf-8") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(heads)
        w.writerows(rows)


if __name__ == "__main__":
    make_all([f for group in (bearings.BOOKS, parts.BOOKS) for f in group], HERE)
