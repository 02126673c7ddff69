package understand

import (
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// newFault is a fault that does not show, in one cell for the time being.
func newFault(sheetName string, at sheet.Place, mistake, says string) *check.Finding {
	return &check.Finding{Severity: check.Style, Sheet: sheetName, Column: "formula", Count: 1, Ranges: []check.Span{{First: at, Last: at}},
		Cells: []check.Cell{{At: at}}, Cause: check.Cause{Mistake: mistake, Says: says}}
}

// addCell adds a cell of the same column or row to a fault.
func addCell(f *check.Finding, sheetName string, at sheet.Place) {
	last := &f.Ranges[len(f.Ranges)-1]
	if f.Sheet != sheetName || last.Last == at {
		return
	}
	f.Count++
	f.Cells = append(f.Cells, check.Cell{At: at})
	switch {
	case at.Column == last.Last.Column && at.Row == last.Last.Row+1 && (last.First.Column == at.Column),
		at.Row == last.Last.Row && at.Column == last.Last.Column+1 && last.First.Row == at.Row:
		last.Last = at
	default:
		f.Ranges = append(f.Ranges, check.Span{First: at, Last: at})
	}
}

// Latent returns the faults that the formulas themselves show and no comparison: units mixed,
// and look-ups in what is not in order.
func (u *Understanding) Latent() (all []check.Finding) {
	for _, f := range u.faults {
		index, _ := u.book.Index(f.Sheet)
		for i := range f.Cells {
			f.Cells[i].Claimed = u.book.Grids[index].Cell(f.Cells[i].At).Text
		}
		all = append(all, *f)
	}
	return all
}
