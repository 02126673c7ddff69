package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.com/closefit/examples/kit/record"
	"example.com/closefit/examples/sheetcheck/check"
	"example.com/closefit/examples/sheetcheck/understand"
)

// Write writes the report. u is what a sheet without a map was taken to be; nil with a map.
func Write(w io.Writer, f record.Format, r *check.Result, u *understand.Understanding) error {
	switch f {
	case record.Text:
		return writeText(w, r, u)
	case record.JSON:
		return writeJSON(w, r, u)
	case record.HTML:
		return writeHTML(w, r, u)
	}
	_, err := record.ParseFormat(string(f))
	return err
}

// Caution stands under every report.
const Caution = "Only the cells that were understood, or that the map names, were checked. The engine maker's manual and licensed practice come first."

// quoted shows what a cell holds.
func quoted(text string) string {
	runes := []rune(text)
	if len(runes) > 60 {
		text = string(runes[:60]) + "…"
	}
	return strconv.Quote(record.Printable(text))
}

// ranges shows where a finding's cells stand, with the sheet.
func ranges(f *check.Finding) string {
	var parts []string
	for i, s := range f.Ranges {
		if i == 12 {
			parts = append(parts, fmt.Sprintf("and %d more ranges", len(f.Ranges)-i))
			break
		}
		parts = append(parts, s.String())
	}
	text := strings.Join(parts, ", ")
	if f.Sheet != "" {
		text = f.Sheet + "!" + text
	}
	if f.Count > 1 {
		text += fmt.Sprintf(" (%d cells)", f.Count)
	}
	return record.Printable(text)
}

// cause says a finding's cause in one line.
func cause(f *check.Finding) string { return causeFrom(f, "") }

// causeOfFirst is cause, with the cell that the sentence is about where there are more.
func causeOfFirst(f *check.Finding) string {
	if f.Count > 1 && len(f.Cells) > 0 {
		return causeFrom(f, "in "+f.Cells[0].At.String()+", ")
	}
	return cause(f)
}

func causeFrom(f *check.Finding, where string) string {
	if f.Cause.Mistake == "" {
		return check.Unexplained
	}
	return record.Printable(f.Cause.Mistake + ": " + where + f.Cause.Says)
}

// summary says how much was checked and found.
func summary(r *check.Result) string {
	cells := 0
	for _, f := range r.Findings {
		cells += f.Count
	}
	found := fmt.Sprintf("%s in %s", counted(len(r.Findings), "finding"), counted(cells, "cell"))
	switch {
	case r.Claims == 0 && len(r.Findings) > 0:
		found = "nothing was checked; " + found
	case r.Claims == 0:
		found = "nothing was checked"
	case len(r.Findings) == 0:
		found = "nothing is wrong with them"
	}
	if n := len(r.Latent); n > 0 {
		found += fmt.Sprintf("; %s that %s not show yet", counted(n, "fault"), map[bool]string{true: "does", false: "do"}[n == 1])
	}
	return fmt.Sprintf("%s, %s compared: %s.", counted(r.Rows, "location"), counted(r.Claims, "claim"), found)
}

// heading names the sheet, and how it was read where that was guessed.
func heading(r *check.Result) string {
	text := r.File
	if r.Title != "" {
		text = r.Title + ", " + r.File
	}
	if r.Encoding != "" {
		text += ", taken for " + r.Encoding
	}
	return record.Printable(text)
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
