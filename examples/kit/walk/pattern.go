package walk

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// The marks of a bolt in the pattern, for the stage at hand.
const (
	markDone    = "[x]"
	markNext    = "==>"
	markDoubt   = "[?]"
	markPending = "[ ]"
)

// pattern returns the bolts of the step's group as they stand, with how far each has
// come in the step's stage, in lines no wider than so many columns: in a list if they do not fit
// beside each other.
func pattern(l *ledger.Ledger, step torque.Step, columns int) []string {
	var group torque.Group
	for _, g := range l.Plan.Groups() {
		if g.Name == step.Group {
			group = g
		}
	}
	marks := map[string]string{}
	doubt := map[string]bool{}
	for _, t := range l.Troubles() {
		doubt[t.Bolt] = true
	}
	for _, s := range l.Plan.Steps() {
		if s.Group != step.Group || s.Stage != step.Stage || s.IsPause() {
			continue
		}
		switch {
		case doubt[s.Bolt] || l.Status(s.Number) == ledger.Unknown:
			marks[s.Bolt] = markDoubt
		case l.Status(s.Number) == ledger.Done:
			marks[s.Bolt] = markDone
		case s.Number == step.Number:
			marks[s.Bolt] = markNext
		default:
			marks[s.Bolt] = markPending
		}
	}
	widest := 0
	for _, at := range group.Pattern {
		widest = max(widest, len([]rune(cell(marks, at))))
	}
	var lines []string
	for _, row := range rows(group.Pattern) {
		line := []rune{}
		for _, at := range row {
			column := int(share(at.X, group.Pattern) * float64(max(0, columns-widest)))
			if len(line) > 0 {
				column = max(column, len(line)+2)
			}
			for len(line) < column {
				line = append(line, ' ')
			}
			line = append(line, []rune(cell(marks, at))...)
		}
		lines = append(lines, string(line))
	}
	if slices.ContainsFunc(lines, func(line string) bool { return utf8.RuneCountInString(line) > columns }) {
		return list(group.Pattern, marks, columns)
	}
	return lines
}

// list returns the bolts one below the other, where they do not fit beside each other.
func list(pattern []torque.Position, marks map[string]string, columns int) (lines []string) {
	for _, at := range pattern {
		lines = append(lines, page.Wrap(cell(marks, at), columns)...)
	}
	return lines
}

func cell(marks map[string]string, at torque.Position) string {
	mark := marks[at.Bolt]
	if mark == "" {
		mark = markPending
	}
	return mark + " " + at.Bolt
}

// share returns how far to the right x lies among the places, from 0 to 1. It is for
// the eye alone.
func share(x units.Length, all []torque.Position) float64 {
	left, right := all[0].X, all[0].X
	for _, at := range all {
		left, right = units.Min(left, at.X), units.Max(right, at.X)
	}
	if left.Equal(right) {
		return 0
	}
	share, _ := x.Sub(left).Ratio(right.Sub(left)).Float64()
	return share
}

// rows returns the places by rows down the page, each from left to right. Places less
// than a twelfth of the pattern's height apart are in one row.
func rows(p []torque.Position) [][]torque.Position {
	sorted := slices.Clone(p)
	slices.SortStableFunc(sorted, func(a, b torque.Position) int { return a.Y.Cmp(b.Y) })
	height := sorted[len(sorted)-1].Y.Sub(sorted[0].Y)
	var all [][]torque.Position
	for len(sorted) > 0 {
		end := 1
		for end < len(sorted) && sorted[end].Y.Sub(sorted[0].Y).MulInt(12).Cmp(height) <= 0 {
			end++
		}
		row := sorted[:end]
		slices.SortStableFunc(row, func(a, b torque.Position) int { return cmp.Or(a.X.Cmp(b.X), strings.Compare(a.Bolt, b.Bolt)) })
		all = append(all, row)
		sorted = sorted[end:]
	}
	return all
}
