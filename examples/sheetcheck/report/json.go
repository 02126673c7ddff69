package report

import (
	"encoding/json"
	"io"

	"example.com/closefit/examples/sheetcheck/check"
)

// The JSON form. Its names are part of what the program promises.
type (
	jsonReport struct {
		Title     string        `json:"title,omitempty"`
		File      string        `json:"file"`
		Locations int           `json:"locations"`
		Claims    int           `json:"claims"`
		Findings  []jsonFinding `json:"findings"`
		Notes     []string      `json:"notes,omitempty"`
		Caution   string        `json:"caution"`
	}
	jsonFinding struct {
		Severity check.Severity `json:"severity"`
		Table    string         `json:"table"`
		Sheet    string         `json:"sheet,omitempty"`
		Column   string         `json:"column"`
		Count    int            `json:"count"`
		Ranges   []string       `json:"ranges"`
		Cells    []jsonCell     `json:"cells"`
		Mistake  string         `json:"mistake"` // empty if no known one explains it
		Says     string         `json:"says"`
		Others   []jsonCause    `json:"others,omitempty"`
		Working  string         `json:"working,omitempty"`
	}
	jsonCell struct {
		Cell     string `json:"cell"`
		Location string `json:"location,omitempty"`
		Claimed  string `json:"claimed"`
		Right    string `json:"right,omitempty"`
	}
	jsonCause struct {
		Mistake string `json:"mistake"`
		Says    string `json:"says"`
	}
)

func writeJSON(w io.Writer, r *check.Result) error {
	out := jsonReport{Title: r.Title, File: r.File, Locations: r.Rows, Claims: r.Claims, Findings: []jsonFinding{}, Notes: r.Notes, Caution: Caution}
	for i := range r.Findings {
		out.Findings = append(out.Findings, toJSON(&r.Findings[i]))
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(out)
}

func toJSON(f *check.Finding) jsonFinding {
	j := jsonFinding{
		Severity: f.Severity, Table: f.Table, Sheet: f.Sheet, Column: f.Column, Count: f.Count,
		Mistake: f.Cause.Mistake, Says: f.Cause.Says, Working: f.Working.Text(),
	}
	if f.Cause.Mistake == "" {
		j.Says = check.Unexplained
	}
	for _, s := range f.Ranges {
		j.Ranges = append(j.Ranges, s.String())
	}
	for _, c := range f.Cells {
		j.Cells = append(j.Cells, jsonCell{Cell: c.At.String(), Location: c.Location, Claimed: c.Claimed, Right: c.Right})
	}
	for _, o := range f.Others {
		j.Others = append(j.Others, jsonCause(o))
	}
	return j
}
