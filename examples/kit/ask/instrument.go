package ask

import (
	"encoding/json"
	"fmt"
	"strings"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
	"github.com/shopspring/decimal"
)

// An Instrument is what something was read with: one of its kinds, which its key "kind" names.
type Instrument struct {
	Gauge        *Gauge
	SettingPiece *SettingPiece
	CrushStrip   *CrushStrip
	FeelerBlades *FeelerBlades
}

// OneOf returns the kinds.
func (Instrument) OneOf() []any { return []any{Gauge{}, SettingPiece{}, CrushStrip{}, FeelerBlades{}} }

// A Gauge shows a value: a micrometer, a bore gauge, a dial, a caliper, a scale, a pressure gauge.
type Gauge struct {
	Kind         gaugeKind        `json:"kind"`
	Name         string           `json:"name"`           // readings by one name share its error
	Uncertainty  *string          `json:"uncertainty"`    // the expanded one, "0.004 mm", as its certificate states it; null if only a limit of error is known
	Repeats      *string          `json:"repeats"`        // the part of it that is new in each reading; null if it is not known
	Common       *string          `json:"common"`         // the part that is the same in every reading, expanded; with repeats in place of uncertainty, or null
	K            *decimal.Decimal `json:"k"`              // the coverage factor, "2"; null for 2
	Freedom      *int             `json:"freedom"`        // degrees of freedom; null if none are stated
	LimitOfError *string          `json:"limit_of_error"` // that its maker promises; null if none
	SetOn        *string          `json:"set_on"`         // the name of the instrument or the setting piece that it was set on, or null
}

// A SettingPiece is a ring or a rod that gauges are set on.
type SettingPiece struct {
	Kind        pieceKind        `json:"kind"`
	Name        string           `json:"name"`
	Uncertainty string           `json:"uncertainty"` // of its size, expanded
	K           *decimal.Decimal `json:"k"`
	Freedom     *int             `json:"freedom"`
}

// A CrushStrip is compared with the printed widths. Prints are the clearances beside them.
type CrushStrip struct {
	Kind      stripKind `json:"kind"`
	Name      string    `json:"name"`
	Prints    []string  `json:"prints"`    // "0.025 mm", smallest first
	Tolerance *string   `json:"tolerance"` // how far a print may be off; null takes it as exact
	Batch     *string   `json:"batch"`     // of strips that share that error; null if each has its own
}

// FeelerBlades are a set of blades. A set is one instrument wherever its name stands.
type FeelerBlades struct {
	Kind      bladesKind `json:"kind"`
	Name      string     `json:"name"`
	Blades    []string   `json:"blades"`    // thinnest first
	Tolerance *string    `json:"tolerance"` // how far a blade may be off its mark; null takes it as exact
}

type (
	gaugeKind  string
	pieceKind  string
	stripKind  string
	bladesKind string
)

const (
	gaugeWord  = "gauge"
	pieceWord  = "setting piece"
	stripWord  = "crush strip"
	bladesWord = "feeler blades"
)

// Words are the words of the kinds, each of one.
func (gaugeKind) Words() []string  { return []string{gaugeWord} }
func (pieceKind) Words() []string  { return []string{pieceWord} }
func (stripKind) Words() []string  { return []string{stripWord} }
func (bladesKind) Words() []string { return []string{bladesWord} }

func (k *gaugeKind) UnmarshalText(text []byte) error  { return word(k, text, "kind") }
func (k *pieceKind) UnmarshalText(text []byte) error  { return word(k, text, "kind") }
func (k *stripKind) UnmarshalText(text []byte) error  { return word(k, text, "kind") }
func (k *bladesKind) UnmarshalText(text []byte) error { return word(k, text, "kind") }

// UnmarshalJSON reads the kind, and then what belongs to it.
func (in *Instrument) UnmarshalJSON(data []byte) error {
	var fresh Instrument
	err := union(data, "Instrument",
		member{gaugeKind("").Words(), func() any { fresh.Gauge = new(Gauge); return fresh.Gauge }},
		member{pieceKind("").Words(), func() any { fresh.SettingPiece = new(SettingPiece); return fresh.SettingPiece }},
		member{stripKind("").Words(), func() any { fresh.CrushStrip = new(CrushStrip); return fresh.CrushStrip }},
		member{bladesKind("").Words(), func() any { fresh.FeelerBlades = new(FeelerBlades); return fresh.FeelerBlades }})
	if err == nil {
		*in = fresh
	}
	return err
}

// MarshalJSON writes the one that there is.
func (in Instrument) MarshalJSON() ([]byte, error) {
	switch {
	case in.Gauge != nil:
		return json.Marshal(in.Gauge)
	case in.SettingPiece != nil:
		return json.Marshal(in.SettingPiece)
	case in.CrushStrip != nil:
		return json.Marshal(in.CrushStrip)
	case in.FeelerBlades != nil:
		return json.Marshal(in.FeelerBlades)
	}
	return nil, wrong("Instrument", "none", "fill in one of its kinds")
}

func (in Instrument) name() string {
	switch {
	case in.Gauge != nil:
		return in.Gauge.Name
	case in.SettingPiece != nil:
		return in.SettingPiece.Name
	case in.CrushStrip != nil:
		return in.CrushStrip.Name
	case in.FeelerBlades != nil:
		return in.FeelerBlades.Name
	}
	return ""
}

