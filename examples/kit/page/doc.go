// Package page holds what the pages of the programs share: a style sheet that is plain paper,
// ink and one accent, in light, in dark and in print, and a chart of a reading on its
// limits. A page asks for nothing from outside itself.
package page
