package record

import (
	"encoding/json"
	"io"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units/measure"
)

// document is the record as JSON.
type document struct {
	Title    string         `json:"title"`
	Note     string         `json:"note,omitempty"`
	Date     string         `json:"date,omitempty"`
	By       string         `json:"by,omitempty"`
	Verdicts []verdict      `json:"verdicts"`
	Readings []reading      `json:"readings"`
	Looked   []job.Looked   `json:"looked"`
	Shells   []job.Shells   `json:"shells"`
	Plan     []job.PlanStep `json:"plan"`
	Gates    []job.Gate     `json:"gates"`
	Next     []job.Action   `json:"next"`
	Cautions []string       `json:"cautions"`
	Proven   bool           `json:"proven"` // everything asked about is proven right
}

// verdict is one fit judged. A bound is a text with its unit, or null if there is
// none; both of measured are null for what was not measured.
type verdict struct {
	Group     string          `json:"group"`
	Location  string          `json:"location"`
	Quantity  string          `json:"quantity"`
	Measured  job.Range       `json:"measured"`
	Tolerance job.Range       `json:"tolerance"`
	Verdict   measure.Verdict `json:"verdict"`
}

// reading says of the verdict at the same index how its measurement was got, and
// what follows.
type reading struct {
	How      string   `json:"how"`
	Advice   string   `json:"advice,omitempty"`
	Slip     string   `json:"slip,omitempty"`
	Remedies []string `json:"remedies,omitempty"`
	Working  string   `json:"working,omitempty"`
}

func writeJSON(w io.Writer, a *job.Assessment) error {
	d := document{
		Title: a.Title, Note: a.Note, Date: a.Date, By: a.By,
		Verdicts: []verdict{}, Readings: []reading{},
		Looked: list(a.Looked), Shells: list(a.Shells), Plan: list(a.Plan), Gates: gates(a), Next: list(a.Next), Cautions: a.Cautions,
		Proven: a.Proven(),
	}
	for _, f := range a.Verdicts() {
		d.Verdicts = append(d.Verdicts, verdict{f.Group, f.Location, f.Quantity, f.Measured, f.Tolerance, f.Verdict})
		r := reading{How: f.How, Advice: f.Advice, Slip: f.Slip, Remedies: f.Remedies}
		if f.Working != nil {
			r.Working = f.Working.Text()
		}
		d.Readings = append(d.Readings, r)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(d)
}

// list makes an empty list of none, so that JSON has a list in either case.
func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}

// gates are the gates before every phase.
func gates(a *job.Assessment) []job.Gate {
	var all []job.Gate
	for _, p := range job.Phases() {
		all = append(all, a.Gate(p))
	}
	return all
}
