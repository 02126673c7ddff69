// A sheet for addin.mjs: what its cells hold, and what the function puts beside them.
import { fit } from "./addin.mjs";

const rows = [
  [48.014, 47.973, 0.003, 0.002, "0.024..0.048 mm"],
  [48.021, 47.973, 0.003, 0.002, "0.024..0.048 mm"],
  ["1.8904 in", "1.8877 in", "0.0001 in", "0.0001 in", "0.0010..0.0019 in"],
  [48.014, "", 0.003, 0.002, "0.024..0.048 mm"],
  ["48,014 mm", 47.973, 0.003, 0.002, "0.024..0.048 mm"],
];
for (const cells of rows) console.log(cells.join(" | "), "->", (await fit(...cells))[0].join(" | "));
