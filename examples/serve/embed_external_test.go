package main_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"

	"example.com/closefit/clearance"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// Asked is the body of a request. Quantities are texts with a unit, and units reads them.
type Asked struct {
	Bore    units.Length         `json:"bore"` // of the bush, pressed in
	Journal units.Length         `json:"journal"`
	Limits  units.LengthInterval `json:"limits"`
}

// Shop holds what the service knows and no request says: how good its instruments are.
type Shop struct{ gauge, micrometer measure.LengthInstrument }

func (s Shop) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	text, err := io.ReadAll(http.MaxBytesReader(w, r.Body, 4096)) // parsing is bounded by itself; reading is not
	if err != nil {
		http.Error(w, err.Error(), http.StatusRequestEntityTooLarge)
		return
	}
	var a Asked
	if err := units.DecodeObject(text, &a); err != nil { // a missing, unknown or doubled key is an error
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	bore, err1 := s.gauge.Read("bore", a.Bore)
	journal, err2 := s.micrometer.Read("journal", a.Journal)
	if err := errors.Join(err1, err2); err != nil {
		http.Error(w, err.Error(), http.StatusUnprocessableEntity)
		return
	}
	fit := clearance.BoreFit("bush, running clearance", bore, journal)
	found := fit.Assess(a.Limits)
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(map[string]any{ // whoever asked may be gone
		"verdict": found.Verdict, "measured": found.Reading.Interval().FormatOutward(units.Millimetre, 4),
	})
}

func Example_embedding() {
	server := httptest.NewServer(Shop{
		gauge:      measure.LengthInstrument{Name: "bore gauge", Uncertainty: units.MustParseLength("0.003 mm")},
		micrometer: measure.LengthInstrument{Name: "micrometer", Uncertainty: units.MustParseLength("0.002 mm")},
	})
	defer server.Close()
	for _, body := range []string{
		`{"bore": "48.014 mm", "journal": "47.973 mm", "limits": "0.024..0.048 mm"}`,
		`{"bore": "1.8904 in", "journal": "47.973 mm", "limits": "0.0010..0.0018 in"}`,
		`{"bore": "48.014 mm", "limits": "0.024..0.048 mm"}`,
		`{"bore": "48.014", "journal": "47.973 mm", "limits": "0.024..0.048 mm"}`,
	} {
		reply, err := http.Post(server.URL, "application/json", strings.NewReader(body))
		if err != nil {
			fmt.Println(err)
			return
		}
		text, err := io.ReadAll(reply.Body)
		reply.Body.Close()
		fmt.Println(reply.StatusCode, strings.TrimSpace(string(text)), err)
	}
	// Output:
	// 200 {"measured":"0.0373..0.0447 mm","verdict":"conforming"} <nil>
	// 200 {"measured":"0.0395..0.0468 mm","verdict":"undecided"} <nil>
	// 400 Asked: not of the exchange form: no key "journal"; write it, with null if there is nothing <nil>
	// 400 Asked, "bore": "48.014", column 7: a number without a unit; write "48.014 mm" <nil>
}
