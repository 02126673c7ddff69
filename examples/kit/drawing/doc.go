// Package drawing makes drawings of a tightening's order, for printing beside the engine:
// each bolt where it stands, with its place in the order and the stages it is given, as
// SVG. [Of] draws a plan, [OfLedger] what has been pulled. [OfRings] draws where the gaps of
// a piston's rings stand.
//
// Positions are float64 here, which is exact enough for paper. Nothing is returned as an
// error: a plan that was made can be drawn.
package drawing
