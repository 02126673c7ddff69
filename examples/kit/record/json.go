package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
	"sync"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// version is that of the record's form in JSON.
const version = 2

// document is the record as JSON: what is claimed, and what that rests on.
type document struct {
	claims
	job.Grounds
	Digest string `json:"digest"` // of everything before it
}

// claims are what the record says.
type claims struct {
	Closefit   int              `json:"closefit"` // the version of this form
	Title      string           `json:"title"`
	Note       string           `json:"note"`
	Date       string           `json:"date"`
	By         string           `json:"by"`
	Proven     bool             `json:"proven"` // everything that the engine asks for is proven right
	Engine     job.Engine       `json:"engine"`
	Gates      []writtenGate    `json:"gates"`
	Next       []job.Action     `json:"next"`
	Verdicts   []verdict        `json:"verdicts"`
	Groups     []group          `json:"groups"`
	Items      []job.Item       `json:"items"`
	Looked     []job.Looked     `json:"looked"`
	Shells     []job.Shells     `json:"shells"`
	Trial      []job.PlanStep   `json:"trial"`
	Plan       []job.PlanStep   `json:"plan"`
	Tightening []job.Tightening `json:"tightening"`
	Pictures   []job.Picture    `json:"pictures"`
	Films      []job.Film       `json:"films"` // the oil films, where they were asked for
	Cautions   []string         `json:"cautions"`
	Bolts      []job.SaidBolt   `json:"bolts"`
}

// verdict is one fit judged. A bound is a text with its unit, or null if there is
// none; both of measured are null for what was not measured.
type verdict struct {
	Group     string          `json:"group"`
	Location  string          `json:"location"`
	Quantity  string          `json:"quantity"`
	Measured  bounds          `json:"measured"`
	Tolerance bounds          `json:"tolerance"`
	Verdict   measure.Verdict `json:"verdict"`
}

type bounds struct {
	Lo *string `json:"lo"`
	Hi *string `json:"hi"`
}

// group is the verdicts that were judged against the same limits: as many as it has
// readings, in the order of the verdicts.
type group struct {
	Name     string     `json:"name"`
	Quantity string     `json:"quantity"`
	Limits   string     `json:"limits"`
	Remedy   job.Remedy `json:"remedy"`
	Readings []reading  `json:"readings"`
}

// reading says of a verdict how its measurement was got, and what follows.
type reading struct {
	Measured  string         `json:"measured"`  // rounded for reading
	Tolerance string         `json:"tolerance"` // likewise
	Taken     bool           `json:"taken"`
	How       string         `json:"how"`
	Advice    string         `json:"advice"`
	Slip      string         `json:"slip"`
	Remedies  []string       `json:"remedies"`
	Working   *units.Working `json:"working"`
	Drawing   *job.Drawing   `json:"drawing"`
}

func writeJSON(w io.Writer, a *job.Assessment) error {
	pieces, _, err := sealed(a)
	for _, p := range pieces {
		if err == nil {
			_, err = w.Write(p)
		}
	}
	return err
}

// sealed is the document of an assessment with its digest, in pieces, one behind the other. The
// digest is SHA-256 of the text that stands before it, without blanks. It tells a record that was
// altered by accident, or by somebody who did not make a new one; it proves no verdict.
//
// What the verdicts rest on is written beside the rest.
func sealed(a *job.Assessment) (pieces [][]byte, digest string, err error) {
	var grounds [][]byte
	var beside sync.WaitGroup
	beside.Go(func() { grounds = groundsOf(a) })
	claims := fields{make([]byte, 0, largeClaims)}
	claims.text = append(claims.text, "{\n"...)
	d := documentOf(a)
	if err := claims.write(&d.claims); err != nil {
		beside.Wait()
		return nil, "", err
	}
	hash := sha256.New()
	add := func(piece []byte) {
		pieces = append(pieces, piece)
		for line := range bytes.SplitSeq(piece, []byte("\n")) {
			hash.Write(line)
		}
	}
	add(claims.text)
	beside.Wait()
	for _, piece := range grounds {
		add(piece)
	}
	digest = fmt.Sprintf("sha256:%x", hash.Sum(nil))
	return append(pieces, []byte(",\n\"digest\":\""+digest+"\"\n}\n")), digest, nil
}

// largeClaims is how many bytes the claims of a large engine have: see large.
const largeClaims = 1 << 21

