package units

// A TemperatureInterval is a closed interval of temperatures. What is said of
// Interval holds for it.
type TemperatureInterval struct {
	iv Interval[TemperatureDim]
}

// NewTemperatureInterval returns the interval from lo to hi. The error is an
// *Error of kind ErrOrder if lo is hotter than hi.
func NewTemperatureInterval(lo, hi Temperature) (TemperatureInterval, error) {
	iv, err := NewInterval(lo.q, hi.q)
	return TemperatureInterval{iv}, err
}

// ParseTemperatureInterval reads an interval of temperatures: "18..22 °C",
// "20 ±2 °C".
func ParseTemperatureInterval(s string) (TemperatureInterval, error) {
	return parseTemperatureInterval(s, maxText)
}

func parseTemperatureInterval(s string, most int) (TemperatureInterval, error) {
	iv, err := parseIntervalUpTo[TemperatureDim](s, most)
	if err != nil {
		return TemperatureInterval{}, err
	}
	if iv.HasLo() && iv.Lo().Sign() < 0 || iv.HasHi() && iv.Hi().Sign() < 0 {
		return TemperatureInterval{}, parseError(ErrBelowZero, s, 0, "a temperature below absolute zero", "write bounds of -273.15 °C or more")
	}
	return TemperatureInterval{iv}, nil
}

// MustParseTemperatureInterval is ParseTemperatureInterval for literals; it
// panics on an error.
func MustParseTemperatureInterval(s string) TemperatureInterval {
	return must(ParseTemperatureInterval(s))
}

// IsEmpty reports whether a is the zero TemperatureInterval, which holds no
// temperature.
func (a TemperatureInterval) IsEmpty() bool { return a.iv.IsEmpty() }

// HasLo reports whether a has a lower bound.
func (a TemperatureInterval) HasLo() bool { return a.iv.HasLo() }

// HasHi reports whether a has an upper bound.
func (a TemperatureInterval) HasHi() bool { return a.iv.HasHi() }

// Lo returns the lower bound. It panics if there is none.
func (a TemperatureInterval) Lo() Temperature { return Temperature{a.iv.Lo()} }

// Hi returns the upper bound. It panics if there is none.
func (a TemperatureInterval) Hi() Temperature { return Temperature{a.iv.Hi()} }

// Bounded reports whether a has both bounds.
func (a TemperatureInterval) Bounded() bool { return a.iv.Bounded() }

// Width returns Hi - Lo. It panics if a bound is missing.
func (a TemperatureInterval) Width() TemperatureDifference {
	return a.Hi().Sub(a.Lo())
}

// Contains reports whether t lies in a, bounds included.
func (a TemperatureInterval) Contains(t Temperature) bool { return a.iv.Contains(t.q) }

// Within reports whether every temperature of a lies in b.
func (a TemperatureInterval) Within(b TemperatureInterval) bool { return a.iv.Within(b.iv) }

// Add returns the interval of every sum of a temperature of a and a difference
// of d.
func (a TemperatureInterval) Add(d TemperatureDifferenceInterval) TemperatureInterval {
	return TemperatureInterval{a.iv.Add(Interval[TemperatureDim]{lo: d.lo, hi: d.hi, x: d.x})}
}

// Sub returns the interval of every difference of a temperature of a and one
// of b.
func (a TemperatureInterval) Sub(b TemperatureInterval) TemperatureDifferenceInterval {
	d := a.iv.Sub(b.iv)
	return TemperatureDifferenceInterval{lo: d.lo, hi: d.hi, x: d.x}
}

// FormatInward returns limits on the scale with so many decimal places, rounded
// inward; see Interval.FormatInward.
func (a TemperatureInterval) FormatInward(u TemperatureUnit, places int32) string {
	return a.iv.FormatInward(u.unit(), places)
}

// FormatOutward returns a reading on the scale with exactly so many decimal
// places, rounded outward; see Interval.FormatOutward.
func (a TemperatureInterval) FormatOutward(u TemperatureUnit, places int32) string {
	return a.iv.FormatOutward(u.unit(), places)
}

// Equal reports whether a and b hold the same temperatures.
func (a TemperatureInterval) Equal(b TemperatureInterval) bool { return a.iv.Equal(b.iv) }

// String returns a in degrees Celsius for reading.
func (a TemperatureInterval) String() string { return a.iv.String() }

// Exact returns a with every digit, so that parsing the text gives a again.
func (a TemperatureInterval) Exact() string { return a.iv.Exact() }
