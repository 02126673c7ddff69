package understand

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/examples/sheetcheck/chance"
	"example.com/closefit/examples/sheetcheck/mapfile"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// A crossing is a table without formulas in which every part is held against every other: sizes along its first
// row and down its first column, and in each cell the difference of the two that meet there.
type crossing struct {
	sheet int
	area  sheet.Area // with the sizes; its first cell holds none
}

// How large a crossing is at least and at most.
const (
	leastCrossing = 2   // rows and columns, besides the sizes
	mostCrossing  = 200 // likewise
)

// crossings reads the tables of a sheet in which every part is held against every other.
func (r *reader) crossings(index int, taken *cells) {
	free := func(s spot) (float64, bool) {
		if taken.holds(s) || r.formulas.at(s) != nil {
			return 0, false
		}
		return r.number(s)
	}
	for at, c := range r.book.Grids[index].Cells() {
		if c.Formula != "" || c.Kind() != sheet.KindNumber || at.Row == 1 || at.Column == 1 {
			continue
		}
		corner := sheet.Place{Row: at.Row - 1, Column: at.Column - 1}
		if _, isNumber := r.number(spot{index, corner}); isNumber {
			continue
		}
		x := crossing{index, sheet.Area{First: corner, Last: corner}}
		for x.area.Last.Column-corner.Column <= mostCrossing {
			if _, ok := free(spot{index, sheet.Place{Row: corner.Row, Column: x.area.Last.Column + 1}}); !ok {
				break
			}
			x.area.Last.Column++
		}
		for x.area.Last.Row-corner.Row <= mostCrossing {
			if _, ok := free(spot{index, sheet.Place{Row: x.area.Last.Row + 1, Column: corner.Column}}); !ok {
				break
			}
			x.area.Last.Row++
		}
		rows, columns := x.area.Last.Row-corner.Row, x.area.Last.Column-corner.Column
		if rows >= leastCrossing && columns >= leastCrossing && rows <= mostCrossing && columns <= mostCrossing {
			if r.looked += rows * columns; r.looked > mostLookedAt {
				return
			}
			r.cross(x, taken)
		}
	}
}

// cross takes the cells of a crossing for differences, if that is no chance.
func (r *reader) cross(x crossing, taken *cells) {
	type cell struct {
		at               spot
		have, row, above float64
		half             float64
	}
	var inner []cell
	var values []float64
	first := x.area.First
	step := 0.0
	for row := first.Row + 1; row <= x.area.Last.Row; row++ {
		left, _ := r.number(spot{x.sheet, sheet.Place{Row: row, Column: first.Column}})
		for column := first.Column + 1; column <= x.area.Last.Column; column++ {
			s := spot{x.sheet, sheet.Place{Row: row, Column: column}}
			v, ok := r.number(s)
			if !ok || taken.holds(s) {
				continue
			}
			above, _ := r.number(spot{x.sheet, sheet.Place{Row: first.Row, Column: column}})
			half := halfPlace(r.cell(s))
			inner = append(inner, cell{s, v, left, above, half})
			values, step = append(values, v), max(step, 2*half)
		}
	}
	if len(inner) < 2*leastProof {
		return
	}
	scales := []float64{1, 1000}
	for _, scale := range scales {
		for _, sign := range []float64{1, -1} {
			agree := 0
			for _, c := range inner {
				if math.Abs(scale*sign*(c.row-c.above)-c.have) <= c.half+1e-9 {
					agree++
				}
			}
			if 3*agree < 2*len(inner) || !chance.Excluded(chance.Agreeing(agree, len(inner), step/usualRange(values)), 2*len(scales)) {
				continue
			}
			r.nameCross(x, sign > 0)
			unitName := r.crossUnit(x, scale)
			for _, c := range inner {
				big, small := sheet.Place{Row: c.at.at.Row, Column: first.Column}, sheet.Place{Row: first.Row, Column: c.at.at.Column}
				if sign < 0 {
					big, small = small, big
				}
				text := fmt.Sprintf("%s-%s", big, small)
				if scale != 1 {
					text = fmt.Sprintf("(%s)*%g", text, scale)
				}
				reason := fmt.Sprintf("%d of %d numbers are the differences of the sizes along their row and column", agree, len(inner))
				role := "difference"
				if r.titled(x.sheet, roleClearance) {
					role = roleClearance
				}
				r.u.roles.set(c.at, Meaning{Role: role, Unit: unitName, Claim: true, Reason: reason})
				r.statistics = append(r.statistics, mapfile.Cell{Sheet: r.book.Grids[x.sheet].Name, At: c.at.at.String(), Formula: text, Role: role, Unit: unitName, Reason: reason})
				taken.add(c.at)
			}
			return
		}
	}
}

// nameCross names the sizes of a crossing and the locations beside them; down says that those of the rows are the
// larger ones.
func (r *reader) nameCross(x crossing, down bool) {
	first, last := x.area.First, x.area.Last
	size := func(at sheet.Place, bore bool) {
		role, reason := roleJournal, "it is taken from the sizes that it is held against"
		if bore {
			role, reason = roleBore, "the sizes that it is held against are taken from it"
		}
		r.u.roles.set(spot{x.sheet, at}, Meaning{Role: role, Unit: r.crossUnit(x, 1), Reason: reason})
	}
	location := func(at sheet.Place) {
		if s := (spot{x.sheet, at}); at.Row > 0 && at.Column > 0 && !r.cell(s).Blank() {
			r.nameLocation(s)
		}
	}
	for row := first.Row + 1; row <= last.Row; row++ {
		size(sheet.Place{Row: row, Column: first.Column}, down)
		location(sheet.Place{Row: row, Column: first.Column - 1})
	}
	for column := first.Column + 1; column <= last.Column; column++ {
		size(sheet.Place{Row: first.Row, Column: column}, !down)
		location(sheet.Place{Row: first.Row - 1, Column: column})
	}
}

// crossUnit returns the unit of a crossing's sizes, or of a thousandth of it: from the words in its corner, beside
// it, or in the title.
func (r *reader) crossUnit(x crossing, scale float64) string {
	name := ""
	for _, at := range []sheet.Place{x.area.First, {Row: x.area.First.Row - 1, Column: x.area.First.Column}, {Row: x.area.First.Row, Column: max(1, x.area.First.Column-1)}} {
		if text := r.cell(spot{x.sheet, at}).Text; at.Row > 0 && name == "" {
			if u, ok := parseUnit(text); ok {
				name = u.name
			} else if _, u, ok := splitUnit(text); ok {
				name = u.name
			}
		}
	}
	if name == "" {
		name = r.sheetUnit(x.sheet)
	}
	if scale == 1 {
		return name
	}
	return map[string]string{"mm": "µm", "in": "thou"}[name]
}

// titled reports whether a title of a sheet, in its first column, has words for a role.
func (r *reader) titled(index int, role string) bool {
	for row := 1; row <= mostTitles; row++ {
		if s := (spot{index, sheet.Place{Row: row, Column: 1}}); r.isText(s) && roleOf(strings.TrimSpace(r.cell(s).Text)) == role {
			return true
		}
	}
	return false
}
