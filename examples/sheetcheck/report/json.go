package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"

	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/understand"
)

// The JSON form. Its names are part of what the program promises. Each entry of a list is
// one cell.
type (
	jsonReport struct {
		Title         string             `json:"title,omitempty"`
		File          string             `json:"file"`
		Encoding      string             `json:"encoding,omitempty"` // guessed
		Locations     int                `json:"locations"`
		Claims        int                `json:"claims"`
		Understanding *jsonUnderstanding `json:"understanding"` // null with a map
		Findings      []jsonFinding      `json:"findings"`
		Latent        []jsonFinding      `json:"latent"`  // faults that do not show yet
		Follows       []jsonFinding      `json:"follows"` // what only follows from a finding
		Unchecked     []jsonUnchecked    `json:"unchecked"`
		Coverage      check.Coverage     `json:"coverage"`
		Notes         []string           `json:"notes,omitempty"`
		Caution       string             `json:"caution"`
	}
	jsonFinding struct {
		Sheet    string         `json:"sheet"`
		Cell     string         `json:"cell"`
		Location string         `json:"location,omitempty"` // what the sheet calls it
		Severity check.Severity `json:"severity"`
		Claimed  string         `json:"claimed"`           // as stored
		Right    string         `json:"right"`             // what its readings give, with the unit; empty if that is not known
		Formula  string         `json:"formula,omitempty"` // proposed
		Cause    string         `json:"cause"`             // the mistake, from the catalogue; empty if no known one explains it
		Says     string         `json:"says"`
		Evidence check.Evidence `json:"evidence"`       // "formula" if the formula shows the cause, "fits" if it would only give what was found
		From     []string       `json:"from,omitempty"` // of what follows: the cells that it stands on
		Others   []check.Cause  `json:"others,omitempty"`
		Table    string         `json:"table"`
		Column   string         `json:"column"`
		Working  string         `json:"working,omitempty"` // of the first cell of a finding
		More     *jsonMore      `json:"more,omitempty"`    // of the last cell that is listed of a finding with more
	}
	jsonMore struct {
		Cells  int          `json:"cells"` // that the finding has in all
		Ranges []check.Span `json:"ranges"`
	}
	jsonUnchecked struct {
		Sheet string `json:"sheet"`
		Cell  string `json:"cell"`
		Why   string `json:"why"`

		To     string `json:"to,omitempty"`     // the last of the cells, if they are values that nobody looked at, or more than manyCells
		Values int    `json:"values,omitempty"` // how many they are
	}
	jsonUnderstanding struct {
		Tables        []jsonTable     `json:"tables"`
		Cells         []jsonCell      `json:"cells"`
		NotUnderstood []jsonUnchecked `json:"not_understood"`
	}
	jsonTable struct {
		Name    string       `json:"name"`
		Sheet   string       `json:"sheet"`
		Down    bool         `json:"down"` // locations are rows
		Lines   string       `json:"lines"`
		Columns []jsonColumn `json:"columns"`
		Worked  []string     `json:"worked"`
	}
	jsonColumn struct {
		At      string `json:"at"`
		Heading string `json:"heading"`
		Role    string `json:"role"`
		Unit    string `json:"unit"`
		Claim   bool   `json:"claim"`
		Formula string `json:"formula,omitempty"` // as it should read in the first line
		Reason  string `json:"reason"`
	}
	jsonCell struct {
		Sheet   string `json:"sheet"`
		Cell    string `json:"cell"`
		Role    string `json:"role"`
		Unit    string `json:"unit"`
		Formula string `json:"formula"`
		Reason  string `json:"reason"`
	}
)

// manyCells is how many cells one below another have an entry each, that are not checked for one reason.
const manyCells = 100

func writeJSON(w io.Writer, r *check.Result, u *understand.Understanding) error {
	out := jsonReport{Title: r.Title, File: r.File, Encoding: r.Encoding, Locations: r.Rows, Claims: r.Claims, Understanding: understood(u),
		Findings: toJSON(r.Findings), Latent: toJSON(r.Latent), Follows: toJSON(r.Follows), Unchecked: []jsonUnchecked{}, Coverage: r.Coverage, Notes: r.Notes, Caution: Caution}
	for _, s := range spans(r) {
		if s.cells() > manyCells {
			out.Unchecked = append(out.Unchecked, jsonUnchecked{Sheet: s.sheet, Cell: s.first.String(), Why: s.why, To: s.last.String(), Values: s.cells()})
			continue
		}
		for p := s.first; p.Row <= s.last.Row; p.Row++ {
			out.Unchecked = append(out.Unchecked, jsonUnchecked{Sheet: s.sheet, Cell: p.String(), Why: s.why})
		}
	}
	for _, v := range r.Unlooked {
		out.Unchecked = append(out.Unchecked, jsonUnchecked{Sheet: v.Sheet, Cell: v.Cells.First.String(), Why: v.Why, To: v.Cells.Last.String(), Values: v.Count})
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, escaped(string(text))+"\n")
	return err
}

func understood(u *understand.Understanding) *jsonUnderstanding {
	if u == nil {
		return nil
	}
	out := &jsonUnderstanding{Tables: []jsonTable{}, Cells: []jsonCell{}, NotUnderstood: []jsonUnchecked{}}
	for _, t := range u.Tables {
		table := jsonTable{Name: t.Name, Sheet: t.Sheet, Down: t.Down, Lines: t.Lines, Columns: []jsonColumn{}, Worked: t.Worked}
		for _, c := range t.Columns {
			table.Columns = append(table.Columns, jsonColumn{c.At, c.Heading, c.Role, c.Unit, c.Claim, c.Formula, c.Reason})
		}
		out.Tables = append(out.Tables, table)
	}
	for _, c := range u.Map.Cells {
		out.Cells = append(out.Cells, jsonCell{c.Sheet, c.At, c.Role, c.Unit, c.Formula, c.Reason})
	}
	for _, x := range u.Unknown {
		out.NotUnderstood = append(out.NotUnderstood, jsonUnchecked{Sheet: x.Sheet, Cell: x.At.String(), Why: x.Why})
	}
	return out
}

// escaped writes what a terminal might obey as \u escapes, which read back as the
// same text. It can only stand inside the strings of the JSON text.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		if r == '\n' || unicode.IsPrint(r) {
			b.WriteRune(r)
			continue
		}
		for _, unit := range utf16.Encode([]rune{r}) {
			fmt.Fprintf(&b, "\\u%04x", unit)
		}
	}
	return b.String()
}

// toJSON writes findings cell by cell.
func toJSON(findings []check.Finding) []jsonFinding {
	all := []jsonFinding{}
	for i := range findings {
		f := &findings[i]
		for j, c := range f.Cells {
			one := jsonFinding{
				Sheet: f.Sheet, Cell: c.At.String(), Location: c.Location, Severity: f.Severity, Claimed: c.Claimed, Right: c.Right, Formula: c.Formula,
				Cause: f.Cause.Mistake, Says: cmp.Or(c.Says, f.Cause.Says), Evidence: f.Cause.Evidence, From: f.From, Others: f.Others, Table: f.Table, Column: f.Column,
			}
			if f.Cause.Mistake == "" && one.Says == "" {
				one.Says = check.Unexplained
			}
			if j == 0 {
				one.Working = f.Working.Text()
			}
			if j == len(f.Cells)-1 && f.Count > len(f.Cells) {
				one.More = &jsonMore{f.Count, f.Ranges}
			}
			all = append(all, one)
		}
	}
	return all
}
