package job

import (
	"fmt"

	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// jets are the oil jets' valves and the pressure that they open at.
type jets struct {
	opens units.PressureInterval
	tests []jetTest
}

type jetTest struct {
	jet     string
	reading measure.Reading[units.PressureDim]
}

// readJets reads the pressure tests.
func (r *reader) readJets(t *jetsTable) *jets {
	j := &jets{}
	var ok bool
	if j.opens, ok = read(r, "jets.opens", t.Opens, units.Parse[units.PressureInterval]); ok && !j.opens.HasLo() && !j.opens.HasHi() {
		r.fail("jets.opens", "%s: limits that allow everything; write one or both", t.Opens)
	}
	if len(t.Tests) == 0 {
		r.fail("jets.tests", "%w; list one for each jet", ErrMissing)
	}
	gauge, known := r.named("jets.with", t.With, pressureGauge)
	seen := map[string]string{}
	for i, t := range t.Tests {
		path := fmt.Sprintf("jets.tests[%d]", i)
		if !r.present(path+".jet", t.Jet) || !r.once(path+".jet", t.Jet, "jet", seen) {
			continue
		}
		test := jetTest{jet: t.Jet}
		if known {
			test.reading = r.jetTest(path, t, &gauge.pressure)
		}
		j.tests = append(j.tests, test)
	}
	return j
}

// jetTest reads one test. With neither pressure it was not made.
func (r *reader) jetTest(path string, t jetTestTable, gauge *measure.Instrument[units.PressureDim]) (reading measure.Reading[units.PressureDim]) {
	shut, shutRead := readBound(r, path+".shut", t.Shut, units.ParsePressure)
	open, openRead := readBound(r, path+".open", t.Open, units.ParsePressure)
	if !shutRead || !openRead {
		return reading
	}
	reading, err := measure.Valve(gauge, "jet "+t.Jet, shut, open)
	r.check(path, err)
	return reading
}

// readPassages reads what was found of the oil passages.
func (r *reader) readPassages(tables []passageTable) []Passage {
	var passages []Passage
	seen := map[string]string{}
	for i, t := range tables {
		path := fmt.Sprintf("passages[%d]", i)
		if !r.present(path+".name", t.Name) || !r.once(path+".name", t.Name, "passage", seen) {
			continue
		}
		if r.present(path+".state", t.State) &&
			r.oneOf(path+".state", t.State, "state", []string{string(Clean), string(Blocked), string(NotChecked)}) {
			passages = append(passages, Passage{t.Name, State(t.State)})
		}
	}
	return passages
}
