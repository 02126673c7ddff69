// Custom functions for a spreadsheet add-in: plain JavaScript on the npm package. Register them the way that your
// spreadsheet asks for; they take cells and return cells.
import { judge, Refused } from "closefit";

// figure makes a quantity of a cell. A cell that holds a number needs the unit of its column; a text brings its own.
// JavaScript writes a number with the fewest digits that mean it, so 61.971 typed is 61.971 judged. A sum in the
// sheet is not what anybody typed: 62.1 - 62 is 0.10000000000000142, and is judged as that.
function figure(cell, unit) {
  if (cell === null || cell === undefined || cell === "") return null; // an empty cell is no zero
  return typeof cell === "number" ? `${cell} ${unit}` : String(cell);
}

// fit judges bore less journal: =FIT(bore, journal, uncertainty of each, limits). It fills three cells of a row: the
// verdict, and the least and the greatest that the readings prove.
export async function fit(bore, journal, boreUncertainty, journalUncertainty, limits, unit = "mm") {
  const read = [bore, journal].map((cell) => figure(cell, unit));
  const doubt = [boreUncertainty, journalUncertainty].map((cell) => figure(cell, unit));
  if (read.includes(null)) return [["not measured", "", ""]];
  if (doubt.includes(null)) return [["how good is the instrument?", "", ""]];
  const gauge = (name, uncertainty) => ({ kind: "gauge", name, uncertainty, repeats: null, common: null, k: null, freedom: null, limit_of_error: null, set_on: null });
  const term = (symbol, times, name, text) => ({ symbol, name, times, with: name, how: "shown", read: [text], stated: [], needs: [] });
  try {
    const answer = await judge({
      name: "fit", limits: String(limits), unit: null,
      instruments: [gauge("bore", doubt[0]), gauge("journal", doubt[1])],
      terms: [term("D", "1", "bore", read[0]), term("d", "-1", "journal", read[1])],
      non_negative: false, at_worst: false, direct: null, wanted: [],
    });
    return [[answer.verdict, answer.measured.lo, answer.measured.hi]];
  } catch (e) {
    if (!(e instanceof Refused)) throw e; // a defect, and not something to write into a cell
    return [[`${e.found}: ${e.write}`, "", ""]];
  }
}