// groundsOf are the fields of the grounds, in pieces: their lines are not copied.
func groundsOf(a *job.Assessment) (pieces [][]byte) {
	g := a.Grounds()
	end := "" // of the field before
	for _, f := range []struct {
		key   string
		lines measure.Lines
	}{
		{"instruments", g.Instruments}, {"stated", g.Stated}, {"readings", g.Readings}, {"limits", g.Limits},
	} {
		begin := end + `"` + f.key + `":[`
		if end = "],\n"; len(f.lines) > 0 {
			begin, end = begin+"\n", "\n],\n"
		}
		pieces = append(pieces, []byte(begin), f.lines)
	}
	return append(pieces, []byte(strings.TrimSuffix(end, ",\n")))
}

// fields are the text of some fields of the document, each on a line; of a list, each
// element is on a line.
type fields struct{ text []byte }

// Write is for the encoder, which ends what it writes with a line break.
func (f *fields) Write(encoded []byte) (int, error) {
	f.text = append(f.text, encoded...)
	return len(encoded), nil
}

// write writes the fields of a struct, a comma and a line break after each.
func (f *fields) write(of any) error {
	e := json.NewEncoder(f)
	e.SetEscapeHTML(false)
	value := reflect.ValueOf(of).Elem()
	for _, field := range reflect.VisibleFields(value.Type()) {
		f.text = append(append(append(f.text, '"'), field.Tag.Get("json")...), `":`...)
		if v := value.FieldByIndex(field.Index); v.Kind() == reflect.Slice && v.Len() > 0 {
			f.text = append(f.text, "[\n"...)
			for i := range v.Len() {
				if err := e.Encode(v.Index(i).Addr().Interface()); err != nil {
					return err
				}
				f.text = append(f.text[:len(f.text)-1], ",\n"...)
			}
			f.text = append(f.text[:len(f.text)-2], "\n]"...)
		} else {
			if err := e.Encode(v.Addr().Interface()); err != nil {
				return err
			}
			f.text = f.text[:len(f.text)-1]
		}
		f.text = append(f.text, ",\n"...)
	}
	return nil
}

// documentOf makes the document of an assessment.
func documentOf(a *job.Assessment) document {
	d := document{claims: claims{
		Closefit: version,
		Title:    a.Title, Note: a.Note, Date: a.Date, By: a.By, Proven: a.Proven(), Engine: a.Engine,
		Gates: gates(a), Next: list(a.Next), Verdicts: []verdict{}, Groups: []group{},
		Items: list(a.Items), Looked: list(a.Looked), Shells: list(a.Shells),
		Trial: list(a.Trial), Plan: list(a.Plan), Tightening: list(a.Tightening), Pictures: list(a.Pictures), Films: list(a.Films), Cautions: list(a.Cautions),
		Bolts: list(a.Bolts),
	}}
	for _, g := range a.Groups {
		x := group{Name: g.Name, Quantity: g.Quantity, Limits: g.Limits, Remedy: g.Remedy, Readings: []reading{}}
		for _, f := range g.Findings {
			d.Verdicts = append(d.Verdicts, verdict{f.Group, f.Location, f.Quantity, bounds{f.Measured.Lo, f.Measured.Hi}, bounds{f.Tolerance.Lo, f.Tolerance.Hi}, f.Verdict})
			x.Readings = append(x.Readings, reading{f.Measured.Text, f.Tolerance.Text, f.Taken, f.How, f.Advice, f.Slip, list(f.Remedies), f.Working, f.Drawing})
		}
		d.Groups = append(d.Groups, x)
	}
	return d
}

// list makes an empty list of none, so that JSON has a list in either case.
func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}

// writtenGate is a gate that names its items.
type writtenGate struct {
	Before   job.Phase `json:"before"`
	Open     bool      `json:"open"`
	Proven   int       `json:"proven"`   // how many items are, of those that it asks for
	Shut     []string  `json:"shut"`     // what keeps it shut, worst first
	Accepted []string  `json:"accepted"` // what opens it on somebody's word alone
}

// gates are the gates before every phase.
func gates(a *job.Assessment) []writtenGate {
	var all []writtenGate
	for _, p := range job.Phases() {
		g := a.Gate(p)
		all = append(all, writtenGate{g.Before, g.Open, g.Proven, names(g.Shut), names(g.Accepted)})
	}
	return all
}

func names(items []job.Item) []string {
	list := []string{}
	for _, i := range items {
		list = append(list, i.Name)
	}
	return list
}