// instruments read for one request.
type instruments[D units.Dimension] struct {
	all  []Instrument
	made map[string]*measure.Instrument[D]
	open []string // those that are being set, for a circle
}

func newInstruments[D units.Dimension](all []Instrument) (*instruments[D], error) {
	seen := map[string]bool{}
	for i, in := range all {
		where := fmt.Sprintf(`Judge, "instruments", number %d, "name"`, i+1)
		switch name := in.name(); {
		case strings.TrimSpace(name) == "":
			return nil, wrong(where, "no name", "write one: readings name their instrument by it")
		case seen[name]:
			return nil, wrong(where, shortened(name)+" twice", "give each instrument its own name")
		default:
			seen[name] = true
		}
	}
	return &instruments[D]{all: all, made: map[string]*measure.Instrument[D]{}}, nil
}

// find returns an instrument and where it stands.
func (s *instruments[D]) find(where, name string) (Instrument, string, error) {
	var names []string
	for i, in := range s.all {
		if in.name() == name {
			return in, fmt.Sprintf(`Judge, "instruments", number %d`, i+1), nil
		}
		names = append(names, in.name())
	}
	if len(names) == 0 {
		return Instrument{}, "", wrong(where, shortened(name), "list it under instruments")
	}
	return Instrument{}, "", wrong(where, shortened(name), "name one of "+shorten(strings.Join(names, ", "), 200)+", or list it under instruments")
}

func shorten(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

// gauge makes what shows a value.
func (s *instruments[D]) gauge(where, name string) (*measure.Instrument[D], error) {
	if made := s.made[name]; made != nil {
		return made, nil
	}
	in, place, err := s.find(where, name)
	if err != nil {
		return nil, err
	}
	m := &measure.Instrument[D]{Name: name}
	figure := func(key string, text *string, into *units.Quantity[D]) {
		if text == nil || err != nil {
			return
		}
		if *into, err = units.Parse[units.Quantity[D]](*text); err == nil && into.Sign() < 0 {
			err = &units.Error{Kind: measure.ErrNotPositive, Found: *text, Fix: "write how far it may be off to either side, as in 0.003 mm"}
		}
		err = at(err, "%s, %q", place, key)
	}
	factors := func(k *decimal.Decimal, freedom *int) {
		if k != nil {
			if m.K = *k; err == nil && k.Sign() <= 0 {
				err = wrong(place+`, "k"`, k.String(), "write a coverage factor above zero, such as 2")
			}
		}
		if freedom != nil {
			if m.Freedom = *freedom; err == nil && *freedom < 1 {
				err = wrong(place+`, "freedom"`, fmt.Sprint(*freedom), "write one or more, or null")
			}
		}
	}
	switch {
	case in.SettingPiece != nil: // one error, whatever is set on it
		figure("uncertainty", &in.SettingPiece.Uncertainty, &m.Common)
		factors(in.SettingPiece.K, in.SettingPiece.Freedom)
	case in.Gauge != nil:
		figure("uncertainty", in.Gauge.Uncertainty, &m.Uncertainty)
		figure("repeats", in.Gauge.Repeats, &m.Repeats)
		figure("limit_of_error", in.Gauge.LimitOfError, &m.LimitOfError)
		factors(in.Gauge.K, in.Gauge.Freedom)
		figure("common", in.Gauge.Common, &m.Common)
		switch {
		case err != nil:
		case in.Gauge.Common != nil && (in.Gauge.Uncertainty != nil || in.Gauge.Repeats == nil):
			return nil, wrong(place+`, "common"`, *in.Gauge.Common+" beside uncertainty, or without repeats", "write common and repeats, or uncertainty and what repeats of it, and null for the other")
		case in.Gauge.Common != nil:
		case in.Gauge.Repeats != nil:
			if in.Gauge.Uncertainty == nil {
				return nil, wrong(place+`, "uncertainty"`, "null with repeats", "write the whole uncertainty, of which repeats is a part; or what is common under common")
			}
			m.Common, err = measure.Split(m.Uncertainty, m.Repeats)
			m.Uncertainty = units.Quantity[D]{}
			err = at(err, `%s, "repeats"`, place)
		}
		if err == nil && in.Gauge.SetOn != nil {
			m.SetOn, err = s.setting(place, name, *in.Gauge.SetOn)
		}
	default:
		return nil, wrong(where, shortened(name), "name a gauge, which shows a value, or write the reading as for strips and blades")
	}
	if err == nil {
		err = at(m.Check(), "%s", place)
	}
	if err != nil {
		return nil, err
	}
	s.made[name] = m
	return m, nil
}

// setting returns the act of setting an instrument on another, or on a piece.
func (s *instruments[D]) setting(place, name, on string) (r measure.Reading[D], err error) {
	where := place + `, "set_on"`
	for _, waiting := range append(s.open, name) {
		if waiting == on {
			return r, wrong(where, shortened(on)+", which is set on this one", "set one of them on something else")
		}
	}
	s.open = append(s.open, name)
	master, err := s.gauge(where, on)
	s.open = s.open[:len(s.open)-1]
	if err != nil {
		return r, err
	}
	in, _, err := s.find(where, on)
	if err != nil {
		return r, err
	}
	what := "setting of " + name
	if in.SettingPiece != nil {
		what = on // one piece, whatever is set on it
	}
	r, err = master.Indicate(what, units.Quantity[D]{})
	return r, at(err, "%s", where)
}
