package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// version is that of the record's form in JSON.
const version = 1

// document is the record as JSON.
type document struct {
	Closefit   int              `json:"closefit"` // the version of this form
	Title      string           `json:"title"`
	Note       string           `json:"note"`
	Date       string           `json:"date"`
	By         string           `json:"by"`
	Proven     bool             `json:"proven"` // everything that the engine asks for is proven right
	Engine     job.Engine       `json:"engine"`
	Gates      []job.Gate       `json:"gates"`
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
	Readings   job.Basis        `json:"readings"` // what was read, word for word
	Bolts      []job.SaidBolt   `json:"bolts"`
	Digest     string           `json:"digest"` // of everything before it
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
	Basis     job.Basis      `json:"rests_on"` // what the verdict rests on
}

func writeJSON(w io.Writer, a *job.Assessment) error {
	text, _, err := sealed(documentOf(a))
	if err != nil {
		return err
	}
	_, err = w.Write(indented(text))
	return err
}

// sealed is a document as JSON without blanks, with its digest: SHA-256 of the text that
// stands before the digest. It tells a record that was altered by accident, or by somebody
// who did not make a new one; it proves no verdict.
func sealed(d document) (text []byte, digest string, err error) {
	const key = `,"digest":"`
	d.Digest = ""
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(d); err != nil {
		return nil, "", err
	}
	text = bytes.TrimSuffix(b.Bytes(), []byte(key+"\"}\n"))
	digest = fmt.Sprintf("sha256:%x", sha256.Sum256(text))
	return append(text, key+digest+"\"}\n"...), digest, nil
}

// indented is json.Indent with two spaces, for what an encoder wrote: it does not
// look for faults again. An act of reading stands on one line, and so do conditions and
// bounds of readings, of which a record has thousands.
func indented(compact []byte) []byte {
	text := make([]byte, 0, 2*len(compact))
	deep := 0
	line := func() {
		text = append(text, '\n')
		for range deep {
			text = append(text, "  "...)
		}
	}
	for i := 0; i < len(compact); i++ {
		c := compact[i]
		switch c {
		case '"':
			from := i
			for i++; compact[i] != '"'; i++ {
				if compact[i] == '\\' {
					i++
				}
			}
			text = append(text, compact[from:i+1]...)
		case '{', '[':
			text = append(text, c)
			if next := compact[i+1]; next == '}' || next == ']' {
				i++
				text = append(text, next)
				continue
			}
			deep++
			line()
		case '}', ']':
			deep--
			line()
			text = append(text, c)
		case ',':
			text = append(text, c)
			line()
		case ':':
			acts, short := keyBefore(text)
			text = append(text, ": "...)
			switch {
			case short:
				end := ended(compact, i+1)
				text = append(text, compact[i+1:end]...)
				i = end - 1
			case acts && compact[i+1] == '[' && compact[i+2] != ']':
				text = append(text, '[')
				deep++
				for i += 2; ; i++ {
					line()
					end := ended(compact, i)
					text = append(text, compact[i:end]...)
					if i = end; compact[i] == ']' {
						break
					}
					text = append(text, ',')
				}
				deep--
				line()
				text = append(text, ']')
			}
		default:
			text = append(text, c)
		}
	}
	return text
}

// keyBefore reports whether a text ends with the key of a list of acts, or with one whose
// value stands on one line.
func keyBefore(text []byte) (acts, short bool) {
	for _, key := range []string{`"needs"`, `"conditions"`, `"bracket"`, `"limits"`, `"shows"`, `"claims"`} {
		if bytes.HasSuffix(text, []byte(key)) {
			return false, true
		}
	}
	return bytes.HasSuffix(text, []byte(`"acts"`)), false
}

// ended is where a value ends that begins at a place.
func ended(compact []byte, at int) int {
	deep := 0
	for i := at; ; i++ {
		switch compact[i] {
		case '"':
			for i++; compact[i] != '"'; i++ {
				if compact[i] == '\\' {
					i++
				}
			}
		case '{', '[':
			deep++
		case '}', ']':
			deep--
		case ',':
			if deep == 0 {
				return i
			}
			continue
		default:
			continue
		}
		if deep < 0 {
			return i
		}
		if deep == 0 {
			return i + 1
		}
	}
}

// documentOf makes the document of an assessment.
func documentOf(a *job.Assessment) document {
	d := document{
		Closefit: version,
		Title:    a.Title, Note: a.Note, Date: a.Date, By: a.By, Proven: a.Proven(), Engine: a.Engine,
		Gates: gates(a), Next: list(a.Next), Verdicts: []verdict{}, Groups: []group{},
		Items: list(a.Items), Looked: list(a.Looked), Shells: list(a.Shells),
		Trial: list(a.Trial), Plan: list(a.Plan), Tightening: list(a.Tightening), Pictures: list(a.Pictures), Films: list(a.Films), Cautions: list(a.Cautions),
		Readings: a.Typed, Bolts: list(a.Bolts),
	}
	for _, g := range a.Groups {
		x := group{Name: g.Name, Quantity: g.Quantity, Limits: g.Limits, Remedy: g.Remedy, Readings: []reading{}}
		for _, f := range g.Findings {
			d.Verdicts = append(d.Verdicts, verdict{f.Group, f.Location, f.Quantity, bounds{f.Measured.Lo, f.Measured.Hi}, bounds{f.Tolerance.Lo, f.Tolerance.Hi}, f.Verdict})
			x.Readings = append(x.Readings, reading{f.Measured.Text, f.Tolerance.Text, f.Taken, f.How, f.Advice, f.Slip, list(f.Remedies), f.Working, f.Drawing, f.Basis})
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

// gates are the gates before every phase.
func gates(a *job.Assessment) []job.Gate {
	var all []job.Gate
	for _, p := range job.Phases() {
		all = append(all, a.Gate(p))
	}
	return all
}
