package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/units"
)

// ErrRecord is the kind of error of a text that is no record in JSON.
var ErrRecord = errors.New("not a record in JSON")

// largest is how many bytes a record may have: more than ten times the largest engine's.
const largest = 64 << 20

// Read reads a record that Write wrote as JSON. The record made of what it returns is the
// same record, in every form. A key that is missing or unknown is an error, and so are
// gates and a word on the whole that do not follow from the items, and a digest that is not
// that of the rest.
func Read(r io.Reader) (*job.Assessment, error) { return read(r, true) }

// read is Read, with the digest checked or not.
func read(r io.Reader, check bool) (*job.Assessment, error) {
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return nil, err
	}
	if len(data) > largest {
		return nil, wrong(fmt.Sprintf("more than %d bytes", largest), "read a file that shortblock -format json wrote")
	}
	var v struct {
		Closefit *int `json:"closefit"`
	}
	if err := json.Unmarshal(data, &v); err != nil {
		return nil, wrong(err.Error(), "read a file that shortblock -format json wrote")
	}
	if v.Closefit == nil || *v.Closefit != version {
		return nil, wrong(`"closefit" is not 2`, "read a file that this version of shortblock -format json wrote")
	}
	var d document
	if err := units.DecodeObject(data, &d); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrRecord, err)
	}
	a, err := d.assessment()
	if err != nil {
		return nil, err
	}
	_, digest, err := sealed(a)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrRecord, err)
	}
	if check && d.Digest != digest {
		return nil, wrong("a digest that is not that of the record", "read the record as it was written: something in it was altered since")
	}
	return a, nil
}

func wrong(found, fix string) error { return &units.Error{Kind: ErrRecord, Found: found, Fix: fix} }

// assessment makes the assessment of a document again.
func (d document) assessment() (*job.Assessment, error) {
	a := &job.Assessment{
		Title: d.Title, Note: d.Note, Date: d.Date, By: d.By, Engine: d.Engine, Looked: d.Looked, Shells: d.Shells,
		Items: d.Items, Trial: d.Trial, Plan: d.Plan, Tightening: d.Tightening, Pictures: d.Pictures, Films: d.Films, Next: d.Next, Cautions: d.Cautions,
		Bolts: d.Bolts, Read: &d.Grounds,
	}
	if d.Limits.Len() != len(d.Verdicts) {
		return nil, wrong(fmt.Sprintf("%d verdicts, and limits of %d", len(d.Verdicts), d.Limits.Len()), "keep both")
	}
	verdicts := d.Verdicts
	for _, x := range d.Groups {
		g := job.Group{Name: x.Name, Quantity: x.Quantity, Limits: x.Limits, Remedy: x.Remedy}
		if len(x.Readings) > len(verdicts) {
			return nil, wrong(fmt.Sprintf("%d verdicts, and more readings than that", len(d.Verdicts)), "keep both")
		}
		for i, r := range x.Readings {
			v := verdicts[i]
			if v.Group != x.Name || v.Quantity != x.Quantity {
				return nil, wrong(fmt.Sprintf("a verdict on %s %s among those of %s %s", v.Group, v.Quantity, x.Name, x.Quantity), "keep the order of the verdicts")
			}
			g.Findings = append(g.Findings, job.Finding{
				Group: v.Group, Location: v.Location, Quantity: v.Quantity,
				Measured: job.Range{Lo: v.Measured.Lo, Hi: v.Measured.Hi, Text: r.Measured}, Tolerance: job.Range{Lo: v.Tolerance.Lo, Hi: v.Tolerance.Hi, Text: r.Tolerance},
				Verdict: v.Verdict, Taken: r.Taken, How: r.How, Advice: r.Advice, Slip: r.Slip, Remedies: r.Remedies, Working: r.Working, Drawing: r.Drawing,
			})
		}
		verdicts = verdicts[len(x.Readings):]
		a.Groups = append(a.Groups, g)
	}
	if len(verdicts) > 0 {
		return nil, wrong(fmt.Sprintf("%d verdicts without a reading", len(verdicts)), "keep both")
	}
	for _, t := range d.Tightening {
		if len(t.Stages) == 0 || len(t.Bolts) == 0 {
			return nil, wrong(fmt.Sprintf("the tightening of %q has no stage or no bolt", t.Group), "keep both")
		}
		for _, b := range t.Bolts {
			if math.Abs(b.X) > farthest || math.Abs(b.Y) > farthest {
				return nil, wrong(fmt.Sprintf("bolt %q stands %g mm and %g mm away", b.Name, b.X, b.Y), fmt.Sprintf("keep within %g mm", farthest))
			}
		}
	}
	if d.Proven != a.Proven() || !reflect.DeepEqual(d.Gates, gates(a)) {
		return nil, wrong("gates that do not follow from its items", "leave both as they were written")
	}
	return a, nil
}

// farthest is how far a bolt may stand from where its pattern begins, in millimetres.
const farthest = 1e6
