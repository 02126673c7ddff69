package ask

import (
	"context"
	"errors"
	"slices"

	"example.com/closefit/grading"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// An Assign asks which shells belong into each location: by the codes stamped on both sides,
// by the sizes that were measured, or by both, which are then compared.
type Assign struct {
	Scheme grading.Scheme `json:"scheme"`
	Family *string        `json:"family"` // of a scheme with undersize families: the one that the crank is ground to, "standard" if it is not; null for a scheme without
	Unit   string         `json:"unit"`   // of the working: "mm"
	Codes  *Codes         `json:"codes"`  // null if there are none
	Sites  []grading.Site `json:"sites"`  // the measured sizes; empty if there are none
}

// Codes are the rows of both sides.
type Codes struct {
	Locations []string `json:"locations"` // in the order in which the engine numbers them
	Housing   CodeRow  `json:"housing"`
	Journal   CodeRow  `json:"journal"`
}

// A CodeRow is a row of codes as it is stamped.
type CodeRow struct {
	Text    string  `json:"text"`    // "ABBAC", "12-11-?-12"
	From    *string `json:"from"`    // the first or the last location, to which its first code belongs; null if that is not known
	Mark    *string `json:"mark"`    // a mark that the manual shows at one end of the row, or null
	MarkAt  *string `json:"mark_at"` // the location at that end, or null
	Upright bool    `json:"upright"` // known to be read the right way up
	Ground  *string `json:"ground"`  // the undersize family of a crank whose codes were stamped after it was ground, or null
}

// Assigned is the answer to Assign.
type Assigned struct {
	Places []Place  `json:"places"`
	Ask    []string `json:"ask"` // what to look at, where a row can be read in more ways than one

	// Parts is what all locations call for together, as a Buy needs it: by codes, where they
	// leave one pair, else the nearest fit by sizes. It is null while any location is open.
	Parts []PartCount `json:"parts" null:"meant"`
}

// A Place is one location.
type Place struct {
	Location string          `json:"location"`
	Coded    *Coded          `json:"coded"`              // what the codes call for; null without codes
	Sized    []Fit           `json:"sized" null:"meant"` // what the sizes allow, proven inside the limits, the nearest to the wanted clearance first; null without sizes
	Agree    *bool           `json:"agree"`              // codes and sizes say the same; null unless there are both
	Notes    []string        `json:"notes"`
	Nearest  *Fit            `json:"nearest"` // of sizes that nothing is proven to fit: the nearest, which does not
	Working  []units.Working `json:"working"` // of the clearance with the pair that is taken; empty without sizes
}

// Coded is what the codes of one location call for.
type Coded struct {
	Housing []string       `json:"housing"` // the codes that are possible
	Journal []string       `json:"journal"`
	Pairs   []grading.Pair `json:"pairs"` // one; several while a code is open
	Why     []string       `json:"why"`   // which codes leave several, and how to tell
}

// A Fit is a pair with the clearance that it gives.
type Fit struct {
	Upper     grading.Part    `json:"upper"`
	Lower     grading.Part    `json:"lower"`
	Clearance Bounds          `json:"clearance"`
	Verdict   measure.Verdict `json:"verdict"`
	Off       units.Length    `json:"off"` // from the wanted clearance
}

// A PartCount is a number of one part.
type PartCount struct {
	Part grading.Part `json:"part"`
	N    int          `json:"n"`
}

// The most that an Assign may have.
const (
	maxLocations = 100
	maxCodes     = 200 // of one side
	maxShells    = 200
	maxFamilies  = 20
	maxFits      = 20 // shown of one location
)

func assigning(_ context.Context, q Assign) (a Assigned, err error) {
	unit, err := units.Parse[units.LengthUnit](q.Unit)
	if err != nil {
		return a, at(err, `Assign, "unit"`)
	}
	s := &q.Scheme
	bounds := []error{few(`Assign, "sites"`, len(q.Sites), maxLocations), few(`Assign, "scheme", "housing"`, len(s.Housing), maxCodes), few(`Assign, "scheme", "journal"`, len(s.Journal), maxCodes),
		few(`Assign, "scheme", "matrix"`, len(s.Matrix), maxCodes+1), few(`Assign, "scheme", "sum"`, len(s.Sums), maxCodes), few(`Assign, "scheme", "shell"`, len(s.Shells), maxShells), few(`Assign, "scheme", "family"`, len(s.Families), maxFamilies)}
	for _, row := range s.Matrix {
		bounds = append(bounds, few(`Assign, "scheme", "matrix", a row`, len(row), maxCodes+1))
	}
	if q.Codes != nil {
		bounds = append(bounds, few(`Assign, "codes", "locations"`, len(q.Codes.Locations), maxLocations))
	}
	if err := errors.Join(bounds...); err != nil {
		return a, err
	}
	if q.Family != nil {
		if s, err = s.InFamily(*q.Family); err != nil {
			return a, at(err, `Assign, "family"`)
		}
	}
	var places []Place
	switch {
	case q.Codes == nil && len(q.Sites) == 0:
		return a, wrong("Assign", "neither codes nor sites", "give the codes, the sizes, or both")
	case q.Codes == nil:
		places, err = bySizes(s, q.Sites, unit)
	default:
		places, a.Ask, err = byCodes(s, *q.Codes, q.Sites, unit)
	}
	if err != nil {
		return a, err
	}
	a.Places = places
	a.Parts = partsOf(places)
	for i := range a.Places {
		p := &a.Places[i]
		if pair, ok := p.pair(); ok {
			if at := slices.IndexFunc(q.Sites, func(x grading.Site) bool { return x.Location == p.Location }); at >= 0 {
				w, err := s.Working(q.Sites[at], pair, unit)
				if err != nil {
					return a, err
				}
				p.Working = []units.Working{w}
			}
		}
	}
	return a, nil
}

// bySizes takes each site by itself, so that one without a fit does not hide the others.
func bySizes(s *grading.Scheme, sites []grading.Site, unit units.LengthUnit) ([]Place, error) {
	var places []Place
	for _, site := range sites {
		p := Place{Location: site.Location, Sized: []Fit{}}
		fits, err := s.Fits([]grading.Site{site})
		switch {
		case errors.Is(err, grading.ErrNoFit):
			p.Notes = append(p.Notes, err.Error())
		case err != nil:
			return nil, err
		default:
			p.Sized = fitsOf(fits[0], unit)
		}
		places = append(places, p)
	}
	return places, nil
}

func byCodes(s *grading.Scheme, c Codes, sites []grading.Site, unit units.LengthUnit) (places []Place, ask []string, err error) {
	housing, err := c.Housing.read(s, grading.Housing, c.Locations)
	if err != nil {
		return nil, nil, at(err, `Assign, "codes", "housing"`)
	}
	journal, err := c.Journal.read(s, grading.Journal, c.Locations)
	if err != nil {
		return nil, nil, at(err, `Assign, "codes", "journal"`)
	}
	for _, r := range []grading.RowReading{housing, journal} {
		if question := r.Question(); question != "" {
			ask = append(ask, question)
		}
	}
	if len(sites) == 0 {
		assigned, err := s.Assign(housing, journal)
		if err != nil {
			return nil, nil, err
		}
		for _, a := range assigned {
			places = append(places, Place{Location: a.Location, Coded: codedOf(a)})
		}
		return places, ask, nil
	}
	compared, err := s.Compare(housing, journal, sites)
	if err != nil {
		return nil, nil, err
	}
	for _, c := range compared {
		p := Place{Location: c.Site.Location, Coded: codedOf(c.Assigned), Sized: fitsOf(c.Sized, unit), Agree: ptr(c.Agree), Notes: c.Notes}
		if len(p.Sized) == 0 && len(c.Coded) > 0 {
			p.Nearest = ptr(fitsOf(c.Coded, unit)[0])
		}
		places = append(places, p)
	}
	return places, ask, nil
}

// read reads the row with the scheme's codes.
func (r CodeRow) read(s *grading.Scheme, side grading.Side, locations []string) (grading.RowReading, error) {
	text := func(p *string) string {
		if p == nil {
			return ""
		}
		return *p
	}
	row := grading.Row{Text: r.Text, Side: side, Locations: locations, From: text(r.From), Mark: text(r.Mark), MarkAt: text(r.MarkAt), Upright: r.Upright, Ground: text(r.Ground), Codes: s.Codes(side)}
	return row.Read()
}

func codedOf(a grading.Assignment) *Coded {
	return &Coded{Housing: a.Housing.Possible, Journal: a.Journal.Possible, Pairs: a.Pairs, Why: a.Why}
}

func fitsOf(fits []grading.PairFit, unit units.LengthUnit) []Fit {
	list := []Fit{}
	for _, f := range fits[:min(len(fits), maxFits)] {
		list = append(list, Fit{Upper: f.Pair.Upper, Lower: f.Pair.Lower, Clearance: exactly(f.Clearance, unit), Verdict: f.Verdict, Off: f.Off})
	}
	return list
}

// pair returns the one pair of a location: that of its codes, else the nearest by its sizes.
func (p Place) pair() (pair grading.Pair, ok bool) {
	switch {
	case p.Coded != nil && len(p.Coded.Pairs) == 1:
		return p.Coded.Pairs[0], true
	case p.Coded == nil && len(p.Sized) > 0:
		return grading.Pair{Upper: p.Sized[0].Upper, Lower: p.Sized[0].Lower}, true
	}
	return pair, false
}

func partsOf(places []Place) []PartCount {
	var parts []PartCount
	for _, p := range places {
		pair, ok := p.pair()
		if !ok {
			return nil
		}
		for _, part := range []grading.Part{pair.Upper, pair.Lower} {
			i := slices.IndexFunc(parts, func(c PartCount) bool { return c.Part == part })
			if i < 0 {
				i = len(parts)
				parts = append(parts, PartCount{Part: part})
			}
			parts[i].N++
		}
	}
	return parts
}
