// Package page holds what the pages of the programs share: HTML that is escaped as it is made, the
// frame of a document, charts as SVG, and a style sheet that is plain paper, ink and one accent, in
// light, in dark and in print. A page asks for nothing from outside itself.
//
// A [Markup] is made by this package alone: by [El] and [Attr], whose names are constants of the
// program, by [Text], which escapes, and by charts and tables, which are made with these. No text,
// whoever wrote it, becomes markup, a script or an address that runs one. There is no way to
// bring in HTML made elsewhere. What stands in what is for the caller to get right: a paragraph in
// a paragraph is written as it was asked for.
//
// The charts take float64 for places on paper, and are rounded to a tenth of a unit of the drawing.
//
// It needs neither html/template nor text/template. They call methods by name, so that a program
// with one of them keeps every exported method of all that it holds.
package page
