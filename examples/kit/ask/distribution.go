package ask

import (
	"encoding/json"

	"example.com/closefit/clearance/stack"
	"example.com/closefit/units"
)

// A Distribution says how the actual sizes lie within their limits: one of its kinds, which its
// key "kind" names. Who knows nothing more takes the uniform one.
type Distribution struct {
	Even        *Even
	Normal      *Normal
	Trapezoidal *Trapezoidal
	Sample      *Sample
}

// OneOf returns the kinds.
func (Distribution) OneOf() []any { return []any{Even{}, Normal{}, Trapezoidal{}, Sample{}} }

// Even has nothing more to say.
type Even struct {
	Kind evenKind `json:"kind"`
}

// A Normal is a normal distribution, or one that is cut off at the limits.
type Normal struct {
	Kind normalKind    `json:"kind"`
	K    float64       `json:"k"`    // how many standard deviations a limit is from the middle: 3
	Mean *units.Length `json:"mean"` // null for the middle of the limits
}

// A Trapezoidal lies between a uniform and a triangular one.
type Trapezoidal struct {
	Kind trapezoidalKind `json:"kind"`
	Top  float64         `json:"top"` // as a part of the width between the limits
}

// A Sample is what was measured of such parts.
type Sample struct {
	Kind   sampleKind     `json:"kind"`
	Values []units.Length `json:"values"`
}

type (
	evenKind        string
	normalKind      string
	trapezoidalKind string
	sampleKind      string
)

const (
	uniformWord     = "uniform"
	triangularWord  = "triangular"
	arcsineWord     = "arcsine"
	normalWord      = "normal"
	withinWord      = "normal within limits"
	trapezoidalWord = "trapezoidal"
	sampleWord      = "sample"
)

// Words are the words of the kinds.
func (evenKind) Words() []string        { return []string{uniformWord, triangularWord, arcsineWord} }
func (normalKind) Words() []string      { return []string{normalWord, withinWord} }
func (trapezoidalKind) Words() []string { return []string{trapezoidalWord} }
func (sampleKind) Words() []string      { return []string{sampleWord} }

func (k *evenKind) UnmarshalText(text []byte) error        { return word(k, text, "kind") }
func (k *normalKind) UnmarshalText(text []byte) error      { return word(k, text, "kind") }
func (k *trapezoidalKind) UnmarshalText(text []byte) error { return word(k, text, "kind") }
func (k *sampleKind) UnmarshalText(text []byte) error      { return word(k, text, "kind") }

// UnmarshalJSON reads the kind, and then what belongs to it.
func (d *Distribution) UnmarshalJSON(data []byte) error {
	var fresh Distribution
	err := union(data, "Distribution",
		member{evenKind("").Words(), func() any { fresh.Even = new(Even); return fresh.Even }},
		member{normalKind("").Words(), func() any { fresh.Normal = new(Normal); return fresh.Normal }},
		member{trapezoidalKind("").Words(), func() any { fresh.Trapezoidal = new(Trapezoidal); return fresh.Trapezoidal }},
		member{sampleKind("").Words(), func() any { fresh.Sample = new(Sample); return fresh.Sample }})
	if err == nil {
		*d = fresh
	}
	return err
}

// MarshalJSON writes the one that there is.
func (d Distribution) MarshalJSON() ([]byte, error) {
	switch {
	case d.Even != nil:
		return json.Marshal(d.Even)
	case d.Normal != nil:
		return json.Marshal(d.Normal)
	case d.Trapezoidal != nil:
		return json.Marshal(d.Trapezoidal)
	case d.Sample != nil:
		return json.Marshal(d.Sample)
	}
	return nil, wrong("Distribution", "none", "fill in one of its kinds")
}

// made returns the library's.
func (d Distribution) made() stack.Distribution {
	switch {
	case d.Even != nil && d.Even.Kind == triangularWord:
		return stack.Triangular()
	case d.Even != nil && d.Even.Kind == arcsineWord:
		return stack.Arcsine()
	case d.Even != nil:
		return stack.Uniform()
	case d.Normal != nil:
		n := stack.Normal(d.Normal.K)
		if d.Normal.Kind == withinWord {
			n = stack.NormalWithin(d.Normal.K)
		}
		if d.Normal.Mean != nil {
			n = n.About(*d.Normal.Mean)
		}
		return n
	case d.Trapezoidal != nil:
		return stack.Trapezoidal(d.Trapezoidal.Top)
	case d.Sample != nil:
		return stack.Sample(d.Sample.Values...)
	}
	return stack.Distribution{}
}
