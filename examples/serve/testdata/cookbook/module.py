"""Ask the WebAssembly module, without a server: node runs it, and Python speaks with node over pipes.

    go run ./examples/wasm -o closefit
    python3 module.py closefit

It needs Python 3.8 or later, and node 18 or later.
"""
import json
import subprocess
import sys
from pathlib import Path


class Module:
    """One node with the module in it. Each question is a line, and each answer is one."""

    def __init__(self, package):
        self.node = subprocess.Popen(["node", str(Path(__file__).with_name("lines.mjs")), package],
                                     stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8")

    def ask(self, question, **asked):
        self.node.stdin.write(json.dumps({"closefit": 1, "question": question, "with": asked}) + "\n")
        self.node.stdin.flush()
        line = self.node.stdout.readline()
        if not line:
            raise RuntimeError("node ended")
        reply = json.loads(line)
        if "error" in reply:
            raise ValueError(reply["error"]["message"])
        return reply["answer"]

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.node.stdin.close()
        self.node.wait(timeout=10)
        self.node.stdout.close()


with Module(sys.argv[1]) as closefit:
    for limits in ("1.8740..1.8747 in", "2.4409..2.4418 in"):
        print(limits, "=", closefit.ask("convert", value=limits, to="mm", round="inward", places=None)["value"])

    def need(part, n):
        return {"name": part, "n": n, "alternatives": [{"parts": [part], "distance": "0 mm"}]}

    def pack(name, price, limit, **parts):
        return {"name": name, "price": price, "limit": limit, "parts": [{"part": p, "n": n} for p, n in parts.items()]}

    bought = closefit.ask("buy", needs=[need("red", 5), need("blue", 3)], stock=[{"part": "red", "n": 1}], trades=0,
                          packs=[pack("R2", "17.00", None, red=2), pack("B1", "9.50", None, blue=1),
                                 pack("RB2", "31.00", 1, red=2, blue=2)])
    print(", ".join(f'{p["n"]} × {p["name"]}' for p in bought["packs"]), "for", bought["price"],
          "and nothing is cheaper" if bought["cheapest"] else "")

    try:
        closefit.ask("convert", value="1.8740 in", to="N·m", round="exact", places=None)
    except ValueError as refusal:
        print("refused:", refusal)
