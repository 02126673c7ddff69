package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"

	"example.com/closefit/examples/sheetcheck/check"
)

// The JSON form. Its names are part of what the program promises.
type (
	jsonReport struct {
		Title     string        `json:"title,omitempty"`
		File      string        `json:"file"`
		Encoding  string        `json:"encoding,omitempty"` // guessed
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
	out := jsonReport{Title: r.Title, File: r.File, Encoding: r.Encoding, Locations: r.Rows, Claims: r.Claims, Findings: []jsonFinding{}, Notes: r.Notes, Caution: Caution}
	for i := range r.Findings {
		out.Findings = append(out.Findings, toJSON(&r.Findings[i]))
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, escaped(string(text))+"\n")
	return err
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
