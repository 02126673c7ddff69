package fasteners

import "testing"

// No departure is idle: the formulas give something else, by one ten-thousandth of an inch, or
// by three for 1-14, which was once a fine thread and has kept its tolerance.
func TestDeparturesDepart(t *testing.T) {
	for name, printed := range unifiedDepartures {
		f := unifiedFormulas(MustParseThread(name))
		allowance := tenThousandths(printed.allowance).Sub(f.deviation).Abs()
		external := tenThousandths(printed.external).Sub(f.externalPitch).Abs()
		internal := external
		if printed.internal != 0 {
			internal = tenThousandths(printed.internal).Sub(f.internalPitch).Abs()
		}
		if allowance.IsZero() && external.IsZero() && internal.IsZero() {
			t.Errorf("%s: the formulas give what is printed", name)
		}
		most := tenThousandths(1)
		if name == "1-14" {
			most = tenThousandths(3)
		}
		if most.Less(allowance) || most.Less(external) || most.Less(internal) {
			t.Errorf("%s: printed %+v, far from the formulas: es %v, Td2 %v, TD2 %v", name, printed, f.deviation, f.externalPitch, f.internalPitch)
		}
	}
}
