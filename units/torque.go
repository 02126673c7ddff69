package units

// A Torque is a moment of force. It is not an energy, though the SI units of the
// two have the same dimension.
type Torque = Quantity[TorqueDim]

// A TorqueUnit is a unit of torque.
type TorqueUnit = Unit[TorqueDim]

// A TorqueInterval is a closed interval of torques.
type TorqueInterval = Interval[TorqueDim]

const (
	NewtonMetre             TorqueUnit = iota // N·m (SI Brochure, 9th ed., table 5)
	PoundForceFoot                            // lbf·ft, 1.3558179483314004 N·m exactly (NIST SP 811, 2008, B.8)
	PoundForceInch                            // lbf·in, 1/12 lbf·ft exactly (NIST SP 811, 2008, B.8)
	ounceForceInch                            // ozf·in, 1/16 lbf·in exactly (NIST SP 811, 2008, B.8)
	KilogramForceMetre                        // kgf·m, 9.80665 N·m exactly (NIST SP 811, 2008, B.8)
	kilogramForceCentimetre                   // kgf·cm, 0.01 kgf·m exactly (NIST SP 811, 2008, B.8)
	gramForceCentimetre                       // gf·cm, 0.001 kgf·cm exactly (from the kilogram-force)
	newtonCentimetre                          // N·cm, 0.01 N·m exactly (SI Brochure, 9th ed., table 7)
	newtonMillimetre                          // N·mm, 0.001 N·m exactly (SI Brochure, 9th ed., table 7)
	centinewtonMetre                          // cN·m, 0.01 N·m exactly (SI Brochure, 9th ed., table 7)
	kilonewtonMetre                           // kN·m, 1000 N·m exactly (SI Brochure, 9th ed., table 7)
)

// TorqueDim is the dimension of torque: the type argument of the generic types here.
type TorqueDim struct{}

func (TorqueDim) dimension() *dimension { return torques() }

var torques = lazily(func() dimension {
	return dimension{
		name:  "torque",
		help:  "N·m",
		grid:  rat("1e-16"), // of a newton metre: every whole lbf·in up to 8000 is a whole number of these
		exact: []uint8{uint8(PoundForceFoot)},
		units: []unitDef{
			NewtonMetre: {symbol: "N·m", si: rat("1"), source: siBrochure,
				spellings: []string{"Nm", "N-m", "newton metre", "newton metres", "newton meter", "newton meters"}},
			PoundForceFoot: {symbol: "lbf·ft", si: rat("1.3558179483314004"), source: sp811B8,
				spellings: []string{"ft·lbf", "lb·ft", "ft·lb", "lbft", "ftlb", "lbfft", "ftlbf", "lbs·ft", "ft·lbs", "lbsft", "ftlbs", "foot pound", "foot pounds", "pound foot", "pound feet"}},
			PoundForceInch: {symbol: "lbf·in", si: rat("0.1129848290276167"), source: sp811B8,
				spellings: []string{"in·lbf", "lb·in", "in·lb", "lbin", "inlb", "lbfin", "inlbf", "lbs·in", "in·lbs", "lbsin", "inlbs", "inch pound", "inch pounds", "pound inch", "pound inches"}},
			ounceForceInch: {symbol: "ozf·in", si: rat("0.00706155181422604375"), source: sp811B8,
				spellings: []string{"in·ozf", "oz·in", "in·oz", "ozin", "inoz", "ozfin", "inozf"}},
			KilogramForceMetre: {symbol: "kgf·m", si: rat("9.80665"), source: sp811B8,
				spellings: []string{"kgfm", "kgm", "kg·m", "m·kgf", "m·kg", "mkg", "kpm", "kp·m"}},
			kilogramForceCentimetre: {symbol: "kgf·cm", si: rat("0.0980665"), source: sp811B8,
				spellings: []string{"kgfcm", "kgcm", "kg·cm", "cm·kgf", "cm·kg"}},
			gramForceCentimetre: {symbol: "gf·cm", si: rat("0.0000980665"), source: sp811B8,
				spellings: []string{"gfcm", "gcm", "g·cm"}},
			newtonCentimetre: {symbol: "N·cm", si: rat("0.01"), source: siBrochure, spellings: []string{"Ncm"}},
			newtonMillimetre: {symbol: "N·mm", si: rat("0.001"), source: siBrochure, spellings: []string{"Nmm"}},
			centinewtonMetre: {symbol: "cN·m", si: rat("0.01"), source: siBrochure, spellings: []string{"cNm"}},
			kilonewtonMetre:  {symbol: "kN·m", si: rat("1000"), source: siBrochure, spellings: []string{"kNm"}},
		},
	}
})

// ParseTorque reads a number and a unit of torque: "30 N·m", "30 Nm",
// "22 ft-lb", "265 in-lb", "3.1 kgf·m". The error is a *Error.
func ParseTorque(s string) (Torque, error) { return Parse[Torque](s) }

// MustParseTorque is ParseTorque for literals; it panics on an error.
func MustParseTorque(s string) Torque { return must(ParseTorque(s)) }
