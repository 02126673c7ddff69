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
		Ranges   []check.Span   `json:"ranges"`
		Cells    []check.Cell   `json:"cells"`
		Mistake  string         `json:"mistake"` // empty if no known one explains it
		Says     string         `json:"says"`
		Others   []check.Cause  `json:"others,omitempty"`
		Working  string         `json:"working,omitempty"`
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
		Severity: f.Severity, Table: f.Table, Sheet: f.Sheet, Column: f.Column, Count: f.Count, Ranges: f.Ranges, Cells: f.Cells,
		Mistake: f.Cause.Mistake, Says: f.Cause.Says, Others: f.Others, Working: f.Working.Text(),
	}
	if f.Cause.Mistake == "" {
		j.Says = check.Unexplained
	}
	return j
}
