// What the declarations take, and what they do not.
import { judge, buy, convert, call, load, Refused, type Judge, type Judged, type Instrument } from "closefit";
import { open } from "closefit/loader.js";

const strip: Instrument = { kind: "crush strip", name: "strip", prints: ["0.025 mm"], tolerance: null, batch: null };
const asked: Judge = {
  name: "rod 2", limits: "0.030..0.045 mm", unit: null, instruments: [strip], non_negative: true, at_worst: false, direct: null, wanted: [],
  terms: [{ symbol: "C", name: "clearance", times: "1", with: "strip", how: "shown", read: ["0.025 mm"], stated: [], needs: [] }],
};
const answer: Judged = await judge(asked);
if (answer.verdict === "undecided") console.log(answer.settles?.length, answer.working[0].steps.length);
const bought = await buy({ needs: [], stock: [], packs: [], trades: 0 });
const price: string = bought.price;
const converted = await call("convert", { value: "1 in", to: "mm", round: "exact", places: null });
const value: string = converted.value;
await load(fetch("closefit.wasm"));
const library = await open(new Uint8Array());
try {
  library.ask("");
} catch (e) {
  if (e instanceof Refused) console.log(e.where?.length, e.write, price, value);
}

// @ts-expect-error a word that there is not
await convert({ value: "1 in", to: "mm", round: "up", places: null });
// @ts-expect-error a key that is missing
await convert({ value: "1 in", to: "mm", round: "exact" });
// @ts-expect-error a key that there is not
await convert({ value: "1 in", to: "mm", round: "exact", places: null, scale: 1 });
// @ts-expect-error null where there has to be a text
await convert({ value: null, to: "mm", round: "exact", places: null });
// @ts-expect-error a verdict that nobody gives
if (answer.verdict === "good") console.log();
// @ts-expect-error what may be null is not used unasked
console.log(answer.settles.length);
// @ts-expect-error a kind of instrument with the keys of another
const blades: Instrument = { kind: "feeler blades", name: "blades", prints: ["0.025 mm"], tolerance: null, batch: null };
// @ts-expect-error no such question
await call("weigh", {});
console.log(blades);
